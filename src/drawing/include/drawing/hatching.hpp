#pragma once

#include <vector>

#include "geometry/part.hpp"
#include "geometry/section.hpp"

/// Straight lines through a section, its crossings with lines and arcs found in closed form.
namespace bandwright::drawing {

/// Where a straight line crosses an outline.
struct LineCut {
    double along = 0;   ///< mm in the line's direction, from the place nearest to the origin
    geometry::Tag tag;  ///< of what is crossed
};

/// The crossings of a line, in order along it, an even number. `direction` is a unit vector, and the origin
/// lies `level` mm to the right of the line (negative = to its left).
std::vector<LineCut> cutsAlong(const geometry::Section& section, geometry::Vec2 direction, double level);

/// The stretches inside a section of parallel lines `spacing` mm apart, at an angle in degrees to the z axis.
/// Two of them pass the origin at half a spacing, so that the mirror image of a section, hatched at the
/// mirrored angle, has the mirror images of the lines.
std::vector<geometry::Segment> hatching(const geometry::Section& section, double degrees, double spacing);

/// Bodies that touch are told apart by the direction or the distance of the lines; 45 degrees is preferred
/// (ISO 128-3, M). The distance in heights of text, at least 0.7 mm at each height (ISO 128-2, M); 0 = clear.
struct HatchStyle {
    double degrees = 0, spacing = 0;
};
HatchStyle hatchStyle(geometry::PartRole role);

}  // namespace bandwright::drawing
