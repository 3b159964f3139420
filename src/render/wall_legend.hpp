#pragma once

#include <vector>

#include "pen.hpp"
#include "scene/scene.hpp"

namespace bandwright::render {

/// The map's scale in the picture's lower left corner: its colours from least to most, with numbers in
/// mm at even steps. `scale` is in pixels a point.
std::vector<MarkVertex> wallLegend(const scene::WallScale& scale, scene::Size size, double pixelsAPoint);

}  // namespace bandwright::render
