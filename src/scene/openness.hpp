#pragma once

#include "design/design.hpp"
#include "geometry/part.hpp"

namespace bandwright::scene {

/// Share of the light from outside that reaches the middle of the floor, or the wall, of a long slot of this
/// width, `depth` below its mouth (view factors of a strip).
double slotOpenness(double depth, double width, bool onWall);

/// The same for a round hole (view factor of a disc seen from its axis; for the wall, that of a slot as
/// wide).
double wellOpenness(double depth, double diameter, bool onWall);

/// For each vertex of the part's mesh, 0..1; 1 where no neighbouring part is in the way. The bore is left
/// open: the picture follows its reflections.
std::vector<float> openness(const design::Design& design, const geometry::Part& part);

}  // namespace bandwright::scene
