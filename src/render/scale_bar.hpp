#pragma once

#include <vector>

#include "pen.hpp"

namespace bandwright::render {

/// A bar of a round number of mm with that number over it, in the picture's lower right corner. It is true at
/// the ring's middle. `scale` is in pixels a point.
std::vector<MarkVertex> scaleBar(double pixelsPerMm, scene::Size size, double pixelsAPoint);

}  // namespace bandwright::render
