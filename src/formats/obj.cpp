#include "formats/obj.hpp"

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <string_view>
#include <system_error>

#include "base/input_error.hpp"
#include "model_source.hpp"
#include "obj_materials.hpp"

namespace bandwright::formats {

namespace {

constexpr int kPointDecimals = 7;
constexpr int kNormalDecimals = 5;

/// "v 1.25 -3 0.0000001".
void putNumbers(FileWriter& out, std::string_view key, const std::array<double, 3>& numbers, int decimals) {
    out.put(key);
    for (const double number : numbers) {
        out.put(" ");
        out.number(number, decimals);
    }
    out.put("\n");
}

/// The points and normals of a part, and its triangles, when its first point and first normal have these
/// numbers in the file.
void putMesh(FileWriter& out, const geometry::Mesh& mesh, std::uint64_t firstPoint, std::uint64_t firstNormal,
             Share& share) {
    for (const geometry::Vec3& p : mesh.points)
        putNumbers(out, "v", {p.x, p.y, p.z}, kPointDecimals);
    for (const auto& n : mesh.normals)
        putNumbers(out, "vn", {n[0], n[1], n[2]}, kNormalDecimals);
    for (const auto& t : mesh.triangles) {
        out.put("f");
        for (const std::uint32_t vertex : t) {
            out.put(" ");
            out.count(firstPoint + mesh.pointOf[vertex]);
            out.put("//");
            out.count(firstNormal + vertex);
        }
        out.put("\n");
        share.step(1);
    }
}

void putBodies(FileWriter& out, const std::vector<geometry::Part>& parts, bool oneBody, Share& share) {
    std::uint64_t points = 1;
    std::uint64_t normals = 1;
    if (oneBody) out.put("\ng ring\n");
    for (const geometry::Part& part : parts) {
        if (!oneBody) out.put("\ng " + geometry::name(part) + "\nusemtl " + materialId(part) + "\n");
        putMesh(out, part.mesh, points, normals, share);
        points += part.mesh.points.size();
        normals += part.mesh.normals.size();
    }
    out.finish();
}

std::string firstLines(const std::string& title) {
    return "# Bandwright: " + oneLine(title) + "\n# Millimetres; the ring's axis is z.\n";
}

std::filesystem::path mtlBeside(const std::filesystem::path& file) {
    std::string stem = file.stem().string();
    std::replace(stem.begin(), stem.end(), ' ', '_');
    return file.parent_path() / (stem + ".mtl");
}

/// The materials, and after them those of the old file that are not among them.
std::string withOldMaterials(const std::string& materials, const std::filesystem::path& old) {
    constexpr std::string_view kBegins = "newmtl ";
    constexpr std::uintmax_t kMost = 1 << 20;  // bytes; ours have some hundred for each material
    std::error_code error;
    if (!std::filesystem::is_regular_file(old, error) || !(std::filesystem::file_size(old, error) <= kMost))
        return materials;
    std::string all = materials;
    bool isMissing = false;
    std::ifstream in(old, std::ios::binary);
    for (std::string line; std::getline(in, line);) {
        if (line.starts_with(kBegins)) isMissing = materials.find("\n" + line + "\n") == std::string::npos;
        if (isMissing) all += line + "\n";
    }
    return all;
}

/// Returns the file of the materials.
std::filesystem::path writeObj(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue,
                               const std::string& title, Share& share, const std::filesystem::path& file) {
    std::filesystem::path mtl = mtlBeside(file);
    if (mtl == file) {
        throw base::InputError(file.string() +
                               ": a model's name ends in .obj; .mtl is for its materials beside it.");
    }
    if (std::ranges::any_of(mtl.filename().string(), [](unsigned char c) { return c < ' '; }))
        throw base::InputError(
            "The name of an OBJ stands in a line of its own text, so it may have no line breaks or other "
            "control characters.");
    const std::string materials = mtlText(parts, catalogue);
    const std::string both = withOldMaterials(materials, mtl);
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        FileWriter out(sink);
        out.put(firstLines(title) + "mtllib " + mtl.filename().string() + "\n");
        putBodies(out, parts, false, share);
        // The materials are written first, with those of the old OBJ, so that neither OBJ ever lacks any.
        platform::writeFileAtomically(mtl, both);
    });
    if (both != materials) platform::writeFileAtomically(mtl, materials);
    return mtl;
}

}  // namespace

void writeObj(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue,
              const std::string& title, const std::filesystem::path& file) {
    const ModelOptions options;
    Share share(options, 1);
    writeObj(parts, catalogue, title, share, file);
}

Written writeObj(const ModelSource& source, const std::filesystem::path& file) {
    const std::vector<geometry::Part> parts = source.parts();
    Share share(source.options, trianglesOf(parts));
    if (!source.options.oneBody)
        return {file, writeObj(parts, source.catalogue, source.design.title, share, file)};
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        FileWriter out(sink);
        out.put(firstLines(source.design.title));
        putBodies(out, parts, true, share);
    });
    return {file};
}

}  // namespace bandwright::formats
