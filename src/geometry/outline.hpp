#pragma once

#include <cstddef>

#include "geometry/section.hpp"

#include "design/design.hpp"

/// The outlines a ring's sections are cut from. They take a design that `requireBuildable` has passed.
namespace bandwright::geometry {

/// The band before any channel is cut, bore and outside at these radii at mid-width and at the largest place.
Loop bandOutline(const design::Band& band, double bore, double outside);

/// What a liner leaves of the band: straight bored to where they meet.
Loop linedBandOutline(const design::Band& band, double joint, double outside);

/// The liner, which takes the shape of the bore inside and is a cylinder outside.
Loop linerOutline(const design::Band& band, double bore, double joint);

/// Radius of the outside over z before its edges are bevelled or rounded.
double outsideAt(const design::Band& band, double outside, double z);

/// How steep it is there, radians from the axis, never negative; on the ridge of a knife edge as beside it.
double outsideLeanAt(const design::Band& band, double z);

/// The corner at the end of the outside: where it begins on the outside and ends on the edge face, for the
/// right-hand edge (z > 0), and the centre of a round.
struct EdgeCorner {
    Vec2 top, bottom, centre;
};
EdgeCorner edgeCorner(const design::Band& band, const design::Edge& edge, double outside);

/// The rounded corner between bore and edge face, for the right-hand edge.
struct EaseCorner {
    Vec2 inner, outer, centre;
};
EaseCorner easeCorner(const design::Band& band, double bore);

/// Rise of the bore towards the edge faces, and half its straight middle.
double boreRise(const design::Bore& bore);
double boreFlatHalf(const design::Band& band);

/// Rise of the outside; 0 when flat.
double outsideRise(const design::Outside& outside);

/// Half the width of a channel's straight-sided cutter at a height above its floor.
double channelHalfWidth(const design::Channel& channel, double height);

/// Height above the floor up to which undercut sides lean: just above the band, since further up they might
/// meet. `rise` is what the outside stands at most above the channel's mouth, mm.
double channelLip(const design::Channel& channel, double rise);

/// What the floor's corner radius takes from the floor on each side, mm.
double cornerReach(const design::Channel& channel);

/// A radius in mm beyond everything there is: the outside and the fill that stands out most, with room above.
double beyondAll(const design::Design& design);

/// What a channel's tool clears, reaching above everything there is to cut.
Section channelCutter(const design::Design& design, std::size_t channel);

}  // namespace bandwright::geometry
