#include <algorithm>
#include <cmath>
#include <numbers>

#include "scene/scene.hpp"

namespace bandwright::scene {

std::vector<CutPlane> cutPlanes(const View& view) {
    std::vector<CutPlane> planes;
    if (view.cutAway) planes.push_back({{0, 0, 1}, *view.cutAway});
    if (view.cutThrough) {
        const double angle = *view.cutThrough * std::numbers::pi / 180;
        planes.push_back({{std::sin(angle), -std::cos(angle), 0}, 0});
    }
    return planes;
}

geometry::Vec3 shift(const Scene& scene, const Body& body) {
    return scene.view.spread * body.apart;
}

Extent heldExtent(const Scene& scene) {
    double outward = 0, aside = 0;
    for (const Body& body : scene.bodies) {
        const geometry::Vec3 away = shift(scene, body);
        outward = std::max(outward, std::hypot(away.x, away.y));
        aside = std::max(aside, std::abs(away.z));
    }
    Extent extent = scene.extent;
    extent.radius += outward;
    extent.halfWidth += aside;
    return extent;
}

Viewpoint viewpoint(const Scene& scene, Size size) {
    return viewpoint(scene.view.camera, heldExtent(scene), size);
}

double zoomForScale(const Scene& scene, Size size, double pixelsPerMm) {
    return scene.view.camera.zoom * pixelsPerMm / viewpoint(scene, size).pixelsPerMm;
}

}  // namespace bandwright::scene
