#pragma once

#include <cstddef>

#include "check/check.hpp"

/// Parts of a ring as they are usually made: where mending begins again when no small step helps. What comes
/// out need not be a ring that can be made; the checks tell.
namespace bandwright::check {

/// Thick enough for what is in it, with small edges and a gentle bore.
design::Design usualBand(design::Design design);

/// Channels as wide as their rims allow, with a floor left under them.
design::Design usualChannels(design::Design design);

/// A tube and a hole that fit the stone.
design::Setting usualFit(design::Setting setting);

/// The diameter in mm of a round seat that a stone drops into.
double usualSeat(const design::Stone& stone);

/// mm on the radius that are left between a tube and its hole; negative = it is pressed in.
double usualGap(design::Join join);

/// The same, seated in the metal.
design::Design usualSetting(design::Design design, std::size_t number);

}  // namespace bandwright::check
