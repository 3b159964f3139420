#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "hole_cut.hpp"
#include "section_rows.hpp"

/// The part of a turned body between two columns of points, with the holes that stand there.
namespace bandwright::geometry {

/// One hole of a sector.
struct SectorHole {
    const HoleProfile* profile = nullptr;
    const HoleCut* cut = nullptr;
    double angle = 0;  ///< radians, from the sector's own zero
};

/// A piece of surface in the sector's frame. Corners name its vertices.
struct SectorFace {
    std::vector<std::uint32_t> points;  ///< of each vertex
    std::vector<Vec3> normals;          ///< of each vertex
    std::vector<std::array<std::uint32_t, 3>> triangles;
};

/// Points are numbered: first the rows of the column at its beginning, then those of the column at its end,
/// then its own.
struct Sector {
    double from = 0, to = 0;                     ///< radians
    std::vector<Vec3> points;                    ///< its own, from number 2 * rows on
    std::vector<SectorFace> segments;            ///< for each segment of the section
    std::vector<std::vector<SectorFace>> walls;  ///< for each hole, each of its pieces
};

/// `step` is the most that neighbouring points of a row may stand apart, radians. With `closely`, triangles
/// of the turned surface keep to where it meets a hole, at the price of more pointed ones. The holes
/// are apart.
Sector makeSector(const SectionRows& rows, std::vector<SectorHole> holes, double from, double to, double step,
                  bool closely);

}  // namespace bandwright::geometry
