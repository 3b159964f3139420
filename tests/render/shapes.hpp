#pragma once

#include <cmath>
#include <memory>
#include <numbers>
#include <vector>

#include "scene/scene.hpp"

/// Shapes with surfaces known in closed form, to hold pictures against.
namespace bandwright::render::shapes {

using Vertex = scene::BodyMesh::Vertex;

inline std::array<float, 3> floats(geometry::Vec3 v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

/// A grid of points (u, v in 0..1) joined by triangles that face the side the normals point to.
template <class Surface>
scene::BodyMesh grid(int columns, int rows, const Surface& surface) {
    scene::BodyMesh mesh;
    for (int j = 0; j <= rows; ++j) {
        for (int i = 0; i <= columns; ++i) {
            const auto [point, normal] =
                surface(static_cast<double>(i) / columns, static_cast<double>(j) / rows);
            mesh.vertices.push_back({floats(point), floats(normal)});
        }
    }
    for (int j = 0; j < rows; ++j) {
        for (int i = 0; i < columns; ++i) {
            const auto a = static_cast<std::uint32_t>(j * (columns + 1) + i), b = a + 1;
            const auto c = a + static_cast<std::uint32_t>(columns) + 1, d = c + 1;
            mesh.indices.insert(mesh.indices.end(), {a, b, c, b, d, c});
        }
    }
    return mesh;
}

struct PointAndNormal {
    geometry::Vec3 point, normal;
};

inline scene::BodyMesh sphere(double radius) {
    return grid(96, 48, [&](double u, double v) {
        const double turn = 2 * std::numbers::pi * u, rise = std::numbers::pi * v;
        const geometry::Vec3 n{std::sin(rise) * std::cos(turn), std::sin(rise) * std::sin(turn),
                               -std::cos(rise)};
        return PointAndNormal{radius * n, n};
    });
}

/// A ring round z: a torus.
inline scene::BodyMesh torus(double radius, double tube) {
    return grid(128, 32, [&](double u, double v) {
        const double turn = 2 * std::numbers::pi * u, round = 2 * std::numbers::pi * v;
        const geometry::Vec3 n{std::cos(round) * std::cos(turn), std::cos(round) * std::sin(turn),
                               std::sin(round)};
        const geometry::Vec3 middle{radius * std::cos(turn), radius * std::sin(turn), 0};
        return PointAndNormal{middle + tube * n, n};
    });
}

inline scene::Scene sceneOf(scene::BodyMesh mesh, const scene::Material& material,
                            const scene::Extent& extent) {
    scene::Scene scene;
    scene.bodies = {{"band", geometry::PartRole::Band,
                     std::make_shared<const scene::BodyMesh>(std::move(mesh)), material}};
    scene.extent = extent;
    return scene;
}

}  // namespace bandwright::render::shapes
