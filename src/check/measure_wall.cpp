#include <algorithm>
#include <cmath>
#include <limits>

#include "geometry/tolerance.hpp"
#include "measure.hpp"

/// The wall at a place of the surface is the diameter of the largest ball in the metal that touches it there,
/// and for a turned band that ball's centre lies in the section. Going along the surface the wall is thinnest
/// - between two places that face each other squarely (a double normal; one foot may be a corner that points
/// into
///   the metal): the wall's own narrow places, or
/// - at the ends, where the flanks of the band close it off: the largest ball against an edge face.
/// In the corners between, the balls shrink to nothing and say nothing of the wall.
namespace bandwright::check {

namespace {

constexpr double kSquare = 1e-6;  ///< cosine or sine

geometry::Vec2 unit(geometry::Vec2 v) {
    return (1 / geometry::length(v)) * v;
}

/// Into the metal, which lies on the left.
geometry::Vec2 inwardAt(const geometry::Segment& s, geometry::Vec2 onIt) {
    if (!s.isArc()) {
        const geometry::Vec2 along = unit(s.to - s.from);
        return {-along.r, along.z};
    }
    return s.ccw ? unit(s.centre - onIt) : unit(onIt - s.centre);
}

geometry::Vec2 tangentFrom(const geometry::Segment& s, geometry::Vec2 onIt) {
    const geometry::Vec2 n = inwardAt(s, onIt);
    return {n.r, -n.z};
}

/// Whether the outline comes no nearer on either side of the foot of a join that leaves it in direction `d`.
bool standsBack(const geometry::Loop& loop, std::size_t i, geometry::Vec2 foot, geometry::Vec2 d) {
    const std::size_t n = loop.size();
    const geometry::Segment& s = loop[i];
    const bool atStart = geometry::distance(foot, s.from) < geometry::kSamePoint;
    const bool atEnd = geometry::distance(foot, s.to) < geometry::kSamePoint;
    const geometry::Vec2 forward = tangentFrom(atEnd ? loop[(i + 1) % n] : s, foot);
    const geometry::Vec2 backward = tangentFrom(atStart ? loop[(i + n - 1) % n] : s, foot);
    return geometry::dot(forward, d) <= kSquare && geometry::dot(backward, d) >= -kSquare;
}

/// Lines that run along each other are equally near all along: then the join in the middle, where each goes
/// on to both sides.
geometry::Gap inTheMiddle(const geometry::Segment& a, const geometry::Segment& b, const geometry::Gap& gap) {
    if (a.isArc() || b.isArc()) return gap;
    const geometry::Vec2 u = unit(a.to - a.from);
    if (std::abs(geometry::cross(u, unit(b.to - b.from))) > kSquare) return gap;
    const auto [b0, b1] = std::minmax({geometry::dot(b.from - a.from, u), geometry::dot(b.to - a.from, u)});
    const double low = std::max(0.0, b0);
    const double high = std::min(geometry::length(a.to - a.from), b1);
    if (high <= low) return gap;
    const geometry::Vec2 foot = a.from + (low + high) / 2 * u;
    return {gap.value, foot, geometry::nearestOn(b, foot), gap.fromTag, gap.toTag};
}

/// Whether the join of two places on the outline runs through metal all the way.
bool runsInMetal(const geometry::Section& band, const geometry::Gap& gap) {
    constexpr double kEnds = 1e-4;
    const geometry::Vec2 whole = gap.to - gap.from;
    const geometry::Segment join = geometry::line(gap.from + kEnds * whole, gap.to - kEnds * whole, {});
    for (const geometry::Loop& loop : band) {
        for (const geometry::Segment& s : loop) {
            if (geometry::shortest(join, s).value < geometry::kSamePoint) return false;
        }
    }
    return geometry::contains(band, gap.from + 0.5 * whole);
}

struct Placed {
    std::size_t loop, segment;
    geometry::Rectangle bounds;
};

/// The narrowest double normal of the section.
std::optional<geometry::Gap> narrowest(const geometry::Section& band) {
    std::vector<Placed> all;
    for (std::size_t l = 0; l < band.size(); ++l) {
        for (std::size_t i = 0; i < band[l].size(); ++i)
            all.push_back({l, i, geometry::rectangleRound(band[l][i])});
    }
    std::optional<geometry::Gap> best;
    for (std::size_t a = 0; a < all.size(); ++a) {
        for (std::size_t b = a + 1; b < all.size(); ++b) {
            const geometry::Loop& la = band[all[a].loop];
            const geometry::Loop& lb = band[all[b].loop];
            const geometry::Segment& sa = la[all[a].segment];
            const geometry::Segment& sb = lb[all[b].segment];
            if (sa.to == sb.from || sb.to == sa.from) continue;  // they meet
            if (best && geometry::distance(all[a].bounds, all[b].bounds) >= best->value) continue;
            const geometry::Gap nearest = geometry::shortest(sa, sb);
            if (nearest.value < geometry::kSamePoint || (best && nearest.value >= best->value)) continue;
            const geometry::Gap gap = inTheMiddle(sa, sb, nearest);
            const geometry::Vec2 d = unit(gap.to - gap.from);
            if (standsBack(la, all[a].segment, gap.from, d) &&
                standsBack(lb, all[b].segment, gap.to, -1 * d) && runsInMetal(band, gap))
                best = gap;
        }
    }
    return best;
}

/// What may stop a ball that touches a straight face, its centre going off along the unit vector n: a line,
/// an arc, or a corner that points into the metal.
struct Obstacle {
    const geometry::Segment* segment;  ///< which begins at the corner
    bool isCorner = false;
    geometry::Vec2 inwardOverClosing;  ///< of a line: by how much a ball comes nearer to it than it grows

