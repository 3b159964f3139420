#pragma once

#include <array>
#include <cstddef>

#include "geometry/section.hpp"

/// Elementary constructions on lines and arcs, for the files of this room.
namespace bandwright::geometry {

/// Signed angle an arc turns through, radians: positive counter-clockwise.
double sweep(const Segment& arc);

/// Whether the direction from the arc's centre to p lies within its sweep.
bool onSweep(const Segment& arc, Vec2 p);

/// Unit direction of travel at a point that lies on it.
Vec2 tangentOn(const Segment& segment, Vec2 onIt);

/// Share (0..1) of the segment's length at a point that lies on it.
double shareAt(const Segment& segment, Vec2 onIt);

/// Where two segments meet: the point, and the share of each one's length there.
struct Crossing {
    Vec2 point;
    double ta = 0, tb = 0;
};

/// At most two.
struct Crossings {
    std::array<Crossing, 2> list;
    std::size_t count = 0;
    const Crossing* begin() const { return list.data(); }
    const Crossing* end() const { return list.data() + count; }
};

/// The points two segments have in common; none for lines along each other and circles on each other.
Crossings crossings(const Segment& a, const Segment& b);

/// The points of a segment at a distance from a place; ta is the share along the segment.
Crossings crossingsWithCircle(const Segment& a, Vec2 centre, double radius);

/// The same segment run the other way.
Segment reversed(const Segment& segment);

/// The stretch of a segment between two shares, ending in exactly the given points.
Segment stretch(const Segment& segment, Vec2 from, Vec2 to);

/// The material in both, and by how many mm `b` was enlarged all round (see `intersect`).
struct Intersection {
    Section section;
    double larger = 0;
};
Intersection intersection(const Section& a, const Section& b);

/// As `subtract`, for an outline already cut with a tool enlarged by `larger` mm: parts of `b` within that
/// distance count as touching, so that no film that thin is left.
Section subtract(const Section& a, const Section& b, double larger);

/// Area of the surface that an outline leaves when it is turned about the ring's axis, mm2.
double turnedArea(const Section& section);

/// Area inside an outline, mm2; negative when it runs clockwise.
double enclosedArea(const Loop& loop);

/// The same outline elsewhere.
Loop moved(Loop loop, Vec2 by);

/// The outline without the stretches below a nanometre that remain where two outlines were meant to meet.
/// Neighbouring lines of one feature that run straight on become one line.
Loop tidied(const Loop& loop);

}  // namespace bandwright::geometry
