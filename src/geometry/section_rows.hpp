#pragma once

#include <cstdint>
#include <vector>

#include "geometry/section.hpp"

namespace bandwright::geometry {

/// A segment of a section and the rows of mesh points along it.
struct RowedSegment {
    const Segment* segment = nullptr;
    std::vector<std::uint32_t> rows;  ///< from the segment's start to its end
    std::vector<double> shares;       ///< place of each row along the segment, 0..1
};

/// A section's outline in short stretches: each row is a circle of points round the ring. The rows of one
/// loop follow each other; segments that meet share a row.
struct SectionRows {
    std::vector<Vec2> points;
    std::vector<RowedSegment> segments;
};

/// Rows so near that chords between them stand off arcs by at most `sagitta` mm. Refers to the section.
SectionRows rowsOf(const Section& section, double sagitta);

/// The angle whose chord stands off a circle by `sagitta`; at most a sixth of a turn.
double stepFor(double radius, double sagitta);

/// Outward normal of the material at a place on the segment.
Vec2 outwardAt(const Segment& segment, Vec2 onIt);

}  // namespace bandwright::geometry
