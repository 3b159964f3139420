#include <algorithm>
#include <cmath>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "hole_cut.hpp"

namespace bandwright::geometry {

namespace {

/// Radius of the hole's piece at a height within it.
double radiusAt(const HolePiece& piece, double x) {
    if (piece.isCylinder() || piece.isFlat()) return piece.radius1;
    return piece.radius0 + (x - piece.x0) / (piece.x1 - piece.x0) * (piece.radius1 - piece.radius0);
}

/// Height at which the circle of radius r at distance zeta from the hole's middle crosses a cylinder or cone.
double crossingHeight(const HolePiece& piece, double zeta, double r) {
    if (piece.isCylinder()) return std::sqrt(std::max(0.0, square(r) + square(zeta) - square(piece.radius0)));
    const double slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
    const double a = piece.radius0 - slope * piece.x0;  // radius where the cone meets the ring's axis
    const double b = 1 + square(slope);
    const double c = square(a) - square(r) - square(zeta);
    return (-a * slope + std::sqrt(std::max(0.0, square(a * slope) - b * c))) / b;
}

/// Whether an end of one lies on the other.
bool touch(const Segment& s, const Segment& wall) {
    const auto near = [](const Segment& a, Vec2 p) { return distance(nearestOn(a, p), p) < kFilm; };
    return near(wall, s.from) || near(wall, s.to) || near(s, wall.from) || near(s, wall.to);
}

}  // namespace

bool isBeside(const Rectangle& bounds, const HoleProfile& hole) {
    const double reach = hole.pieces.back().radius1 + 2 * kFilm;
    return bounds.low.z > hole.offset + reach || bounds.high.z < hole.offset - reach;
}

double radiusAt(const HoleProfile& hole, double x) {
    if (x < hole.pieces.front().x0) return 0;
    for (const HolePiece& piece : hole.pieces) {
        if (!piece.isFlat() && x <= piece.x1) return radiusAt(piece, x);
    }
    return 0;
}

std::optional<std::size_t> pieceAt(const HoleProfile& hole, Vec2 p) {
    const double zeta = p.z - hole.offset;
    std::size_t i = 0;
    while (i < hole.pieces.size() && (hole.pieces[i].isFlat() || p.r > hole.pieces[i].x1))
        ++i;
    if (i == hole.pieces.size() || p.r < hole.pieces[i].x0) return std::nullopt;
    if (std::abs(zeta) >= radiusAt(hole.pieces[i], p.r)) return std::nullopt;
    for (;; --i) {
        const HolePiece& piece = hole.pieces[i];
        if (piece.isFlat()) {
            if (square(p.r) - square(piece.x0) + square(zeta) >= square(piece.radius0)) return i;
        } else if (crossingHeight(piece, zeta, p.r) >= piece.x0) {
            return i;
        }
        if (i == 0) return std::nullopt;
    }
}

Vec3 pointOnPiece(const HolePiece& piece, double offset, Vec2 p) {
    const double zeta = p.z - offset;
    if (piece.isFlat()) return {piece.x0, std::sqrt(std::max(0.0, square(p.r) - square(piece.x0))), p.z};
    if (piece.isCylinder()) {
        const double y = std::sqrt(std::max(0.0, square(piece.radius0) - square(zeta)));
        return {std::sqrt(square(p.r) - square(y)), y, p.z};
    }
    const double x = std::min(p.r, crossingHeight(piece, zeta, p.r));
    return {x, std::sqrt(std::max(0.0, square(p.r) - square(x))), p.z};
}

HoleEvents holeEvents(const RowedSegment& rowed, const HoleProfile& hole) {
    const Segment& s = *rowed.segment;
    HoleEvents result;
    std::vector<HoleEvent>& events = result.list;
    events.reserve(rowed.rows.size() + 16);
    for (std::size_t k = 0; k < rowed.rows.size(); ++k)
        events.push_back({rowed.shares[k], HoleEvent::Row, k, pointAt(s, rowed.shares[k])});
    if (isBeside(rectangleRound(s), hole)) return result;
    if (s.isArc()) {
        for (const double side : {-1.0, 1.0}) {
            const Vec2 p = s.centre + Vec2{side * s.radius, 0};
            if (onSweep(s, p)) events.push_back({shareAt(s, p), HoleEvent::Turn, 0, p});
        }
    }
    for (std::size_t i = 0; i < hole.pieces.size(); ++i) {
        const HolePiece& piece = hole.pieces[i];
        for (const double side : {-1.0, 1.0}) {
            const Segment wall = line({hole.offset + side * piece.radius0, piece.x0},
                                      {hole.offset + side * piece.radius1, piece.x1}, piece.tag);
            if (wall.from == wall.to) continue;
            if (touch(s, wall)) result.apart = false;
            for (const Crossing& c : crossings(s, wall))
                events.push_back({c.ta, HoleEvent::Tip, i, c.point});
        }
        if (i + 1 == hole.pieces.size()) break;
        // The circle where two pieces meet lies on a sphere about the hole's middle on the ring's axis.
        const double sphere = std::sqrt(square(piece.x1) + square(piece.radius1));
        for (const Crossing& c : crossingsWithCircle(s, {hole.offset, 0}, sphere)) {
            if (std::abs(c.point.z - hole.offset) < piece.radius1)
                events.push_back({c.ta, HoleEvent::Joint, i, c.point});
        }
    }
    std::sort(events.begin(), events.end(),
              [](const HoleEvent& a, const HoleEvent& b) { return a.share < b.share; });
    const double l = arcLength(s);
    for (std::size_t i = 0; i + 1 < events.size(); ++i) {
        const bool matters = events[i].kind >= HoleEvent::Tip || events[i + 1].kind >= HoleEvent::Tip;
        if (matters && (events[i + 1].share - events[i].share) * l < kFilm) result.apart = false;
    }
    std::erase_if(events, [&](const HoleEvent& e) {
        return e.kind == HoleEvent::Turn &&
               std::any_of(events.begin(), events.end(), [&](const HoleEvent& row) {
                   return row.kind == HoleEvent::Row && std::abs(row.share - e.share) * l < kFilm;
               });
    });
    return result;
}

}  // namespace bandwright::geometry
