#include <array>
#include <limits>

#include "base/input_error.hpp"
#include "formats/body.hpp"
#include "geometry/wall.hpp"
#include "model_source.hpp"

/// PLY 1.0, binary: each point once, with its part, its colour and the wall of metal under it.
namespace bandwright::formats {

namespace {

/// The least wall of the vertices at each point; all 0 for a part whose walls are not measured.
std::vector<float> wallsOf(const ModelSource& source, const geometry::Part& part) {
    std::vector<float> walls(part.mesh.points.size(), 0);
    if (part.role != geometry::PartRole::Band) return walls;
    const std::vector<float> found =
        geometry::wallMap(part, source.design, source.options.stage, source.options.factor);
    std::fill(walls.begin(), walls.end(), std::numeric_limits<float>::max());
    for (std::size_t v = 0; v < found.size(); ++v) {
        float& wall = walls[part.mesh.pointOf[v]];
        wall = std::min(wall, found[v]);
    }
    return walls;
}

std::string head(const ModelSource& source, const std::vector<geometry::Part>& parts, std::size_t points,
                 std::size_t triangles) {
    std::string text =
        "ply\nformat binary_little_endian 1.0\ncomment Bandwright: " + oneLine(source.design.title) +
        "\ncomment lengths in mm; the ring's axis is z\n";
    text += "comment wall: mm of metal under the point, of the band; 0 = not measured\n";
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += "comment part " + std::to_string(i) + ": " + geometry::name(parts[i]) + ", " +
                oneLine(materialOf(parts[i], source.catalogue).name) + "\n";
    return text + "element vertex " + std::to_string(points) +
           "\nproperty double x\nproperty double y\nproperty double z\n"
           "property uchar red\nproperty uchar green\nproperty uchar blue\n"
           "property float wall\nproperty int part\n"
           "element face " +
           std::to_string(triangles) + "\nproperty list uchar int vertex_indices\nend_header\n";
}

}  // namespace

Written writePly(const ModelSource& source, const std::filesystem::path& file) {
    const std::vector<geometry::Part> parts = source.parts();
    std::size_t points = 0;
    for (const geometry::Part& part : parts)
        points += part.mesh.points.size();
    const std::size_t triangles = trianglesOf(parts);
    if (points > std::numeric_limits<std::int32_t>::max())
        throw base::InputError(file.string() +
                               ": a PLY file holds at most 2147483647 points; use a larger --chord.");
    Share share(source.options, points + triangles);
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        FileWriter out(sink);
        out.put(head(source, parts, points, triangles));
        for (std::size_t i = 0; i < parts.size(); ++i) {
            const geometry::Mesh& mesh = parts[i].mesh;
            const std::array<unsigned char, 3> colour =
                bytesOf(materialOf(parts[i], source.catalogue).colour);
            const std::vector<float> walls = wallsOf(source, parts[i]);
            for (std::size_t p = 0; p < mesh.points.size(); ++p) {
                out.binary(mesh.points[p].x);
                out.binary(mesh.points[p].y);
                out.binary(mesh.points[p].z);
                for (const unsigned char c : colour)
                    out.binary(c);
                out.binary(walls[p]);
                out.binary(static_cast<std::int32_t>(i));
                share.step(1);
            }
        }
        std::uint32_t first = 0;
        for (const geometry::Part& part : parts) {
            for (const auto& t : part.mesh.triangles) {
                out.binary(static_cast<unsigned char>(3));
                for (const std::uint32_t v : t)
                    out.binary(static_cast<std::int32_t>(first + part.mesh.pointOf[v]));
                share.step(1);
            }
            first += static_cast<std::uint32_t>(part.mesh.points.size());
        }
        out.finish();
    });
    return {file};
}

void writeBody(const std::filesystem::path& file, const geometry::Triangles& body,
               const std::vector<PointValue>& values, const std::string& name) {
    platform::writeFileAtomically(file, [&](const platform::ByteSink& sink) {
        FileWriter out(sink);
        out.put(
            "ply\nformat binary_little_endian 1.0\ncomment Bandwright: lengths in mm; the ring's axis is z\n"
            "element vertex " +
            std::to_string(body.points.size()) +
            "\nproperty double x\nproperty double y\nproperty double z\n"
            "property uchar red\nproperty uchar green\nproperty uchar blue\nproperty float " +
            name + "\nelement face " + std::to_string(body.triangles.size()) +
            "\nproperty list uchar int vertex_indices\nend_header\n");
        for (std::size_t i = 0; i < body.points.size(); ++i) {
            out.binary(body.points[i].x);
            out.binary(body.points[i].y);
            out.binary(body.points[i].z);
            for (const unsigned char c : values[i].colour)
                out.binary(c);
            out.binary(values[i].value);
        }
        for (const auto& t : body.triangles) {
            out.binary(std::uint8_t{3});
            for (const std::uint32_t corner : t)
                out.binary(static_cast<std::int32_t>(corner));
        }
        out.finish();
    });
}

}  // namespace bandwright::formats
