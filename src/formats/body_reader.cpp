#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <fstream>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "facets.hpp"
#include "formats/body.hpp"

namespace bandwright::formats {

namespace {

constexpr ReadLimits kBodyLimits = {.what = "the body", .bytes = 1U << 30U, .triangles = 10'000'000};
constexpr std::size_t kMostPieces = 10'000;
/// In whatever unit of the file: far beyond a ring in any, and far below where squares of it overflow.
constexpr double kFarthest = 1e9;

struct Kind {
    std::string_view ending, name;
    Facets (*read)(const std::filesystem::path&, const ReadLimits&);
};
constexpr std::array<Kind, 3> kKinds = {
    {{".stl", "an STL", readStl}, {".obj", "an OBJ", readObj}, {".ply", "a PLY", readPly}}};

/// How files of other kinds begin.
struct Beginning {
    std::string_view bytes, name, ending;
};
constexpr std::array<Beginning, 8> kBeginnings = {{{"ply\n", "a PLY", ".ply"},
                                                   {"ply\r", "a PLY", ".ply"},
                                                   {"solid", "an STL", ".stl"},
                                                   {"PK\x03\x04", "a ZIP or 3MF", ""},
                                                   {"glTF", "a GLB", ""},
                                                   {"ISO-10303-21", "a STEP", ""},
                                                   {"%PDF", "a PDF", ""},
                                                   {"{", "a JSON", ""}}};

const Kind& kindOf(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    std::ranges::transform(ending, ending.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    const auto* const found = std::ranges::find(kKinds, ending, &Kind::ending);
    if (found == kKinds.end())
        throw base::InputError(file.string() + ": found the ending " + base::inQuotes(ending) +
                               "; a body to compare is an .stl, .obj or .ply file.");
    return *found;
}

void requireKind(const std::filesystem::path& file, const Kind& kind) {
    requireSize(file, kBodyLimits);
    constexpr std::size_t kLooked = 512;
    std::string start(kLooked, '\0');
    std::ifstream stream(file, std::ios::binary);
    if (!stream) refuse(file, kBodyLimits, "cannot be read");
    stream.read(start.data(), kLooked);
    start.resize(static_cast<std::size_t>(stream.gcount()));
    if (start.empty()) refuse(file, kBodyLimits, "is an empty file");
    const std::string no = "is not " + std::string(kind.name) + " file, as its ending says: ";
    for (const Beginning& beginning : kBeginnings) {
        if (start.starts_with(beginning.bytes) && beginning.ending != kind.ending)
            refuse(file, kBodyLimits, no + "it begins as " + std::string(beginning.name) + " file does");
    }
    if (kind.ending == ".obj" && start.find('\0') != std::string::npos)
        refuse(file, kBodyLimits, no + "it is not text");
}

std::string place(const geometry::Vec3& p) {
    constexpr int kDecimals = 3;
    return "(" + base::fixed(p.x, kDecimals) + ", " + base::fixed(p.y, kDecimals) + ", " +
           base::fixed(p.z, kDecimals) + ")";
}

void requireClosed(const std::filesystem::path& file, const geometry::Triangles& body) {
    const geometry::OpenEdges open = geometry::openEdges(body);
    const std::size_t triangles = body.triangles.size();
    if (open.count == 3 * triangles)
        refuse(file, kBodyLimits,
               "is no closed surface: its " + std::to_string(triangles) +
                   (triangles == 1 ? " triangle is" : " triangles are") + " loose, with no edge in common");
    if (open.count > 0)
        refuse(file, kBodyLimits,
               "is open: " + std::to_string(open.count) + (open.count == 1 ? " edge has" : " edges have") +
                   " no facet on the other side, the first at " + place(open.first) +
                   "; close it in the program it comes from");
    const std::size_t pieces = geometry::pieces(body);
    if (pieces > kMostPieces)
        refuse(file, kBodyLimits,
               "is in " + std::to_string(pieces) + " separate pieces; at most " +
                   std::to_string(kMostPieces) + " are allowed");
}

}  // namespace

geometry::Triangles readBody(const std::filesystem::path& file) {
    const Kind& kind = kindOf(file);
    requireKind(file, kind);
    geometry::Triangles body = surfaceOf(kind.read(file, kBodyLimits), file, kBodyLimits);
    for (const geometry::Vec3& p : body.points) {
        if (std::max({std::abs(p.x), std::abs(p.y), std::abs(p.z)}) > kFarthest)
            refuse(file, kBodyLimits, "has a point at " + place(p) + ", farther off than any ring");
    }
    requireClosed(file, body);
    const double volume = geometry::volume(body);
    if (!(std::abs(volume) > 0)) refuse(file, kBodyLimits, "encloses no volume");
    if (volume < 0) {
        for (auto& t : body.triangles)
            std::swap(t[1], t[2]);
    }
    return body;
}

}  // namespace bandwright::formats
