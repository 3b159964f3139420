#pragma once

#include <array>
#include <vector>

#include "scene/scene.hpp"

namespace bandwright {

/// A corner of a flat shape drawn over the picture.
struct MarkVertex {
    std::array<float, 2> position;  ///< clip space
    std::array<float, 4> colour;    ///< sRGB, straight alpha
};

/// Triangles, three vertices each: for each mark a pale seam, then a line with an end cap across each end, of
/// the same width in pixels wherever it lies. `scale` is in pixels a point: 1 on a plain display.
std::vector<MarkVertex> markTriangles(const Scene& scene, const Viewpoint& view, Size size, double scale = 1);

}  // namespace bandwright
