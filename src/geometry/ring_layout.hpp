#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <span>
#include <vector>

#include "hole_clusters.hpp"
#include "hole_cut.hpp"
#include "revolve.hpp"
#include "section_rows.hpp"
#include "sector.hpp"

/// How the surface of a turned body is divided before it is written out as a mesh.
namespace bandwright::geometry {

/// A hole as it could be cut, and its cut.
struct CutRow {
    HoleProfile profile;
    HoleCut cut;
};

/// Nudges a hole until no corner of it lies on the section's outline. `rows` are those of `section`. Throws
/// InputError when it always does.
CutRow cutApart(const Section& section, const SectionRows& rows, const HoleProfile& profile,
                double tolerance);

/// A sector and the row of holes each of its holes is of.
struct LaidSector {
    Sector sector;
    std::vector<std::size_t> rowOfHole;
};

/// A stretch of the ring between two columns of points: plain steps from column to column, or a sector with
/// holes.
struct Stretch {
    std::size_t firstColumn = 0;
    std::size_t steps = 0;  ///< columns to the end of a plain stretch; 1 for a sector
    const LaidSector* laid = nullptr;
    double angle = 0;  ///< where the sector's zero stands, radians
};

struct RingLayout {
    SectionRows rows;
    std::vector<double> columns;     ///< angles, radians
    std::deque<LaidSector> sectors;  ///< each distinct one once; stretches point to them
    std::vector<Stretch> stretches;  ///< once round the ring, each from where the one before ends
    /// Holes that are not in it, to be cut out of the finished mesh: they run into others, leave no line
    /// across the band free, or run along the edge of another cut.
    std::vector<PlacedHole> later;
};

/// By how much triangles may stand off the true surface, mm: of the turned body along its rows and round it,
/// and of holes.
struct Chords {
    double rows = 0, round = 0, holes = 0;
    bool closely = false;  ///< see makeSector
};

/// Refers to the section.
RingLayout layOut(const Section& section, std::span<const HoleRow> holes, const Chords& chords);

/// The row of a hole in a sector whose triangles at the holes run through others of it: two surfaces may lie
/// nearer together there than their chords lie to them. Nothing where none do.
std::optional<std::size_t> rowThatCrosses(const RingLayout& layout);

}  // namespace bandwright::geometry
