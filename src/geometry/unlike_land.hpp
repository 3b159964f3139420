#pragma once

#include <optional>
#include <span>

#include "land_cells.hpp"
#include "seen_hole.hpp"

namespace bandwright::geometry {

/// The shortest land between two unlike holes, in the frame of the pair; nothing where there is none.
///
/// It is proven: a bound from below, over pairs of patches of the two walls, leaves no way shorter by more
/// than 2e-5 mm, unless ways graze what they run along so finely that some thousand pairs do not tell.
std::optional<Land> unlikeLand(std::span<const LandCell> cells, const SeenHole& a, const SeenHole& b,
                               LandEnds ends);

}  // namespace bandwright::geometry
