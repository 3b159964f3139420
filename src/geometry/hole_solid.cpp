#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>
#include <vector>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "gauss.hpp"
#include "hole_cut.hpp"

namespace bandwright::geometry {

namespace {

constexpr double kLeast = 1e-30;  // mm2, so that nothing is divided by 0

/// What a hole takes from the circles about the ring's axis at one distance from its middle, summed over
/// their radius; each circle loses the arc from -w to w. And the hole's wall that is left there instead.
struct Taken {
    double one = 0, x = 0;  ///< integrals of 1 and x
    double xx = 0, yy = 0;  ///< of x x and y y
    double wall = 0;        ///< area for each mm along the ring's axis

    friend Taken operator-(Taken a, const Taken& b) {
        return {a.one - b.one, a.x - b.x, a.xx - b.xx, a.yy - b.yy, a.wall - b.wall};
    }
    Taken& operator+=(const Taken& b) {
        one += b.one;
        x += b.x;
        xx += b.xx;
        yy += b.yy;
        wall += b.wall;
        return *this;
    }
};

/// The antiderivatives over r where the arc of the circle ends on a cylinder of radius `radius`, at distance
/// `a` from the plane through both axes: sin w = a / r.
Taken withinCylinder(double r, double a, double radius) {
    const double w = std::asin(a / r);
    const double x = std::sqrt(square(r) - square(a));
    const double third = x * (square(x) / 3 + square(a));  // the integral of r r r / x
    const double both = square(square(r)) / 4 * w + a / 4 * third;
    const double apart = a * x * square(x) / 3;
    return {square(r) * w + a * x, a * square(r), both + apart, both - apart, 2 * radius / a * x};
}

/// The same where it ends on a flat at height c: cos w = c / r.
Taken aboveFlat(double r, double c) {
    const double w = std::acos(c / r);
    const double y = std::sqrt(square(r) - square(c));
    const double both = square(square(r)) / 4 * w - c / 4 * y * (square(y) / 3 + square(c));
    const double apart = c * y * square(y) / 3;
    return {square(r) * w - c * y, 2 * y * square(y) / 3, both + apart, both - apart, 2 * y};
}

/// The same over a cone, from its lowest place at this zeta to the height where the circle of radius r
/// crosses it.
Taken withinCone(const HolePiece& piece, double zeta, double r) {
    const double slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
    const double begin = std::max(piece.x0, piece.x0 + (std::abs(zeta) - piece.radius0) / slope);
    const Vec3 crossing = pointOnPiece(piece, 0, {zeta, r});
    const double end = std::min(piece.x1, crossing.x);
    if (end <= begin) return {};
    const auto radiusAt = [&](double x) { return piece.radius0 + slope * (x - piece.x0); };
    const auto yAt = [&](double x) { return std::sqrt(std::max(0.0, square(radiusAt(x)) - square(zeta))); };
    Taken sum;
    gauss([&](double t, double weight) {
        // Spaced by squares: at its lowest place the curve begins like a square root.
        const double x = begin + (end - begin) * t * t;
        const double y = yAt(x);
        const double w = std::atan2(y, x);
        const double rr = square(x) + square(y);
        const double dr = weight * 2 * t * (end - begin) * (x + radiusAt(x) * slope);  // r dr
        sum += {2 * w * dr, 2 * y * dr, (rr * w + x * y) * dr, (rr * w - x * y) * dr, 0};
    });
    sum.wall = 2 * std::sqrt(1 + square(slope)) / slope * (yAt(end) - yAt(begin));
    return sum;
}

/// From the hole's lowest place up to r at this distance from the hole's middle.
Taken takenBelow(const HoleProfile& hole, double zeta, double r) {
    Taken sum;
    for (const HolePiece& piece : hole.pieces) {
        if (piece.radius1 <= std::abs(zeta)) continue;
        const double inner = square(piece.x0) + std::max(0.0, square(piece.radius0) - square(zeta));
        const double outer = square(piece.x1) + square(piece.radius1) - square(zeta);
        const double low = std::sqrt(inner);
        const double high = std::min(r, std::sqrt(outer));
        if (high <= low) continue;
        if (piece.isFlat()) {
            sum += aboveFlat(high, piece.x0) - aboveFlat(low, piece.x0);
        } else if (piece.isCylinder()) {
            const double a = std::sqrt(std::max(kLeast, square(piece.radius0) - square(zeta)));
            sum += withinCylinder(high, a, piece.radius0) - withinCylinder(low, a, piece.radius0);
        } else {
            sum += withinCone(piece, zeta, high);
        }
    }
    return sum;
}

/// Shares at which what lies below the segment changes: where the hole's outline turns a corner under it, and
/// over the hole's axis, where there may be a point.
std::vector<double> stops(const Segment& s, const Rectangle& bounds, const HoleProfile& hole,
                          const std::vector<HoleEvent>& events) {
    std::vector<double> shares;
    std::transform(events.begin(), events.end(), std::back_inserter(shares),
                   [](const HoleEvent& event) { return event.share; });
    const auto addUpright = [&](double z) {
        if (z < bounds.low.z || z > bounds.high.z) return;
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

/// Half the arc that the hole takes from the circle through p, which lies in the hole, radians.
double halfArc(const HoleProfile& hole, std::size_t piece, Vec2 p) {
    const Vec3 end = pointOnPiece(hole.pieces[piece], hole.offset, p);
    return std::atan2(end.y, end.x);
}

/// A place and weight of the rule on 0..1, and what the two highest Legendre polynomials that it resolves are
/// there, each times twice its degree and one.
struct Node {
    double at, weight;
    std::array<double, 2> highest;
};

const std::vector<Node>& nodes() {
    static const std::vector<Node> kNodes = [] {
        std::vector<Node> rule;
        gauss([&](double t, double weight) {
            constexpr int kHighest = 11;
            const double x = 2 * t - 1;
            double before = 1, here = x;
            for (int k = 1; k < kHighest; ++k)
                before = std::exchange(here, ((2 * k + 1) * x * here - k * before) / (k + 1));
            rule.push_back({t, weight, {(2 * kHighest - 1) * before, (2 * kHighest + 1) * here}});
        });
        return rule;
    }();
    return kNodes;
}

/// Then nothing lies under it.
bool isUpright(const Segment& s) {
    return !s.isArc() && s.from.z == s.to.z;
}

/// A stretch of a segment in shares of its length.
struct Stretch {
    const Segment& s;
    double from, to;
};

/// What the hole takes: the contour integrals of Green's theorem along one stretch of a segment, and as area
/// the segment's own surface in the hole less the wall under it. Places are spaced by the cosine of an angle,
/// because at a tip the half angle runs out like a square root; these are those between two angles. Where a
/// tip lies just beyond the stretch the sums do not fall off fast enough with the degree, and each half is
/// taken by itself.
SolidProperties alongStretch(const Stretch& stretch, const HoleProfile& hole, double low, double high,
                             int halvings = 0) {
    constexpr double kFallen = 1e-4;
    constexpr int kMostHalvings = 12;
    const Segment& s = stretch.s;
    const double l = arcLength(s) * (stretch.to - stretch.from);
    SolidProperties sum;
    std::array<double, 2> volumes{}, areas{};
    for (const Node& node : nodes()) {
        const double angle = low + (high - low) * node.at;
        const Vec2 p = pointAt(s, stretch.from + (stretch.to - stretch.from) * (1 - std::cos(angle)) / 2);
        const double ds = node.weight * (high - low) * std::sin(angle) / 2 * l;
        double area = 0, volume = 0;
        if (const auto piece = pieceAt(hole, p)) area = 2 * halfArc(hole, *piece, p) * p.r * ds;
        if (!isUpright(s)) {
            const double dz = -ds * tangentOn(s, p).z;
            const Taken taken = takenBelow(hole, p.z - hole.offset, p.r);
            volume = taken.one * dz;
            area -= taken.wall * dz;
            sum.first = sum.first + dz * Vec3{taken.x, 0, p.z * taken.one};
            sum.xx += taken.xx * dz;
            sum.yy += taken.yy * dz;
            sum.zz += taken.one * p.z * p.z * dz;
            sum.zx += taken.x * p.z * dz;
        }
        sum.volume += volume;
        sum.area += area;
        for (std::size_t k = 0; k < 2; ++k) {
            volumes[k] += node.highest[k] * volume;
            areas[k] += node.highest[k] * area;
        }
    }
    const double left =
        std::max(std::abs(volumes[0]) + std::abs(volumes[1]), std::abs(areas[0]) + std::abs(areas[1]));
    if (left < kFallen || halvings == kMostHalvings) return sum;
    const double middle = (low + high) / 2;
    SolidProperties halves = alongStretch(stretch, hole, low, middle, halvings + 1);
    halves += alongStretch(stretch, hole, middle, high, halvings + 1);
    return halves;
}

}  // namespace

SolidProperties changeByHole(const Section& section, const HoleProfile& hole) {
    SolidProperties sum;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            const Rectangle bounds = rectangleRound(s);
            if (isBeside(bounds, hole)) continue;
            const std::vector<double> shares =
                stops(s, bounds, hole, holeEvents({&s, {0, 0}, {0, 1}}, hole).list);
            for (std::size_t i = 0; i + 1 < shares.size(); ++i) {
                const double middle = (shares[i] + shares[i + 1]) / 2;
                if (pieceAt(hole, pointAt(s, middle)))
                    sum += alongStretch({s, shares[i], shares[i + 1]}, hole, 0, kPi);
            }
        }
    }
    return -1.0 * sum;
}

}  // namespace bandwright::geometry
