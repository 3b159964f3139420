#include <algorithm>
#include <cmath>

#include "scene/scene.hpp"

namespace bandwright::scene {

namespace {

geometry::Vec3 toVec3(const std::array<float, 3>& a) {
    return {a[0], a[1], a[2]};
}

/// Where a ray meets a triangle.
struct Met {
    double along = 0;     ///< of the ray's direction
    double u = 0, v = 0;  ///< shares of the second and the third corner
    bool fromInside = false;
};

// By Möller and Trumbore, "Fast, minimum storage ray/triangle intersection", 1997.
std::optional<Met> meet(const Ray& ray, geometry::Vec3 a, geometry::Vec3 b, geometry::Vec3 c) {
    const geometry::Vec3 ab = b - a, ac = c - a, side = geometry::cross(ray.direction, ac);
    const double determinant = geometry::dot(ab, side);
    if (determinant == 0) return std::nullopt;
    const geometry::Vec3 away = ray.from - a;
    const double u = geometry::dot(away, side) / determinant;
    const geometry::Vec3 turn = geometry::cross(away, ab);
    const double v = geometry::dot(ray.direction, turn) / determinant,
                 t = geometry::dot(ac, turn) / determinant;
    if (u < 0 || v < 0 || u + v > 1 || t <= 0) return std::nullopt;
    return Met{t, u, v, determinant < 0};
}

geometry::Tag tagOf(const BodyMesh& mesh, std::size_t triangle) {
    for (const geometry::MeshFace& face : mesh.faces) {
        if (triangle >= face.firstTriangle && triangle < face.firstTriangle + face.triangleCount)
            return face.tag;
    }
    return {};
}

bool takenAway(const std::vector<CutPlane>& cuts, geometry::Vec3 point) {
    return std::any_of(cuts.begin(), cuts.end(),
                       [&](const CutPlane& cut) { return geometry::dot(cut.normal, point) > cut.offset; });
}

/// How far along the ray what is left begins.
double begins(const std::vector<CutPlane>& cuts, const Ray& ray) {
    double along = 0;
    for (const CutPlane& cut : cuts) {
        const double above = geometry::dot(cut.normal, ray.from) - cut.offset;
        if (above > 0) along = std::max(along, -above / geometry::dot(cut.normal, ray.direction));
    }
    return along;
}

/// A hit on a triangle of a body.
struct Hit {
    Met met;
    std::size_t triangle = 0;
};

std::optional<Hit> firstHit(const BodyMesh& mesh, const Ray& ray, const std::vector<CutPlane>& cuts) {
    std::optional<Hit> first;
    const auto corner = [&](std::size_t i) { return toVec3(mesh.vertices[mesh.indices[i]].position); };
    for (std::size_t i = 0; i + 2 < mesh.indices.size(); i += 3) {
        const auto met = meet(ray, corner(i), corner(i + 1), corner(i + 2));
        if (!met || (first && met->along >= first->met.along)) continue;
        if (takenAway(cuts, ray.from + met->along * ray.direction)) continue;
        first = Hit{*met, i / 3};
    }
    return first;
}

geometry::Vec3 normalOf(const BodyMesh& mesh, const Hit& hit) {
    const auto at = [&](std::size_t i) {
        return toVec3(mesh.vertices[mesh.indices[3 * hit.triangle + i]].normal);
    };
    const auto& [along, u, v, fromInside] = hit.met;
    const geometry::Vec3 mixed = (1 - u - v) * at(0) + u * at(1) + v * at(2);
    return 1 / std::max(geometry::length(mixed), 1e-12) * mixed;
}

}  // namespace

std::optional<Pick> pick(const Scene& scene, Size size, double pixelX, double pixelY) {
    const Viewpoint view = viewpoint(scene, size);
    const Ray stageRay = rayThrough(view, size, pixelX, pixelY);
    const Ray eyeRay{toRing(stageRay.from, scene.top), toRing(stageRay.direction, scene.top)};
    const std::vector<CutPlane> planes = cutPlanes(scene.view);
    double nearest = HUGE_VAL;
    std::optional<Pick> found;
    for (std::size_t i = 0; i < scene.bodies.size(); ++i) {
        const Body& body = scene.bodies[i];
        const bool staysWhole = std::holds_alternative<GemLook>(body.material);
        const std::vector<CutPlane> cuts = staysWhole ? std::vector<CutPlane>() : planes;
        const Ray ray{eyeRay.from - shift(scene, body), eyeRay.direction};
        const std::optional<Hit> hit = firstHit(*body.mesh, ray, cuts);
        if (!hit) continue;
        // A surface met from inside means that the cut itself stands before it.
        const bool isCut = hit->met.fromInside && !cuts.empty();
        const double along = isCut ? begins(cuts, ray) : hit->met.along;
        if (along >= nearest) continue;
        nearest = along;
        found.reset();
        if (!isCut && body.isPart)
            found = Pick{i, tagOf(*body.mesh, hit->triangle), ray.from + along * ray.direction,
                         normalOf(*body.mesh, *hit)};
    }
    return found;
}

}  // namespace bandwright::scene
