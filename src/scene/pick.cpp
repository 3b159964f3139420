#include <algorithm>
#include <cmath>

#include "scene/scene.hpp"

namespace bandwright::scene {

namespace {

geometry::Vec3 toVec3(const std::array<float, 3>& a) {
    return {a[0], a[1], a[2]};
}

// Distance along the ray to the triangle, by Möller and Trumbore, "Fast, minimum storage ray/triangle
// intersection", 1997.
std::optional<double> hit(const Ray& ray, geometry::Vec3 a, geometry::Vec3 b, geometry::Vec3 c) {
    const geometry::Vec3 ab = b - a, ac = c - a, side = geometry::cross(ray.direction, ac);
    const double determinant = geometry::dot(ab, side);
    if (determinant == 0) return std::nullopt;
    const geometry::Vec3 away = ray.from - a;
    const double u = geometry::dot(away, side) / determinant;
    const geometry::Vec3 turn = geometry::cross(away, ab);
    const double v = geometry::dot(ray.direction, turn) / determinant,
                 t = geometry::dot(ac, turn) / determinant;
    if (u < 0 || v < 0 || u + v > 1 || t <= 0) return std::nullopt;
    return t;
}

geometry::Tag tagOf(const BodyMesh& mesh, std::size_t triangle) {
    for (const geometry::MeshFace& face : mesh.faces) {
        if (triangle >= face.firstTriangle && triangle < face.firstTriangle + face.triangleCount)
            return face.tag;
    }
    return {};
}

bool takenAway(const std::vector<CutPlane>& cuts, const Body& body, geometry::Vec3 point) {
    if (std::holds_alternative<GemLook>(body.material)) return false;  // stones stay whole
    return std::any_of(cuts.begin(), cuts.end(),
                       [&](const CutPlane& cut) { return geometry::dot(cut.normal, point) > cut.offset; });
}

}  // namespace

std::optional<Pick> pick(const Scene& scene, Size size, double pixelX, double pixelY) {
    const Viewpoint view = viewpoint(scene, size);
    const Ray stageRay = rayThrough(view, size, pixelX, pixelY);
    const Ray eyeRay{toRing(stageRay.from, scene.top), toRing(stageRay.direction, scene.top)};
    const std::vector<CutPlane> cuts = cutPlanes(scene.view);
    double nearest = HUGE_VAL;
    std::optional<Pick> found;
    for (std::size_t body = 0; body < scene.bodies.size(); ++body) {
        const BodyMesh& mesh = *scene.bodies[body].mesh;
        const Ray ray{eyeRay.from - shift(scene, scene.bodies[body]), eyeRay.direction};
        const auto corner = [&](std::size_t i) { return toVec3(mesh.vertices[mesh.indices[i]].position); };
        for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3) {
            const auto t = hit(ray, corner(i), corner(i + 1), corner(i + 2));
            if (!t || *t >= nearest) continue;
            const geometry::Vec3 point = ray.from + *t * ray.direction;
            if (takenAway(cuts, scene.bodies[body], point)) continue;
            nearest = *t;
            found = Pick{body, tagOf(mesh, i / 3), point};
        }
    }
    return found;
}

}  // namespace bandwright::scene
