#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <limits>
#include <span>
#include <system_error>

#include "base/input_error.hpp"
#include "model_source.hpp"

/// STL in its binary form: a head of 80 bytes, a count, and for each triangle a normal, three corners and two
/// bytes of no meaning. It knows neither units nor parts.
namespace bandwright::formats {

namespace {

constexpr std::size_t kHead = 80;

using Corner = std::array<float, 3>;

struct Facet {
    std::array<Corner, 3> corners;
    /// Points closer than a float can tell become one; the two triangles along the edge between them then
    /// have no area, and without them the surface is closed as before.
    bool isThere() const {
        return corners[0] != corners[1] && corners[1] != corners[2] && corners[2] != corners[0];
    }
};

Corner rounded(const geometry::Vec3& p) {
    constexpr float kZero = 0;  // makes 0 of -0, which is other bytes in the same place
    return {static_cast<float>(p.x) + kZero, static_cast<float>(p.y) + kZero,
            static_cast<float>(p.z) + kZero};
}

Facet triangleOf(const geometry::Mesh& mesh, const std::array<std::uint32_t, 3>& t) {
    return {{rounded(mesh.points[mesh.pointOf[t[0]]]), rounded(mesh.points[mesh.pointOf[t[1]]]),
             rounded(mesh.points[mesh.pointOf[t[2]]])}};
}

/// Rounded on the way as admesh rounds it, so that it finds nothing to mend where a triangle is so thin that
/// the direction is lost in the corners' own rounding.
Corner normalOf(const Facet& t) {
    Corner a{}, b{};
    for (std::size_t i = 0; i < 3; ++i) {
        a[i] = t.corners[1][i] - t.corners[0][i];
        b[i] = t.corners[2][i] - t.corners[0][i];
    }
    const auto crossed = [&](std::size_t i, std::size_t k) {
        const auto first = static_cast<float>(static_cast<double>(a[i]) * b[k]);
        return static_cast<float>(first - static_cast<double>(a[k]) * b[i]);
    };
    const Corner n = {crossed(1, 2), crossed(2, 0), crossed(0, 1)};
    const double size = std::hypot(n[0], n[1], n[2]);
    return size > 0 ? rounded({n[0] / size, n[1] / size, n[2] / size}) : Corner{};
}

using Parts = std::span<const geometry::Part>;

std::size_t facetsOf(Parts parts, const std::filesystem::path& file) {
    std::size_t count = 0;
    for (const geometry::Part& part : parts) {
        for (const auto& t : part.mesh.triangles)
            count += triangleOf(part.mesh, t).isThere() ? 1 : 0;
    }
    if (count > std::numeric_limits<std::uint32_t>::max())
        throw base::InputError(file.string() +
                               ": an STL file holds at most 4294967295 triangles; use a larger --chord.");
    return count;
}

void writeBodies(Parts parts, std::size_t count, const std::string& title, Share& share,
                 const platform::ByteSink& sink) {
    FileWriter out(sink);
    std::string head = "Bandwright, mm: " + oneLine(title);
    head.resize(kHead, ' ');
    out.put(head);
    out.binary(static_cast<std::uint32_t>(count));
    for (const geometry::Part& part : parts) {
        for (const auto& t : part.mesh.triangles) {
            const Facet triangle = triangleOf(part.mesh, t);
            share.step(1);
            if (!triangle.isThere()) continue;
            for (const float c : normalOf(triangle))
                out.binary(c);
            for (const Corner& corner : triangle.corners)
                for (const float c : corner)
                    out.binary(c);
            out.binary(std::uint16_t{0});
        }
    }
    out.finish();
}

}  // namespace

Written writeStl(const ModelSource& source, const std::filesystem::path& file) {
    const std::vector<geometry::Part> parts = source.parts();
    Share share(source.options, trianglesOf(parts));
    if (source.options.oneBody || parts.size() == 1) {
        const std::size_t count = facetsOf(parts, file);
        platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
            writeBodies(parts, count, source.design.title, share, sink);
        });
        return {file};
    }
    Written written;
    for (const geometry::Part& part : parts) {
        const std::string name =
            file.stem().string() + "-" + geometry::name(part) + file.extension().string();
        written.push_back(file.parent_path() / name);
    }
    platform::writeSetAtomically(written, [&](std::size_t i, const platform::ByteSink& sink) {
        const Parts one(&parts[i], 1);
        writeBodies(one, facetsOf(one, written[i]), source.design.title, share, sink);
    });
    return written;
}

namespace {

bool isPartName(const std::string& text) {
    int number = 1;
    if (const std::size_t dash = text.rfind('-'); dash != std::string::npos)
        std::from_chars(text.data() + dash + 1, text.data() + text.size(), number);
    geometry::Part part;
    part.number = number;
    for (int role = 0; role <= static_cast<int>(geometry::PartRole::Liner); ++role) {
        part.role = static_cast<geometry::PartRole>(role);
        if (geometry::name(part) == text) return true;
    }
    return false;
}

}  // namespace

Written leftOfAnotherSet(const std::filesystem::path& file, const Written& written) {
    Written left;
    const std::string stem = file.stem().string() + "-";
    std::error_code unreadable;  // who may write into a folder need not be allowed to list it
    const std::filesystem::path folder = file.has_parent_path() ? file.parent_path() : ".";
    for (const auto& entry : std::filesystem::directory_iterator(folder, unreadable)) {
        const std::filesystem::path name = entry.path().filename();
        const std::string word = name.stem().string();
        if (name.extension() != file.extension() || !word.starts_with(stem)) continue;
        if (!isPartName(word.substr(stem.size()))) continue;
        const auto isThis = [&](const std::filesystem::path& one) { return one.filename() == name; };
        if (std::ranges::none_of(written, isThis)) left.push_back(file.parent_path() / name);
    }
    std::ranges::sort(left);
    return left;
}

}  // namespace bandwright::formats
