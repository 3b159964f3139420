#pragma once

#include <optional>
#include <span>
#include <vector>

#include "land_cells.hpp"
#include "wall_patch.hpp"

/// Straight ways through a turned body, in the frame of a pair of holes (see land_cells.hpp).
namespace bandwright::geometry {

struct Way {
    Vec3 from, to;
    Vec3 at(double share) const { return from + share * (to - from); }
};

/// Metal over one stretch of z: one cell, or several above each other.
struct CellStack {
    double from = 0, to = 0;
    std::span<const LandCell> cells;  ///< from the axis outwards

    /// The cell in which r lies, or the one nearest to it.
    const LandCell& nearest(double z, double r) const;
};
std::vector<CellStack> stacked(std::span<const LandCell> cells);

/// The two sides of metal seen along r.
enum class Bound : unsigned char { Low, High };

inline double signOf(Bound bound) {
    return bound == Bound::Low ? 1 : -1;
}
inline const Branch& branchOf(const LandCell& cell, Bound bound) {
    return bound == Bound::Low ? cell.low : cell.high;
}

/// A place where a way comes near a boundary of the metal.
struct Nearness {
    double margin = 0;       ///< mm along r; negative where the way is out of the metal
    double share = 0;        ///< of the way
    double slope = 0;        ///< dr / dz of the boundary, or of the way where it passes a corner
    double corner = kNever;  ///< z of the circle where it passes a corner, or infinite
    Bound bound = Bound::Low;
    unsigned key = 0;  ///< the same for the same boundary
    /// Of a way that ends on the boundary at both sides all margins shrink towards the ends: there they count
    /// this many times as much.
    double scale = 1;

    /// How the margin changes with the place at `share`.
    Vec3 gradient(const Way& way) const;
};

/// The metal between two holes.
class LandMetal {
  public:
    /// `ends` is where ways may end; `onBoundary` tells that this has no thickness.
    LandMetal(std::span<const LandCell> inside, std::span<const LandCell> ends, bool onBoundary);

    std::span<const CellStack> inside() const { return inside_; }
    std::span<const CellStack> ends() const { return ends_; }

    /// What keeps the ends of the way; nearer than `reach` mm.
    void addEnds(const Way& way, double reach, std::vector<Nearness>& result) const;
    /// What keeps the way between its ends: the nearest place in each cell it comes through.
    void addBetween(const Way& way, double reach, std::vector<Nearness>& result) const;

    /// The stretch of z in which a way that ends here may end at this r, or the nearest one.
    struct EndStretch {
        double from = 0, to = 0;
    };
    EndStretch stretchAt(const Vec3& end) const;

    /// A place at the middle turn of a patch where ways may end.
    std::optional<Vec3> endOn(const WallPatch& patch) const;

    /// By how much the way leaves the metal, mm; 0 where it does not.
    double outside(const Way& way) const;

  private:
    std::size_t stackAt(double z) const;
    /// Whether the stack beyond a corner says more of the way: it is nearer there, or comes nearer.
    bool goesOn(std::size_t number, double corner, double r, const Branch& branch, Bound bound,
                auto&& nearsWith) const;
    void addEnd(const Way& way, double share, double reach, std::vector<Nearness>& result) const;
    std::vector<CellStack> inside_, ends_;
    bool onBoundary_;
};

}  // namespace bandwright::geometry
