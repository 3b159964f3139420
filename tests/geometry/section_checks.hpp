#pragma once

#include <string>

#include "geometry/section.hpp"

/// Checks that a section is sound, for tests.
namespace bandwright::geometry {

/// One sentence for the first thing that is wrong with a section, empty when nothing is: each loop closed to
/// the bit, no segment shorter than `kLeastSegment`, arcs through their own ends, no loop that crosses itself
/// or another, outer loops counter-clockwise and loops inside them clockwise, no number that is not finite.
std::string flaw(const Section& section);

inline constexpr double kLeastSegment = 1e-6;  ///< mm

/// The first segment of that tag, or none.
const Segment* find(const Section& section, Tag tag);

/// A full circle, of two arcs.
Section disc(Vec2 centre, double radius, Feature feature = Feature::Outside);

/// Area in mm2 and 0 for none.
double area(const Section& section);

/// The section in the mirror at z = 0; tags keep their own numbers.
Section mirrored(const Section& section);

/// Whether two sections cover the same ground: their areas and first moments agree within these mm2 and mm3.
bool sameGround(const Section& a, const Section& b, double within);

}  // namespace bandwright::geometry
