#include "scene/camera.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::scene {

namespace {

constexpr double kRadians = std::numbers::pi / 180;
constexpr double kMargin = 0.82;  // share of the picture that the ring fills at zoom 1
constexpr int kRimSamples = 96;   // points on each rim of the extent's cylinder, for fitting

struct Axes {
    geometry::Vec3 right, up, backward;
};

Axes axesOf(const Camera& camera) {
    const double azimuth = camera.azimuth * kRadians;
    const double elevation = std::clamp(camera.elevation, -89.0, 89.0) * kRadians;
    const double ca = std::cos(azimuth), sa = std::sin(azimuth);
    const double ce = std::cos(elevation), se = std::sin(elevation);
    return {{ca, 0, -sa}, {-se * sa, ce, -se * ca}, {ce * sa, se, ce * ca}};
}

// The least distance at which every point of both rims lies within the slopes of the picture's sides.
double fittingDistance(const Axes& axes, const Extent& extent, double slopeX, double slopeY) {
    double distance = 0;
    for (int i = 0; i < 2 * kRimSamples; ++i) {
        const double angle = std::numbers::pi * i / kRimSamples;
        for (const double z : {-extent.halfWidth, extent.halfWidth}) {
            const geometry::Vec3 point{extent.radius * std::cos(angle), extent.radius * std::sin(angle), z};
            const double aside = std::max(std::abs(geometry::dot(point, axes.right)) / slopeX,
                                          std::abs(geometry::dot(point, axes.up)) / slopeY);
            distance = std::max(distance, aside + geometry::dot(point, axes.backward));
        }
    }
    return distance;
}

Matrix4 lookAlong(const Axes& axes, geometry::Vec3 eye) {
    const auto f = [](double v) { return static_cast<float>(v); };
    const geometry::Vec3 &r = axes.right, &u = axes.up, &b = axes.backward;
    return {f(r.x),
            f(u.x),
            f(b.x),
            0,
            f(r.y),
            f(u.y),
            f(b.y),
            0,
            f(r.z),
            f(u.z),
            f(b.z),
            0,
            f(-geometry::dot(r, eye)),
            f(-geometry::dot(u, eye)),
            f(-geometry::dot(b, eye)),
            1};
}

std::array<double, 4> transformed(const Matrix4& m, const std::array<double, 4>& v) {
    std::array<double, 4> out{};
    for (std::size_t row = 0; row < 4; ++row) {
        for (std::size_t column = 0; column < 4; ++column) {
            out[row] += static_cast<double>(m[4 * column + row]) * v[column];
        }
    }
    return out;
}

geometry::Vec3 turned(geometry::Vec3 p, double degrees) {
    const double c = std::cos(degrees * kRadians), s = std::sin(degrees * kRadians);
    return {c * p.x - s * p.y, s * p.x + c * p.y, p.z};
}

}  // namespace

Viewpoint viewpoint(const Camera& camera, const Extent& extent, Size size) {
    const Axes axes = axesOf(camera);
    const double width = std::max(size.width, 1), height = std::max(size.height, 1),
                 smaller = std::min(width, height);
    const double slope = std::tan(camera.fieldOfView * kRadians / 2);
    const double slopeX = slope * width / smaller, slopeY = slope * height / smaller;
    const double distance = fittingDistance(axes, extent, kMargin * slopeX, kMargin * slopeY);
    const double reach = std::hypot(extent.radius, extent.halfWidth);

    Viewpoint view;
    view.eye = distance * axes.backward;
    view.right = axes.right;
    view.up = axes.up;
    view.backward = axes.backward;
    view.view = lookAlong(axes, view.eye);
    view.pixelsPerMm = camera.zoom * smaller / (2 * slope * distance);

    // A finger through the ring reaches towards the eye.
    const double near = std::max(0.05 * distance, distance - 6 * reach), far = distance + 8 * reach;
    const auto f = [](double v) { return static_cast<float>(v); };
    view.projection = {f(camera.zoom / slopeX),
                       0,
                       0,
                       0,
                       0,
                       f(camera.zoom / slopeY),
                       0,
                       0,
                       f(-2 * camera.pan[0] * smaller / width),
                       f(-2 * camera.pan[1] * smaller / height),
                       f(-(far + near) / (far - near)),
                       -1,
                       0,
                       0,
                       f(-2 * far * near / (far - near)),
                       0};
    return view;
}

std::optional<std::array<double, 2>> project(const Viewpoint& view, Size size, geometry::Vec3 p) {
    const auto clip = transformed(view.projection, transformed(view.view, {p.x, p.y, p.z, 1}));
    if (clip[3] <= 0) return std::nullopt;
    return std::array{(1 + clip[0] / clip[3]) / 2 * size.width, (1 - clip[1] / clip[3]) / 2 * size.height};
}

Ray rayThrough(const Viewpoint& view, Size size, double pixelX, double pixelY) {
    const Matrix4& p = view.projection;
    const double x = (2 * pixelX / size.width - 1 + static_cast<double>(p[8])) / static_cast<double>(p[0]);
    const double y = (1 - 2 * pixelY / size.height + static_cast<double>(p[9])) / static_cast<double>(p[5]);
    const geometry::Vec3 direction = x * view.right + y * view.up - view.backward;
    return {view.eye, (1 / geometry::length(direction)) * direction};
}

geometry::Vec3 toStage(geometry::Vec3 ringPoint, double top) {
    return turned(ringPoint, 90 - top);
}

geometry::Vec3 toRing(geometry::Vec3 stagePoint, double top) {
    return turned(stagePoint, top - 90);
}

}  // namespace bandwright::scene
