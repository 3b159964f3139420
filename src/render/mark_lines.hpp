#pragma once

#include <vector>

#include "pen.hpp"
#include "scene/scene.hpp"

namespace bandwright::render {

/// Triangles, three vertices each: for each mark a pale seam, then a line with an end cap across each end, of
/// the same width in pixels at any distance. `scale` is in pixels a point: 1 on a plain display.
std::vector<MarkVertex> markTriangles(const scene::Scene& scene, const scene::Viewpoint& view,
                                      scene::Size size, double scale = 1);

}  // namespace bandwright::render
