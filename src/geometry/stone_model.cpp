#include <algorithm>
#include <cmath>
#include <string>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

/// What counts as widest: within this share of the extent.
constexpr double kWidest = 0.999;
/// A facet steeper than this (the normal's part along the axis) belongs to the girdle.
constexpr double kUpright = 0.05;

struct Box {
    Vec3 least, most;
};

Box boxOf(const std::vector<Vec3>& points) {
    Box box = {points.front(), points.front()};
    for (const Vec3& p : points) {
        box.least = {std::min(box.least.x, p.x), std::min(box.least.y, p.y), std::min(box.least.z, p.z)};
        box.most = {std::max(box.most.x, p.x), std::max(box.most.y, p.y), std::max(box.most.z, p.z)};
    }
    return box;
}

/// Centres the points on the axis with the longer side along x.
void turnAndCentre(std::vector<Vec3>& points) {
    const Box box = boxOf(points);
    const Vec3 centre = 0.5 * (box.least + box.most);
    const bool turn = box.most.y - box.least.y > box.most.x - box.least.x;
    for (Vec3& p : points) {
        p = p - centre;
        if (turn) p = {-p.y, p.x, p.z};
    }
}

/// Scales to the girdle and puts z = 0 half-way up the places that are widest.
void fitToGirdle(std::vector<Vec3>& points, const design::Stone& stone) {
    const Vec3 half = boxOf(points).most;
    const double scale = stone.diameter / 2 / half.y;
    const double scaleX = stone.length > 0 ? stone.length / 2 / half.x : scale;
    double low = HUGE_VAL;
    double high = -HUGE_VAL;
    for (const Vec3& p : points) {
        if (std::abs(p.x) < kWidest * half.x && std::abs(p.y) < kWidest * half.y) continue;
        low = std::min(low, p.z);
        high = std::max(high, p.z);
    }
    for (Vec3& p : points)
        p = {scaleX * p.x, scale * p.y, scale * (p.z - (low + high) / 2)};
}

Feature featureOf(const Vec3& normal) {
    if (std::abs(normal.z) < kUpright) return Feature::Girdle;
    return normal.z > 0 ? Feature::Crown : Feature::Pavilion;
}

}  // namespace

Mesh modelledStone(const design::Stone& stone) {
    if (!stone.solid)
        throw base::InputError("Stone: the model " + base::inQuotes(stone.model) + " has not been read.");
    Mesh mesh;
    for (const auto& [x, y, z] : stone.solid->points)
        mesh.points.push_back({x, y, z});
    turnAndCentre(mesh.points);
    fitToGirdle(mesh.points, stone);
    // Each triangle with its own normal, sorted into crown, girdle and pavilion.
    for (const Feature feature : {Feature::Crown, Feature::Girdle, Feature::Pavilion}) {
        const auto first = static_cast<std::uint32_t>(mesh.triangles.size());
        for (const auto& t : stone.solid->triangles) {
            const Vec3& a = mesh.points[t[0]];
            const Vec3 normal = cross(mesh.points[t[1]] - a, mesh.points[t[2]] - a);
            const Vec3 n = (1 / length(normal)) * normal;
            if (featureOf(n) != feature) continue;
            const auto vertex = static_cast<std::uint32_t>(mesh.pointOf.size());
            mesh.pointOf.insert(mesh.pointOf.end(), t.begin(), t.end());
            mesh.normals.insert(mesh.normals.end(), 3,
                                {static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)});
            mesh.triangles.push_back({vertex, vertex + 1, vertex + 2});
        }
        const auto count = static_cast<std::uint32_t>(mesh.triangles.size()) - first;
        if (count > 0) mesh.faces.push_back({{feature, 0}, first, count});
    }
    return mesh;
}

StoneHeights modelledHeights(const Mesh& mesh) {
    const Box box = boxOf(mesh.points);
    double low = 0;
    double high = 0;
    for (const MeshFace& face : mesh.faces) {
        if (face.tag.feature != Feature::Girdle) continue;
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t vertex : mesh.triangles[t]) {
                low = std::min(low, mesh.points[mesh.pointOf[vertex]].z);
                high = std::max(high, mesh.points[mesh.pointOf[vertex]].z);
            }
        }
    }
    return {box.most.z - high, high - low, low - box.least.z};
}

}  // namespace bandwright::geometry
