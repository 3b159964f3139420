#pragma once

#include <optional>
#include <span>

#include "land_cells.hpp"

namespace bandwright::geometry {

/// The shortest land between two equal holes that mirror each other in the plane half-way between them.
struct TwinLand {
    double value = 0;  ///< mm
    Vec3 end;          ///< in the frame of the pair, on the first hole; y is not negative
    Tag tag;
};

/// For two holes at `half` radians from the plane between them; nothing where none is shorter than `below`.
/// The cells whose z is nearest to the holes' axes come first.
std::optional<TwinLand> twinLand(const HoleProfile& profile, double half, std::span<const LandCell> cells,
                                 LandEnds ends, double below);

}  // namespace bandwright::geometry
