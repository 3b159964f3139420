#pragma once

#include <array>
#include <vector>

#include "land_way.hpp"
#include "wall_patch.hpp"

namespace bandwright::geometry {

/// One of the boundaries that a shortest way runs against.
struct Support {
    Nearness at;       ///< `share` alone where it is a wall across the band
    double side = 0;   ///< 1 or -1 where it is: the way's end must not lie further that way than
    double wall = 0;   ///< this z, mm
    double force = 0;  ///< how much shorter the way would be for each mm that the boundary gave way
};

/// A way from one hole's wall to another's that is shorter than all beside it.
struct ShortWay {
    Way way;
    double length = kNever;
    std::vector<Support> supports;
};

/// Downhill from the middles of two patches, over the whole of the pieces they belong to; `length` is
/// infinite where no way through metal was reached.
ShortWay shortWayFrom(const LandMetal& metal, const WallPatch& a, const WallPatch& b);

}  // namespace bandwright::geometry
