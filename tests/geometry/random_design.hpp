#pragma once

#include <cstddef>
#include <cstdint>

#include "design/design.hpp"

/// Designs drawn by lot, for the properties that must hold whatever a person types.
namespace bandwright::geometry {

/// The design of this seed, the same on every machine. Every shape and every field of the file occurs, with
/// features that lie exactly on each other far more often than by chance; about half of the designs can be
/// built (requireBuildable tells), and of the others most go wrong in one place only.
design::Design randomDesign(std::uint64_t seed);

/// The same ring seen in a mirror at mid-width.
design::Design mirrored(design::Design design);

/// How many designs a test draws: the number in the environment variable BANDWRIGHT_DESIGNS, or `usual`; in
/// haste no more than half of `usual`.
std::uint64_t designsToDraw(std::uint64_t usual);

/// Whether at most 100 are asked for, as under the sanitizers: then tests that take seconds take a part of
/// their cases.
bool inHaste();

/// For a test whose cases take seconds each: it takes one case in this many. `hasty` under the sanitizers,
/// `usual` where nothing is asked for, 1 where at least 1000 designs are.
std::size_t oneIn(std::size_t hasty, std::size_t usual);

}  // namespace bandwright::geometry
