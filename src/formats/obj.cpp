#include "formats/obj.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <string_view>

#include "base/input_error.hpp"
#include "obj_materials.hpp"
#include "platform/atomic_file.hpp"

namespace bandwright::formats {

namespace {

/// Lines are gathered and handed on in pieces of about this many bytes.
constexpr std::size_t kPiece = 1 << 20;
/// Room for the longest possible line.
constexpr std::size_t kLine = 512;

class ObjText {
  public:
    explicit ObjText(const platform::ByteSink& sink) : sink_(sink) { text_.resize(kPiece + kLine); }

    void add(std::string_view text) {
        for (; !text.empty(); text.remove_prefix(std::min(kLine, text.size()))) {
            const std::string_view part = text.substr(0, kLine);
            std::copy(part.begin(), part.end(), text_.data() + size_);
            size_ += part.size();
            handOn(kPiece);
        }
    }

    /// "v 1.25 -3 0.0000001": a key and three numbers, rounded to that many decimals.
    void addNumbers(std::string_view key, const std::array<double, 3>& numbers, int decimals) {
        put(key);
        for (const double number : numbers) {
            put(" ");
            putNumber(number, decimals);
        }
        put("\n");
        handOn(kPiece);
    }

    /// A triangle of points and normals, counted from 1.
    void addTriangle(const std::array<std::uint64_t, 3>& points,
                     const std::array<std::uint64_t, 3>& normals) {
        put("f");
        for (std::size_t i = 0; i < 3; ++i) {
            put(" ");
            putCount(points[i]);
            put("//");
            putCount(normals[i]);
        }
        put("\n");
        handOn(kPiece);
    }

    void finish() { handOn(1); }

  private:
    void put(std::string_view text) {
        for (const char c : text)
            text_[size_++] = c;
    }

    void putCount(std::uint64_t count) {
        char* const from = text_.data() + size_;
        size_ += static_cast<std::size_t>(std::to_chars(from, text_.data() + text_.size(), count).ptr - from);
    }

    void putNumber(double number, int decimals) {
        constexpr std::array<double, 8> kPowers = {1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7};
        const auto scaled = std::llrint(number * kPowers[static_cast<std::size_t>(decimals)]);
        const auto unit = static_cast<std::uint64_t>(kPowers[static_cast<std::size_t>(decimals)]);
        const auto size = static_cast<std::uint64_t>(std::abs(scaled));
        if (scaled < 0) put("-");
        putCount(size / unit);
        std::uint64_t rest = size % unit;
        if (rest == 0) return;
        std::array<char, 8> digits{};
        for (int i = decimals; i > 0; --i, rest /= 10)
            digits[static_cast<std::size_t>(i) - 1] = static_cast<char>('0' + rest % 10);
        auto count = static_cast<std::size_t>(decimals);
        while (digits[count - 1] == '0')
            --count;
        put(".");
        put({digits.data(), count});
    }

    void handOn(std::size_t least) {
        if (size_ < least) return;
        sink_({text_.data(), size_});
        size_ = 0;
    }

    const platform::ByteSink& sink_;
    std::string text_;
    std::size_t size_ = 0;
};

constexpr int kPointDecimals = 7;
constexpr int kNormalDecimals = 5;

/// Adds a part whose first point and first normal have these numbers in the file.
void addPart(ObjText& text, const geometry::Part& part, std::uint64_t firstPoint, std::uint64_t firstNormal) {
    const geometry::Mesh& mesh = part.mesh;
    text.add("\ng " + geometry::name(part) + "\nusemtl " + objMaterial(part) + "\n");
    for (const geometry::Vec3& p : mesh.points)
        text.addNumbers("v", {p.x, p.y, p.z}, kPointDecimals);
    for (const auto& n : mesh.normals)
        text.addNumbers("vn", {n[0], n[1], n[2]}, kNormalDecimals);
    for (const auto& t : mesh.triangles) {
        text.addTriangle({firstPoint + mesh.pointOf[t[0]], firstPoint + mesh.pointOf[t[1]],
                          firstPoint + mesh.pointOf[t[2]]},
                         {firstNormal + t[0], firstNormal + t[1], firstNormal + t[2]});
    }
}

/// On one line, whatever the text contains.
std::string oneLine(std::string text) {
    std::replace_if(
        text.begin(), text.end(), [](unsigned char c) { return c < 0x20 || c == 0x7f; }, ' ');
    return text;
}

std::filesystem::path mtlBeside(const std::filesystem::path& file) {
    std::string stem = file.stem().string();
    std::replace(stem.begin(), stem.end(), ' ', '_');
    return file.parent_path() / (stem + ".mtl");
}

}  // namespace

void writeObj(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue,
              const std::string& title, const std::filesystem::path& file) {
    const std::filesystem::path mtl = mtlBeside(file);
    if (mtl == file) {
        throw base::InputError(file.string() +
                               ": a model's name ends in .obj; .mtl is for its materials beside it.");
    }
    const std::string materials = mtlText(parts, catalogue);
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        ObjText text(sink);
        text.add("# Bandwright: " + oneLine(title) + "\n# Millimetres; the ring's axis is z.\nmtllib " +
                 mtl.filename().string() + "\n");
        std::uint64_t points = 1;
        std::uint64_t normals = 1;
        for (const geometry::Part& part : parts) {
            addPart(text, part, points, normals);
            points += part.mesh.points.size();
            normals += part.mesh.normals.size();
        }
        text.finish();
        // The materials are written first, so that an OBJ never exists without them.
        platform::writeFileAtomically(mtl, materials);
    });
}

}  // namespace bandwright::formats
