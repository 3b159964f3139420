#include <algorithm>
#include <cmath>
#include <iterator>
#include <numbers>
#include <vector>

#include "arc.hpp"
#include "gauss.hpp"
#include "hole_cut.hpp"

namespace bandwright {

namespace {

double square(double x) {
    return x * x;
}

/// The integrals of 2 w r dr, for the circle of radius r about the ring's axis, where its half angle w in the
/// hole ends on a cylinder at distance a, or on a flat at height c.
double cylinderShare(double r, double a) {
    return square(r) * std::asin(a / r) + a * std::sqrt(square(r) - square(a));
}
double flatShare(double r, double c) {
    return square(r) * std::acos(c / r) - c * std::sqrt(square(r) - square(c));
}

/// The same over a cone, from its lowest place at this zeta to the height where the circle of radius r
/// crosses it.
double coneShare(const HolePiece& piece, double zeta, double r) {
    const double slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
    const double begin = std::max(piece.x0, piece.x0 + (std::abs(zeta) - piece.radius0) / slope);
    const Vec3 crossing = pointOnPiece(piece, 0, {zeta, r});
    const double end = std::min(piece.x1, crossing.x);
    if (end <= begin) return 0;
    double sum = 0;
    gauss([&](double t, double weight) {
        // Spaced by squares: at its lowest place the curve begins like a square root.
        const double x = begin + (end - begin) * t * t;
        const double radius = piece.radius0 + slope * (x - piece.x0);
        const double y = std::sqrt(std::max(0.0, square(radius) - square(zeta)));
        sum += weight * 2 * t * (end - begin) * 2 * std::atan2(y, x) * (x + radius * slope);
    });
    return sum;
}

/// The integral of 2 w r dr at this distance from the hole's middle, from the hole's lowest place up to r.
double removedBelow(const HoleProfile& hole, double zeta, double r) {
    double sum = 0;
    for (const HolePiece& piece : hole.pieces) {
        if (piece.radius1 <= std::abs(zeta)) continue;
        const double inner = square(piece.x0) + std::max(0.0, square(piece.radius0) - square(zeta));
        const double outer = square(piece.x1) + square(piece.radius1) - square(zeta);
        const double low = std::sqrt(inner);
        const double high = std::min(r, std::sqrt(outer));
        if (high <= low) continue;
        if (piece.isFlat()) {
            sum += flatShare(high, piece.x0) - flatShare(low, piece.x0);
        } else if (piece.isCylinder()) {
            const double a = std::sqrt(square(piece.radius0) - square(zeta));
            sum += cylinderShare(high, a) - cylinderShare(low, a);
        } else {
            sum += coneShare(piece, zeta, high);
        }
    }
    return sum;
}

/// Shares at which what lies below the segment changes: where the hole's outline turns a corner under it, and
/// over the hole's axis, where there may be a point.
std::vector<double> stops(const Segment& s, const HoleProfile& hole, const std::vector<HoleEvent>& events) {
    std::vector<double> shares;
    std::transform(events.begin(), events.end(), std::back_inserter(shares),
                   [](const HoleEvent& event) { return event.share; });
    const auto addUpright = [&](double z) {
        for (const Crossing& c : crossings(s, line({z, 0}, {z, 2 * hole.pieces.back().x1}, {})))
            shares.push_back(c.ta);
    };
    addUpright(hole.offset);
    for (const HolePiece& piece : hole.pieces) {
        addUpright(hole.offset - piece.radius1);
        addUpright(hole.offset + piece.radius1);
    }
    std::sort(shares.begin(), shares.end());
    return shares;
}

/// The contour integral of Green's theorem along one stretch of a segment.
double alongStretch(const Segment& s, const HoleProfile& hole, double from, double to) {
    const double l = arcLength(s);
    double sum = 0;
    gauss([&](double t, double weight) {
        // Spaced by the cosine of an angle, for at a tip the half angle runs out like a square root.
        const double angle = t * std::numbers::pi;
        const double share = from + (to - from) * (1 - std::cos(angle)) / 2;
        const Vec2 p = pointAt(s, share);
        const double dz = tangentAt(s, share).z * l * (to - from) * std::sin(angle) / 2 * std::numbers::pi;
        sum -= weight * removedBelow(hole, p.z - hole.offset, p.r) * dz;
    });
    return sum;
}

}  // namespace

double removedVolume(const Section& section, const HoleProfile& hole) {
    double sum = 0;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            if (s.from.z == s.to.z && !s.isArc()) continue;
            const std::vector<double> shares = stops(s, hole, holeEvents({&s, {0, 0}, {0, 1}}, hole).list);
            for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
                const double middle = (shares[i] + shares[i + 1]) / 2;
                if (pieceAt(hole, pointAt(s, middle))) sum += alongStretch(s, hole, shares[i], shares[i + 1]);
            }
        }
    }
    return sum;
}

}  // namespace bandwright
