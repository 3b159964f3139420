#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "scene/scene.hpp"

namespace bandwright::scene {

namespace {

/// Where the outline changes, along the finger from the middle of the ring, in diameters of the finger;
/// towards the tip in shares of its radius. Proportions of a grown hand, from memory.
struct Knot {
    double along, radius;
};
constexpr std::array<Knot, 9> kOutline = {{{-0.95, 1.03},
                                           {-0.35, 1.00},
                                           {0.35, 1.00},
                                           {1.10, 1.05},
                                           {1.70, 0.95},
                                           {2.25, 0.92},
                                           {2.80, 0.86},
                                           {3.15, 0.70},
                                           {3.30, 0.40}}};
constexpr double kBase = -1.50, kTip = 3.37;        // where the ends close
constexpr double kBend = 1.1, kDroop = 0.18;        // where it begins to bend, and by how much at the tip
constexpr double kFlat = 0.12;                      // how much lower than wide the tip is
constexpr double kShade = 0.6, kShadeReach = 0.08;  // of the ring on the skin beside it
constexpr double kUnderRing = 0.995;                // of the bore: nothing of the finger lies in the metal
constexpr std::uint32_t kAround = 96, kAlong = 120;

/// The outline by Hermite's cubics, flat where the ring sits.
double radiusAt(double along) {
    if (along <= kBase || along >= kTip) return 0;
    const auto slope = [](std::size_t i) {
        if (i == 0 || i + 1 == kOutline.size()) return 0.0;
        const Knot &before = kOutline[i - 1], &here = kOutline[i], &after = kOutline[i + 1];
        const double in = (here.radius - before.radius) / (here.along - before.along);
        const double out = (after.radius - here.radius) / (after.along - here.along);
        return in * out <= 0 ? 0 : 2 * in * out / (in + out);  // no overshoot: Fritsch and Butland, 1984
    };
    // The ends are quarters of ellipses.
    if (along < kOutline.front().along) {
        const double share = (kOutline.front().along - along) / (kOutline.front().along - kBase);
        return kOutline.front().radius * std::sqrt(1 - share * share);
    }
    if (along > kOutline.back().along) {
        const double share = (along - kOutline.back().along) / (kTip - kOutline.back().along);
        return kOutline.back().radius * std::sqrt(1 - share * share);
    }
    std::size_t i = 0;
    while (i + 2 < kOutline.size() && along > kOutline[i + 1].along)
        ++i;
    const double width = kOutline[i + 1].along - kOutline[i].along;
    const double t = (along - kOutline[i].along) / width;
    const double t2 = t * t, t3 = t2 * t;
    return (2 * t3 - 3 * t2 + 1) * kOutline[i].radius + (t3 - 2 * t2 + t) * width * slope(i) +
           (-2 * t3 + 3 * t2) * kOutline[i + 1].radius + (t3 - t2) * width * slope(i + 1);
}

}  // namespace

Body fingerIn(const Extent& extent, double top) {
    const double diameter = 2 * kUnderRing * extent.boreRadius;
    // A ring wider than the straight part pushes the rest along.
    const double straight = 0.35 * diameter, pushed = std::max(0.0, extent.halfWidth - straight);
    const auto surface = [&](double along, double angle) {
        const double radius = radiusAt(along) * diameter / 2;
        const double bent = std::max(0.0, (along - kBend) / (kTip - kBend));
        const double z = along * diameter + (along > 0 ? pushed : -pushed);
        return geometry::Vec3{-radius * std::cos(angle),
                              (1 - kFlat * bent) * radius * std::sin(angle) - kDroop * diameter * bent * bent,
                              -z};
    };
    auto mesh = std::make_shared<BodyMesh>();
    for (std::uint32_t i = 0; i <= kAlong; ++i) {
        // Closer towards the ends, which are round.
        const double share = (1 - std::cos(std::numbers::pi * i / kAlong)) / 2;
        const double along = kBase + share * (kTip - kBase);
        for (std::uint32_t k = 0; k < kAround; ++k) {
            const double angle = 2 * std::numbers::pi * k / kAround, step = 1e-4;
            const geometry::Vec3 place = surface(along, angle);
            const double before = std::max(along - step, kBase), after = std::min(along + step, kTip);
            geometry::Vec3 normal = cross(
                surface((before + after) / 2, angle + step) - surface((before + after) / 2, angle - step),
                surface(after, angle) - surface(before, angle));
            const double size = geometry::length(normal);
            normal = size > 0 ? 1 / size * normal : geometry::Vec3{0, 0, along < 0 ? 1.0 : -1.0};
            const double beside = std::max(0.0, std::abs(place.z) - extent.halfWidth) / diameter;
            const auto f = [](geometry::Vec3 v) {
                return std::array<float, 3>{static_cast<float>(v.x), static_cast<float>(v.y),
                                            static_cast<float>(v.z)};
            };
            mesh->vertices.push_back({f(toRing(place, top)), f(toRing(normal, top)),
                                      static_cast<float>(1 - kShade * std::exp(-beside / kShadeReach))});
            if (i == 0) continue;
            const std::uint32_t here = i * kAround + k, next = i * kAround + (k + 1) % kAround;
            mesh->indices.insert(mesh->indices.end(),
                                 {here - kAround, next - kAround, next, here - kAround, next, here});
        }
    }
    mesh->faces = {
        {geometry::Tag(geometry::Feature::Outside), 0, static_cast<std::uint32_t>(mesh->indices.size() / 3)}};
    Body body;
    body.name = "finger";
    body.mesh = std::move(mesh);
    constexpr trade::LinearRgb kSkin{0.55, 0.43, 0.36};
    body.material =
        FillLook{.colour = kSkin, .colour2 = kSkin, .grainLeast = 50, .grainMost = 60, .packing = 1};
    body.isPart = false;
    return body;
}

}  // namespace bandwright::scene
