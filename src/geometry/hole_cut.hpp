#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "geometry/hole.hpp"
#include "geometry/solid.hpp"
#include "geometry/tolerance.hpp"
#include "section_rows.hpp"

/// How a hole cuts a body of revolution: the curves where its wall meets the body's surface, and the wall
/// itself.
///
/// Everything is in the hole's own frame: x along its axis away from the ring's, y round the band, z along
/// the ring's axis. A circle of the body at (z, r) loses one arc, from -w to +w about the hole's axis, and w
/// is known in closed form. Only the half y >= 0 is worked out; the other is its mirror image.
namespace bandwright::geometry {

/// In place of the number of a point where there is none.
inline constexpr std::uint32_t kNoPoint = 0xffffffff;

/// A stretch of the curve where the hole's wall meets one segment's surface, in the direction of the segment.
struct HoleCurve {
    std::vector<double> shares;         ///< place along the segment of each point
    std::vector<std::uint32_t> points;  ///< numbers of HoleCut::points
    std::vector<std::uint8_t> pieces;   ///< the piece of the hole each edge lies on; one fewer than points
};

struct HoleCut {
    std::vector<Vec3> points;                    ///< y >= 0; y = 0 exactly in the plane of mirroring
    std::vector<int> pointOfRow;                 ///< where each row meets the wall; -1 = nowhere
    std::vector<std::vector<HoleCurve>> curves;  ///< for each segment
    std::vector<std::vector<std::array<std::uint32_t, 3>>>
        walls;                          ///< for each piece, triangles facing the axis
    std::vector<std::uint64_t> chords;  ///< edges of the walls by `chord`, in order
    double halfAngle = 0;               ///< the largest that the wall takes, radians

    bool touches() const { return !points.empty(); }
};

/// Nothing when a corner of the hole is too near the section's outline to be told from it: try a nudged hole.
/// Chords stand off the hole's wall by at most `sagitta` mm. `rows` are those of `section`.
std::optional<HoleCut> cutHole(const Section& section, const SectionRows& rows, const HoleProfile& hole,
                               double sagitta);

/// One number for the edge between two points, whichever way it runs.
inline std::uint64_t chord(std::uint32_t a, std::uint32_t b) {
    return std::uint64_t{std::min(a, b)} << 32 | std::max(a, b);
}

/// Whether the wall has an edge between two points.
bool hasChord(const HoleCut& cut, std::uint32_t a, std::uint32_t b);

/// Radius of the hole at a height; 0 below its bottom.
double radiusAt(const HoleProfile& hole, double x);

/// The part of the hole that removes what lies at p, in the plane of its axis, and where the circle through p
/// about the ring's axis leaves it; nothing when p is outside the hole.
std::optional<std::size_t> pieceAt(const HoleProfile& hole, Vec2 p);

/// Where that circle crosses the piece's surface, y >= 0.
Vec3 pointOnPiece(const HolePiece& piece, double offset, Vec2 p);

/// Whether a segment within these bounds is so far to the side that the hole does nothing to it.
bool isBeside(const Rectangle& bounds, const HoleProfile& hole);

/// A place where what a hole does to a segment changes.
struct HoleEvent {
    enum Kind : std::uint8_t {
        Row,    ///< a row of the section
        Turn,   ///< an arc is at its largest or smallest z
        Tip,    ///< the outline passes into the hole or out of it: w = 0
        Joint,  ///< the curve passes from one piece of the hole to the next
    };
    double share = 0;
    Kind kind = Row;
    std::size_t number =
        0;  ///< the row's place in the segment; the lower piece of a joint; the piece of a tip
    Vec2 place;
};

struct HoleEvents {
    std::vector<HoleEvent> list;  ///< in order along the segment
    bool apart = true;            ///< no two that matter are too near to be told apart
};
HoleEvents holeEvents(const RowedSegment& segment, const HoleProfile& hole);

/// What a hole changes of the body the section describes, to be added to its properties: the volume is
/// negative, the area may have either sign, since the hole takes some of the surface and leaves its wall. In
/// the hole's own frame, but for z, which is the ring's. Exact but for rounding and quadrature; see `bodies`
/// in ring.hpp.
SolidProperties changeByHole(const Section& section, const HoleProfile& hole);

}  // namespace bandwright::geometry
