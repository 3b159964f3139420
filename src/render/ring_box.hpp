#pragma once

#include "render/renderer.hpp"

namespace bandwright::render {

/// Pixels of a tile, counted from its lower left corner, as glScissor takes them.
struct PixelBox {
    int x = 0, y = 0;
    scene::Size size;

    bool operator==(const PixelBox&) const = default;
};

/// The box within which passes over the same scene can differ: the ring and its parts with a margin, or the
/// whole tile if something is written into the picture. Outside lie only the backdrop and the soft end of the
/// shade on the floor, which one pass shows as well as many.
PixelBox ringBox(const scene::Scene& scene, const Tile& tile);

}  // namespace bandwright::render
