#pragma once

#include <optional>
#include <span>

#include "geometry/hole.hpp"
#include "geometry/section.hpp"
#include "geometry/vector.hpp"

/// The metal left between two holes of a turned body.
namespace bandwright::geometry {

/// The turned body that holes are drilled into: band and liner, each as its plain section.
using TurnedMetal = std::span<const Section* const>;

struct StandingHole {
    const HoleProfile* profile = nullptr;
    double angle = 0;  ///< radians round the band
};

/// Where a join between two holes may end.
enum class LandEnds : unsigned char {
    Anywhere,   ///< on the walls of the holes
    AtOutside,  ///< where both leave the outside or an edge
};

/// A straight way through the metal from the wall of one hole to that of another.
struct Land {
    double value = 0;  ///< mm; 0 where the holes run into each other
    Vec3 from, to;
    Tag fromTag, toTag;
};

/// The shortest land; nothing where no straight way leads from one to the other through metal, for the bore,
/// a channel or the outside lies between, or where none is shorter than `below` mm.
///
/// Two equal holes at one place of the width mirror each other, and their shortest land lies square to the
/// plane between them: it is found on the section, along each stretch of the outline and each rim of the
/// hole. Between unlike holes it is sought downhill and proven by branch and bound over both walls: none is
/// shorter by more than 2e-5 mm. The proof is given up, and the way may be longer than that, where ways graze
/// a sharp fillet, and for lands at a hollow outside, along which ways may run at no height.
std::optional<Land> shortestLand(TurnedMetal metal, const StandingHole& a, const StandingHole& b,
                                 LandEnds ends, double below);

/// Whether a straight way comes through a hole.
bool runsThrough(const StandingHole& hole, const Vec3& from, const Vec3& to);

}  // namespace bandwright::geometry
