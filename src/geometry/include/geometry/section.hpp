#pragma once

#include <optional>
#include <span>
#include <vector>

#include "geometry/feature.hpp"
#include "geometry/vector.hpp"

/// Exact outlines of lines and arcs in the (z, r) half-plane, and what can be computed from them without a
/// mesh.
namespace bandwright::geometry {

/// A line or a circular arc from one point to another.
struct Segment {
    Vec2 from, to;
    Vec2 centre;        ///< of the arc
    double radius = 0;  ///< of the arc; 0 = a line
    bool ccw = true;    ///< the arc runs counter-clockwise (z to the right, r up)
    Tag tag;

    bool isArc() const { return radius > 0; }
    bool operator==(const Segment&) const = default;
};

/// A closed outline; counter-clockwise, with the material on its left. Each segment starts where the one
/// before ends.
using Loop = std::vector<Segment>;

/// One body of a section may be several loops, and a loop that runs clockwise is a hole in it.
using Section = std::vector<Loop>;

Segment line(Vec2 from, Vec2 to, Tag tag);

/// The arc from `from` to `to` that bulges by `sagitta` mm to the right of the way there (negative = to the
/// left).
Segment arcBySagitta(Vec2 from, Vec2 to, double sagitta, Tag tag);

/// The point at share t (0..1) of the segment's length.
Vec2 pointAt(const Segment& segment, double t);

/// Unit direction of travel at share t.
Vec2 tangentAt(const Segment& segment, double t);

/// Length in mm.
double arcLength(const Segment& segment);

/// The material of `a` that is not in `b`, or that is also in `b`. Segments keep the tags of the loops they
/// come from. Where the outlines touch or lie on each other, `b` counts as larger all round by some
/// nanometres, so that a tool as wide as the work leaves nothing. Parts thinner than a nanometre are left
/// out.
Section subtract(const Section& a, const Section& b);
Section intersect(const Section& a, const Section& b);

/// Whether the point is inside the material (even-odd by winding); on the outline either answer may come.
bool contains(const Section& section, Vec2 point);

struct SectionProperties {
    double area = 0;     ///< mm2
    Vec2 centroid;       ///< mm
    double volume = 0;   ///< mm3 of the body of revolution: 2 pi rbar A (Pappus)
    double surface = 0;  ///< mm2 of the body of revolution: 2 pi rbar L (Pappus)
    double secondMomentZ =
        0;  ///< mm4, about the axis through the centroid parallel to z (bending in the ring's plane)
    double secondMomentR = 0;  ///< mm4, about the axis through the centroid parallel to r
    double productMoment = 0;  ///< mm4, integral of z r about the centroid; 0 where both sides are the same
};

/// Exact, by closed forms over lines and arcs (Green's theorem).
SectionProperties properties(const Section& section);

/// The integral of dA / r in mm over the section, of the theory of curved beams; in closed form along lines,
/// along arcs by the Gauss-Legendre rule, exact to rounding for what stands off the axis by more than its own
/// height.
double areaOverRadius(const Section& section);

/// The smallest upright rectangle round a segment.
struct Rectangle {
    Vec2 low, high;
};
Rectangle rectangleRound(const Segment& segment);

/// The least distance between two rectangles, mm; 0 where they meet.
double distance(const Rectangle& a, const Rectangle& b);

/// The segments whose tag passes the test.
std::vector<Segment> segmentsWhere(const Section& section, auto&& test) {
    std::vector<Segment> result;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            if (test(s.tag)) result.push_back(s);
        }
    }
    return result;
}

/// A shortest join between two places of a section.
struct Gap {
    double value = 0;  ///< mm
    Vec2 from, to;
    Tag fromTag, toTag;
};

/// The point of the segment nearest to p.
Vec2 nearestOn(const Segment& segment, Vec2 p);

/// Shortest distance between two segments, exact.
Gap shortest(const Segment& a, const Segment& b);

/// The shortest straight way through the material between two groups of segments of its outline; nothing
/// where none leads from one to the other. It may run along the outline.
std::optional<Gap> shortestInside(const Section& material, std::span<const Segment> from,
                                  std::span<const Segment> to);

/// The radius at which a ball that touches p, its centre going from there along the unit vector n, touches
/// the whole line or circle of a segment, or a corner of the outline; infinite where it never does.
double touchingRadius(const Segment& segment, Vec2 p, Vec2 n);
double touchingRadius(Vec2 corner, Vec2 p, Vec2 n);

}  // namespace bandwright::geometry