    /// The radius at which a ball that touches the face at p touches the corner or the whole line or circle.
    double radius(geometry::Vec2 p, geometry::Vec2 n) const {
        if (isCorner) return geometry::touchingRadius(segment->from, p, n);
        return segment->isArc() ? geometry::touchingRadius(*segment, p, n)
                                : geometry::dot(p - segment->from, inwardOverClosing);
    }
    geometry::Vec2 contact(geometry::Vec2 centre) const {
        return isCorner ? segment->from : geometry::nearestOn(*segment, centre);
    }
    bool isTouched(geometry::Vec2 centre, double radius) const {
        return std::abs(geometry::distance(contact(centre), centre) - radius) < geometry::kSamePoint;
    }
};

std::vector<Obstacle> obstaclesTo(const geometry::Section& body, geometry::Vec2 n) {
    std::vector<Obstacle> obstacles;
    for (const geometry::Loop& loop : body) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const geometry::Segment& s = loop[i];
            const geometry::Segment& before = loop[(i + loop.size() - 1) % loop.size()];
            if (geometry::cross(geometry::tangentAt(before, 1), geometry::tangentAt(s, 0)) <
                -geometry::kSameDirection)
                obstacles.push_back({&s, true, {}});
            if (s.isArc()) {
                obstacles.push_back({&s, false, {}});
                continue;
            }
            const geometry::Vec2 inward = inwardAt(s, s.from);
            const double closing = 1 - geometry::dot(n, inward);
            if (closing > geometry::kSameDirection) obstacles.push_back({&s, false, (1 / closing) * inward});
        }
    }
    return obstacles;
}

/// What keeps a ball that touches the face at p from growing.
struct Stop {
    geometry::Vec2 p;
    double radius = std::numeric_limits<double>::infinity();
    const Obstacle* obstacle = nullptr;
    geometry::Vec2 centre(geometry::Vec2 n) const { return p + radius * n; }
};

/// The largest ball in the metal that touches the face at p.
Stop largestBall(const std::vector<Obstacle>& obstacles, geometry::Vec2 p, geometry::Vec2 n) {
    Stop best{.p = p};
    for (const Obstacle& obstacle : obstacles) {
        const double radius = obstacle.radius(p, n);
        if (radius > geometry::kSamePoint && radius < best.radius &&
            obstacle.isTouched(p + radius * n, radius))
            best = {p, radius, &obstacle};
    }
    return best;
}

/// A place between two of the face where what stops the balls at either would stop them at one size, if the
/// sizes changed evenly on the way.
geometry::Vec2 evenlyBetween(const Stop& low, const Stop& high, geometry::Vec2 n) {
    const double atLow = high.obstacle->radius(low.p, n) - low.radius;
    const double atHigh = high.radius - low.obstacle->radius(high.p, n);
    const double share = atLow / (atLow - atHigh);
    return low.p + (share > 0 && share < 1 ? share : 0.5) * (high.p - low.p);
}

/// The largest ball against an edge face, as the diameter across it along the face.
geometry::Gap wallAtEdge(const geometry::Section& body, const geometry::Segment& face) {
    constexpr double kClose = 1e-7;  // mm; the ball is known to half of it
    const geometry::Vec2 n = inwardAt(face, face.from);
    const std::vector<Obstacle> obstacles = obstaclesTo(body, n);
    Stop low{.p = face.from.r < face.to.r ? face.from : face.to};
    Stop high{.p = face.from.r < face.to.r ? face.to : face.from};
    const auto pressesDown = [&](const Stop& ball, const Obstacle* by) {
        return by != nullptr && by->contact(ball.centre(n)).r > ball.p.r;
    };
    Stop ball;
    bool halves = true;  // alone it is sure, and slow
    do {
        const bool guesses = !halves && low.obstacle != nullptr && high.obstacle != nullptr;
        ball = largestBall(obstacles, guesses ? evenlyBetween(low, high, n) : 0.5 * (low.p + high.p), n);
        const bool down = pressesDown(ball, ball.obstacle);
        const Obstacle* opposite = (down ? low : high).obstacle;
        (down ? high : low) = ball;
        if (opposite != nullptr && opposite != ball.obstacle && pressesDown(ball, opposite) != down &&
            opposite->isTouched(ball.centre(n), ball.radius))
            break;
        halves = !halves;
    } while (geometry::distance(low.p, high.p) > kClose);
    const geometry::Vec2 centre = ball.centre(n);
    const auto tagOf = [&](const Stop& stop) {
        return stop.obstacle ? stop.obstacle->segment->tag : face.tag;
    };
    return {2 * ball.radius, centre + geometry::Vec2{0, ball.radius}, centre - geometry::Vec2{0, ball.radius},
            tagOf(high), tagOf(low)};
}

/// The thinnest wall of a turned body.
std::optional<geometry::Gap> thinnest(const geometry::Section& body) {
    std::optional<geometry::Gap> best = narrowest(body);
    for (const geometry::Segment& face : geometry::segmentsWhere(
             body, [](geometry::Tag t) { return t.feature == geometry::Feature::EdgeFace; })) {
        const geometry::Gap gap = wallAtEdge(body, face);
        if (!best || gap.value < best->value) best = gap;
    }
    return best;
}

}  // namespace

void measureThinnestWall(const StagedRing& ring, Measures& measures) {
    const auto add = [&](const char* id, const char* label, const geometry::Section& body) {
        if (const auto gap = thinnest(body))
            measures.push_back(measureOf(id, label, ring.stage, *gap, ring.quietAngle, 0));
    };
    add("thinnest-wall", "Thinnest wall of the band", ring.plain.band);
    add("liner-wall", "Thinnest wall of the liner", ring.plain.liner);
}

}  // namespace bandwright::check
