#include "scene/scene.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "openness.hpp"

namespace bandwright::scene {

namespace {

std::shared_ptr<const BodyMesh> bodyMesh(const design::Design& design, const geometry::Part& part,
                                         const std::vector<float>& wall) {
    const geometry::Mesh& mesh = part.mesh;
    const std::vector<float> open = openness(design, part);
    BodyMesh body;
    body.vertices.reserve(mesh.pointOf.size());
    for (std::size_t v = 0; v < mesh.pointOf.size(); ++v) {
        const geometry::Vec3& p = mesh.points[mesh.pointOf[v]];
        body.vertices.push_back({{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)},
                                 mesh.normals[v],
                                 open[v],
                                 v < wall.size() ? wall[v] : 0.0F});
    }
    body.indices.reserve(3 * mesh.triangles.size());
    for (const auto& triangle : mesh.triangles)
        body.indices.insert(body.indices.end(), triangle.begin(), triangle.end());
    body.faces = mesh.faces;
    body.hasWalls = !wall.empty();
    return std::make_shared<const BodyMesh>(std::move(body));
}

// In the exploded view stones and tubes move out along their holes, fills over the nearer edge.
geometry::Vec3 apart(const geometry::Part& part, double bandHalfWidth) {
    constexpr double kTubeLift = 4.5, kStoneLift = 8, kGap = 1.5;  // mm
    geometry::Vec3 sum;
    for (const geometry::Vec3& point : part.mesh.points)
        sum = sum + point;
    switch (part.role) {
        case geometry::PartRole::Band:
            return {};
        case geometry::PartRole::Fill:
            return {0, 0, (sum.z < -1e-6 ? -1 : 1) * (2 * bandHalfWidth + kGap)};
        case geometry::PartRole::Liner:
            return {0, 0, -(2 * bandHalfWidth + kGap)};
        case geometry::PartRole::Tube:
        case geometry::PartRole::Stone: {
            const double lift = part.role == geometry::PartRole::Tube ? kTubeLift : kStoneLift;
            const double size = std::max(std::hypot(sum.x, sum.y), 1e-9);
            return {lift * sum.x / size, lift * sum.y / size, 0};
        }
    }
    return {};
}

}  // namespace

Extent extentOf(const std::vector<geometry::Part>& parts) {
    if (parts.empty()) return {};
    Extent extent{0, 0, HUGE_VAL};
    for (const geometry::Part& part : parts) {
        for (const geometry::Vec3& p : part.mesh.points) {
            const double radius = std::hypot(p.x, p.y);
            extent.radius = std::max(extent.radius, radius);
            extent.halfWidth = std::max(extent.halfWidth, std::abs(p.z));
            if (part.role == geometry::PartRole::Band || part.role == geometry::PartRole::Liner)
                extent.boreRadius = std::min(extent.boreRadius, radius);
        }
    }
    extent.boreRadius = std::min(extent.boreRadius, extent.radius);
    return extent;
}

namespace {

constexpr double kLean = 24;  // degrees by which the first stone leans from the top towards the camera

// The direction, in degrees round the ring, that stands uppermost. It makes the first setting, which people
// look at, lean forward.
double topOf(const std::vector<geometry::Part>& parts) {
    for (const geometry::PartRole role : {geometry::PartRole::Stone, geometry::PartRole::Tube}) {
        for (const geometry::Part& part : parts) {
            if (part.role != role) continue;
            geometry::Vec3 sum;
            for (const geometry::Vec3& point : part.mesh.points)
                sum = sum + point;
            return std::atan2(sum.y, sum.x) * 180 / std::numbers::pi + kLean;
        }
    }
    return 90;
}

double floorOf(const std::vector<geometry::Part>& parts, double top) {
    if (parts.empty()) return Extent{}.floor;
    double lowest = 0;
    for (const geometry::Part& part : parts) {
        for (const geometry::Vec3& point : part.mesh.points)
            lowest = std::min(lowest, toStage(point, top).y);
    }
    return lowest;
}

/// A vertex for each corner of each triangle, its normal the mean of those triangles at its point that stand
/// at less than about 40 degrees to its own.
geometry::Mesh creased(const geometry::Triangles& body) {
    constexpr double kLeastCosine = 0.77;
    std::vector<geometry::Vec3> normals;  // as long as twice the triangles' areas
    std::vector<std::uint32_t> first(body.points.size() + 1);
    for (const auto& t : body.triangles) {
        normals.push_back(
            cross(body.points[t[1]] - body.points[t[0]], body.points[t[2]] - body.points[t[0]]));
        for (const std::uint32_t point : t)
            ++first[point + 1];
    }
    for (std::size_t i = 1; i < first.size(); ++i)
        first[i] += first[i - 1];
    std::vector<std::uint32_t> around(first.back()), end(first.begin(), first.end() - 1);
    for (std::uint32_t i = 0; i < body.triangles.size(); ++i)
        for (const std::uint32_t point : body.triangles[i])
            around[end[point]++] = i;

    geometry::Mesh mesh;
    mesh.points = body.points;
    for (std::size_t i = 0; i < body.triangles.size(); ++i) {
        for (const std::uint32_t point : body.triangles[i]) {
            geometry::Vec3 sum;
            for (std::uint32_t k = first[point]; k < first[point + 1]; ++k) {
                const geometry::Vec3& other = normals[around[k]];
                if (dot(other, normals[i]) >= kLeastCosine * length(other) * length(normals[i]))
                    sum = sum + other;
            }
            const double size = std::max(length(sum), 1e-30);
            mesh.normals.push_back({static_cast<float>(sum.x / size), static_cast<float>(sum.y / size),
                                    static_cast<float>(sum.z / size)});
            mesh.pointOf.push_back(point);
        }
        const auto vertex = static_cast<std::uint32_t>(3 * i);
        mesh.triangles.push_back({vertex, vertex + 1, vertex + 2});
    }
    mesh.faces = {
        {geometry::Tag(geometry::Feature::Outside), 0, static_cast<std::uint32_t>(mesh.triangles.size())}};
    return mesh;
}

}  // namespace

Scene makeScene(const design::Design& design, const std::vector<geometry::Part>& parts,
                const trade::Catalogue& catalogue, const View& view,
                const std::vector<std::vector<float>>& walls) {
    Scene scene;
    scene.extent = extentOf(parts);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const geometry::Part& part = parts[i];
        scene.bodies.push_back({geometry::name(part), part.role,
                                bodyMesh(design, part, i < walls.size() ? walls[i] : std::vector<float>{}),
                                materialOf(design, catalogue, part), apart(part, scene.extent.halfWidth)});
    }
    scene.top = topOf(parts);
    scene.extent.floor = floorOf(parts, scene.top);
    scene.view = view;
    return scene;
}

Scene bodyScene(const design::Design& design, const geometry::Triangles& body,
                const std::vector<double>& deviations, const trade::Catalogue& catalogue, const View& view) {
    geometry::Part part{.role = geometry::PartRole::Band, .material = design.band.metal};
    part.mesh = creased(body);
    std::vector<float> values;
    values.reserve(part.mesh.pointOf.size());
    for (const std::uint32_t point : part.mesh.pointOf)
        values.push_back(static_cast<float>(deviations[point]));
    std::vector<geometry::Part> parts;
    parts.push_back(std::move(part));
    return makeScene(design, parts, catalogue, view, {std::move(values)});
}

}  // namespace bandwright::scene
