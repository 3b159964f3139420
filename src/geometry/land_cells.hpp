#pragma once

#include <cmath>
#include <vector>

#include "arithmetic.hpp"
#include "geometry/hole.hpp"
#include "geometry/land.hpp"
#include "geometry/tolerance.hpp"

/// The frame of a pair of holes: m points outwards half-way between their axes, y round the band towards the
/// first of them, z along the ring's axis. A place at (m, y, z) stands at r = sqrt(m m + y y) in the section.
namespace bandwright::geometry {

inline constexpr double kLeastMargin = -1e-9;  ///< mm: rounding at the ends of pieces

inline double planeNorm(double a, double b) {
    return std::sqrt(a * a + b * b);
}

/// A stretch of the outline as a height over z: of an arc the half on one side of its centre.
struct Branch {
    const Segment* segment = nullptr;
    double side = 0;  ///< of an arc: 1 above its centre, -1 below

    double at(double z) const {
        const Segment& s = *segment;
        if (!s.isArc()) return s.from.r + (z - s.from.z) / (s.to.z - s.from.z) * (s.to.r - s.from.r);
        return s.centre.r + side * std::sqrt(std::max(0.0, square(s.radius) - square(z - s.centre.z)));
    }
    /// dr / dz.
    double slopeAt(double z) const {
        const Segment& s = *segment;
        if (!s.isArc()) return (s.to.r - s.from.r) / (s.to.z - s.from.z);
        const double high =
            std::sqrt(std::max(square(kSamePoint), square(s.radius) - square(z - s.centre.z)));
        return -side * (z - s.centre.z) / high;
    }
    /// d2r / dz2, 1/mm.
    double bendAt(double z) const {
        const Segment& s = *segment;
        if (!s.isArc()) return 0;
        const double high =
            std::sqrt(std::max(square(kSamePoint), square(s.radius) - square(z - s.centre.z)));
        return -side * square(s.radius) / (high * high * high);
    }
    /// The least of sign * (r - slope z) from z0 to z1.
    double leastOff(double slope, double sign, double z0, double z1) const {
        const double atEnds = std::min(sign * (at(z0) - slope * z0), sign * (at(z1) - slope * z1));
        const Segment& s = *segment;
        if (!s.isArc() || sign * side > 0) return atEnds;
        const double z = s.centre.z - side * s.radius * slope / std::sqrt(1 + square(slope));
        return z > z0 && z < z1 ? std::min(atEnds, sign * (at(z) - slope * z)) : atEnds;
    }
};

/// Metal between two branches, over a stretch of z.
struct LandCell {
    double from = 0, to = 0;
    Branch low, high;
};

/// Whether holes have a mouth in it: it is outside or an edge.
bool isMouth(const Branch& branch);

/// The metal over a stretch of z, cut where something begins or ends; branches rise or fall all through a
/// cell. `places` are cuts to make besides.
std::vector<LandCell> cellsOf(TurnedMetal metal, double from, double to, std::vector<double> places);

inline double slopeOf(const HolePiece& piece) {
    return (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
}

/// The least of a function with one lowest place, by golden section (Kiefer, Sequential minimax search for a
/// maximum, 1953); where it lies.
double lowestPlace(auto&& function, double low, double high) {
    constexpr double kShare = 1 / std::numbers::phi;
    double left = high - kShare * (high - low);
    double right = low + kShare * (high - low);
    double atLeft = function(left);
    double atRight = function(right);
    while (high - low > 1e-7) {
        if (atLeft < atRight) {
            high = right;
            right = left;
            atRight = atLeft;
            left = high - kShare * (high - low);
            atLeft = function(left);
        } else {
            low = left;
            left = right;
            atLeft = atRight;
            right = low + kShare * (high - low);
            atRight = function(right);
        }
    }
    return (low + high) / 2;
}

}  // namespace bandwright::geometry
