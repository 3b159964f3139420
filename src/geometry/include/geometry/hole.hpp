#pragma once

#include <vector>

#include "design/design.hpp"
#include "geometry/section.hpp"

/// Radial holes as surfaces of revolution about a line that meets the ring's axis at right angles.
namespace bandwright::geometry {

/// One stretch of a hole's outline: a cylinder (radius constant), a flat (distance constant) or a cone.
/// x is the distance from the ring's axis along the hole's own axis, mm.
struct HolePiece {
    double x0 = 0, radius0 = 0;
    double x1 = 0, radius1 = 0;
    Tag tag;

    bool isCylinder() const { return radius0 == radius1; }
    bool isFlat() const { return x0 == x1; }
    bool operator==(const HolePiece&) const = default;
};

/// The outline from the inside outwards. The radius never falls on the way out, so every circle about the
/// ring's axis meets the hole in at most one arc. Nothing is removed below the first piece; the last ends
/// outside the ring.
struct HoleProfile {
    double offset = 0;  ///< mm from mid-width
    std::vector<HolePiece> pieces;

    bool operator==(const HoleProfile&) const = default;
};

/// Where a tube or a stone sits in a hole: its widest step or, without steps, the pilot itself.
struct HoleSeat {
    double diameter = 0;  ///< mm
    double depth = 0;     ///< mm from the outside over the hole's middle to the seat's full width
    double below = 0;     ///< mm, diameter of what is below its floor; its own without steps
    double mouth = 0;     ///< mm, diameter with the countersink
    Tag side, floor;
};
HoleSeat seatOf(const design::Hole& hole, std::size_t setting);

/// The hole of a setting. Depths count from `outside`, the radius of the uncut outside over the hole's
/// middle, mm; `reach` is a radius beyond everything there is to drill.
HoleProfile holeProfile(const design::Hole& hole, double offset, double outside, double reach,
                        std::size_t setting);

/// How far the point of the drill reaches below the full-width end of a blind pilot, mm; 0 when flat.
double drillPoint(const design::Hole& hole);

/// How far a step's bearing reaches below the step's full width, mm; `below` is the diameter of what is below
/// it. 0 when flat.
double bearingRise(const design::HoleStep& step, double below);

/// The outline in the half-plane through the hole's axis, both sides, counter-clockwise.
Section meridian(const HoleProfile& profile);

/// The outline in a half-plane through the ring's axis at `angle` radians from the hole's: ellipses and other
/// conics, drawn as arcs that stand off them by less than 1e-7 mm. One loop for each piece; none beyond a
/// quarter turn.
Section outlineAt(const HoleProfile& profile, double angle);

/// The same hole larger by a few nanometres, at most half a micrometre, so that faces that lie on each other
/// in the design come apart; step counts the attempts.
HoleProfile nudged(const HoleProfile& profile, int step);

}  // namespace bandwright::geometry
