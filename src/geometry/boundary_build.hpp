#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/boundary.hpp"
#include "geometry/stone.hpp"
#include "revolve.hpp"

/// How boundaries are put together.
namespace bandwright::geometry {

/// The boundary of a section turned about the z axis, with holes taken out. Throws InputError when holes run
/// into each other.
Boundary turnedBoundary(const Section& section, std::span<const HoleRow> holes);

/// A stone in its own frame; `setting` is the number its faces get.
Boundary stoneBoundary(const design::Stone& stone, std::size_t setting);

/// Place on a strip: along the profile, and about the axis in radians.
struct StripPlace {
    double along = 0, turn = 0;
};

/// An edge as the boundary of a strip's faces; `places` from its beginning up to, but without, its end.
struct StripUse {
    EdgeUse use;
    std::vector<StripPlace> places;
};

/// What is left of the surface that a line or arc sweeps about an axis. Seen from outside, with `along` to
/// the right and `turn` upwards.
struct Strip {
    FaceSurface surface;
    bool reversed = false;
    Tag tag;
    bool widens = true;        ///< away from the axis along the profile; asked of planes alone
    bool reachesAxis = false;  ///< the profile begins on the axis
    std::vector<StripUse> uses{};
};

/// Joins a strip's edges to loops and adds a face for each piece that hangs together.
void addFaces(Boundary& body, const Strip& strip);

/// Numbers the shells.
void findShells(Boundary& body);

/// The place on a mouth curve in the hole's own frame: x along its axis, y round the band, z the ring's.
Vec3 onMouth(const MouthCurve& mouth, double t);

}  // namespace bandwright::geometry
