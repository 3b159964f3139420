#include <cmath>

#include "scene/scene.hpp"

namespace bandwright {

namespace {

Vec3 toVec3(const std::array<float, 3>& a) {
    return {a[0], a[1], a[2]};
}

// Distance along the ray to the triangle, by Möller and Trumbore, "Fast, minimum storage ray/triangle
// intersection", 1997.
std::optional<double> hit(const Ray& ray, Vec3 a, Vec3 b, Vec3 c) {
    const Vec3 ab = b - a, ac = c - a, side = cross(ray.direction, ac);
    const double determinant = dot(ab, side);
    if (determinant == 0) return std::nullopt;
    const Vec3 away = ray.from - a;
    const double u = dot(away, side) / determinant;
    const Vec3 turn = cross(away, ab);
    const double v = dot(ray.direction, turn) / determinant, t = dot(ac, turn) / determinant;
    if (u < 0 || v < 0 || u + v > 1 || t <= 0) return std::nullopt;
    return t;
}

Tag tagOf(const BodyMesh& mesh, std::size_t triangle) {
    for (const MeshFace& face : mesh.faces) {
        if (triangle >= face.firstTriangle && triangle < face.firstTriangle + face.triangleCount)
            return face.tag;
    }
    return {};
}

}  // namespace

std::optional<Pick> pick(const Scene& scene, Size size, double pixelX, double pixelY) {
    const Viewpoint view = viewpoint(scene.view.camera, scene.extent, size);
    const Ray stageRay = rayThrough(view, size, pixelX, pixelY);
    const Ray ray{toRing(stageRay.from, scene.top), toRing(stageRay.direction, scene.top)};
    double nearest = HUGE_VAL;
    std::optional<Pick> found;
    for (std::size_t body = 0; body < scene.bodies.size(); ++body) {
        const BodyMesh& mesh = *scene.bodies[body].mesh;
        const auto corner = [&](std::size_t i) { return toVec3(mesh.vertices[mesh.indices[i]].position); };
        for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3) {
            const auto t = hit(ray, corner(i), corner(i + 1), corner(i + 2));
            if (!t || *t >= nearest) continue;
            const Vec3 point = ray.from + *t * ray.direction;
            if (scene.view.cutAway && point.z > *scene.view.cutAway) continue;
            nearest = *t;
            found = Pick{body, tagOf(mesh, i / 3), point};
        }
    }
    return found;
}

}  // namespace bandwright
