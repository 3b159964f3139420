#include "ring_box.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::render {

namespace {

constexpr int kAround = 2;  // pixels, for the shift of a pass and rounding
// The upright cylinder round the ring lies inside a prism with this many sides.
constexpr int kSides = 32;

struct Bounds {
    double least = 1e30, most = -1e30;
    void add(double value) {
        least = std::min(least, value);
        most = std::max(most, value);
    }
};

}  // namespace

PixelBox ringBox(const scene::Scene& scene, const Tile& tile) {
    const PixelBox all{0, 0, tile.size};
    const scene::View& view = scene.view;
    if (!scene.marks.empty() || view.scaleBar || (view.wallMap && view.wallMap->legend)) return all;
    if (!std::ranges::all_of(scene.bodies, &scene::Body::isPart)) return all;
    const scene::Viewpoint from = scene::viewpoint(scene, tile.whole);
    const scene::Extent held = scene::heldExtent(scene);
    const double radius = held.radius / std::cos(std::numbers::pi / kSides);
    Bounds across, down;
    for (int i = 0; i < kSides; ++i) {
        const double angle = 2 * std::numbers::pi * i / kSides;
        for (const double z : {-held.halfWidth, held.halfWidth}) {
            const auto place =
                scene::project(from, tile.whole, {radius * std::cos(angle), radius * std::sin(angle), z});
            if (!place) return all;
            across.add((*place)[0]);
            down.add((*place)[1]);
        }
    }
    const auto side = [](double value, int from_, int size) {
        return static_cast<int>(std::clamp(value - from_, 0.0, static_cast<double>(size)));
    };
    const int left = side(std::floor(across.least) - kAround, tile.x, tile.size.width);
    const int right = side(std::ceil(across.most) + kAround, tile.x, tile.size.width);
    const int top = side(std::floor(down.least) - kAround, tile.y, tile.size.height);
    const int bottom = side(std::ceil(down.most) + kAround, tile.y, tile.size.height);
    return {left, tile.size.height - bottom, {right - left, bottom - top}};
}

}  // namespace bandwright::render
