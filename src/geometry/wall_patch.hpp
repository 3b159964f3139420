#pragma once

#include <algorithm>
#include <array>
#include <vector>

#include "land_cells.hpp"
#include "seen_hole.hpp"

namespace bandwright::geometry {

/// A piece of a hole's wall, as far as there is metal.
struct WallPiece {
    const SeenHole* hole = nullptr;
    const HolePiece* piece = nullptr;
    double x0 = 0, radius0 = 0, x1 = 0, radius1 = 0;

    double length() const { return planeNorm(x1 - x0, radius1 - radius0); }
    /// At a share of the way along it.
    Vec3 at(double share, double turn) const;
};

/// A patch of a piece, between two places along it and two turns about the axis.
struct WallPatch : WallPiece {
    WallPiece whole;
    double from = 0, to = 0;  ///< radians about the hole's axis, at most a quarter turn
    double cosine0 = 1, sine0 = 0, cosine1 = 1, sine1 = 0;  ///< of these

    void setTurns(double first, double last);

    /// How long it is, mm, as far as that makes a difference: along the axis a wall is straight, and only the
    /// ring's curve counts.
    double spread() const { return std::max(along(), round()); }
    double along() const { return 0.4 * length(); }
    double round() const { return radius1 * (to - from); }
    Vec3 middle() const { return at(0.5, (from + to) / 2); }

    /// The least of a linear function of the place, d . p, over the patch.
    double leastAlong(const Vec3& d) const;
    double mostAlong(const Vec3& d) const { return -leastAlong(-1.0 * d); }
};

/// The box round a patch, mm.
struct PlaceBox {
    Vec3 low, high;
};
PlaceBox boxRound(const WallPatch& patch);

/// The wall of a hole between two distances from the ring's axis, in patches. Cylinders are cut along the
/// places along z too.
std::vector<WallPatch> patchesOf(const SeenHole& hole, double low, double high,
                                 const std::vector<double>& places);

/// Both halves of a patch, cut across where it spreads more.
std::array<WallPatch, 2> halves(const WallPatch& patch);

}  // namespace bandwright::geometry
