#pragma once

#include <optional>

#include "geometry/land.hpp"
#include "geometry/ring.hpp"

/// The metal under the floors of a hole.
namespace bandwright::geometry {

/// Band and liner as one body, whose joint is no surface of it: the outline without it.
Section together(const Section& band, const Section& liner);

/// The shortest straight way through metal to the bore from the inner rims of a hole's floors, where channels
/// or edges have cut one away in the plane through the hole's middle and left it beside that plane; nothing
/// where none is. Nowhere else beside that plane is the metal under a floor less than in it.
std::optional<Land> landUnderRim(const RingSections& plain, const StandingHole& hole);

}  // namespace bandwright::geometry
