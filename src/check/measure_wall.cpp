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
namespace bandwright {

namespace {

constexpr double kSquare = 1e-6;  ///< cosine or sine

Vec2 unit(Vec2 v) {
    return (1 / length(v)) * v;
}

/// Into the metal, which lies on the left.
Vec2 inwardAt(const Segment& s, Vec2 onIt) {
    if (!s.isArc()) {
        const Vec2 along = unit(s.to - s.from);
        return {-along.r, along.z};
    }
    return s.ccw ? unit(s.centre - onIt) : unit(onIt - s.centre);
}

Vec2 tangentFrom(const Segment& s, Vec2 onIt) {
    const Vec2 n = inwardAt(s, onIt);
    return {n.r, -n.z};
}

/// Whether the outline comes no nearer on either side of the foot of a join that leaves it in direction `d`.
bool standsBack(const Loop& loop, std::size_t i, Vec2 foot, Vec2 d) {
    const std::size_t n = loop.size();
    const Segment& s = loop[i];
    const bool atStart = distance(foot, s.from) < kSamePoint;
    const bool atEnd = distance(foot, s.to) < kSamePoint;
    const Vec2 forward = tangentFrom(atEnd ? loop[(i + 1) % n] : s, foot);
    const Vec2 backward = tangentFrom(atStart ? loop[(i + n - 1) % n] : s, foot);
    return dot(forward, d) <= kSquare && dot(backward, d) >= -kSquare;
}

/// Lines that run along each other are equally near all along: then the join in the middle, where each goes
/// on to both sides.
Gap inTheMiddle(const Segment& a, const Segment& b, const Gap& gap) {
    if (a.isArc() || b.isArc()) return gap;
    const Vec2 u = unit(a.to - a.from);
    if (std::abs(cross(u, unit(b.to - b.from))) > kSquare) return gap;
    const auto [b0, b1] = std::minmax({dot(b.from - a.from, u), dot(b.to - a.from, u)});
    const double low = std::max(0.0, b0);
    const double high = std::min(length(a.to - a.from), b1);
    if (high <= low) return gap;
    const Vec2 foot = a.from + (low + high) / 2 * u;
    return {gap.value, foot, nearestOn(b, foot), gap.fromTag, gap.toTag};
}

/// Whether the join of two places on the outline runs through metal all the way.
bool runsInMetal(const Section& band, const Gap& gap) {
    constexpr double kEnds = 1e-4;
    const Vec2 whole = gap.to - gap.from;
    const Segment join = line(gap.from + kEnds * whole, gap.to - kEnds * whole, {});
    for (const Loop& loop : band) {
        for (const Segment& s : loop) {
            if (shortest(join, s).value < kSamePoint) return false;
        }
    }
    return contains(band, gap.from + 0.5 * whole);
}

struct Placed {
    std::size_t loop, segment;
    Rectangle bounds;
};

/// The narrowest double normal of the section.
std::optional<Gap> narrowest(const Section& band) {
    std::vector<Placed> all;
    for (std::size_t l = 0; l < band.size(); ++l) {
        for (std::size_t i = 0; i < band[l].size(); ++i)
            all.push_back({l, i, rectangleRound(band[l][i])});
    }
    std::optional<Gap> best;
    for (std::size_t a = 0; a < all.size(); ++a) {
        for (std::size_t b = a + 1; b < all.size(); ++b) {
            const Loop& la = band[all[a].loop];
            const Loop& lb = band[all[b].loop];
            const Segment& sa = la[all[a].segment];
            const Segment& sb = lb[all[b].segment];
            if (sa.to == sb.from || sb.to == sa.from) continue;  // they meet
            if (best && distance(all[a].bounds, all[b].bounds) >= best->value) continue;
            const Gap nearest = shortest(sa, sb);
            if (nearest.value < kSamePoint || (best && nearest.value >= best->value)) continue;
            const Gap gap = inTheMiddle(sa, sb, nearest);
            const Vec2 d = unit(gap.to - gap.from);
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
    const Segment* segment;  ///< which begins at the corner
    bool isCorner = false;
    Vec2 inwardOverClosing;  ///< of a line: by how much a ball comes nearer to it than it grows

    /// The radius at which a ball that touches the face at p touches the corner or the whole line or circle.
    double radius(Vec2 p, Vec2 n) const {
        if (isCorner) return touchingRadius(segment->from, p, n);
        return segment->isArc() ? touchingRadius(*segment, p, n) : dot(p - segment->from, inwardOverClosing);
    }
    Vec2 contact(Vec2 centre) const { return isCorner ? segment->from : nearestOn(*segment, centre); }
    bool isTouched(Vec2 centre, double radius) const {
        return std::abs(distance(contact(centre), centre) - radius) < kSamePoint;
    }
};

std::vector<Obstacle> obstaclesTo(const Section& body, Vec2 n) {
    std::vector<Obstacle> obstacles;
    for (const Loop& loop : body) {
        for (std::size_t i = 0; i < loop.size(); ++i) {
            const Segment& s = loop[i];
            const Segment& before = loop[(i + loop.size() - 1) % loop.size()];
            if (cross(tangentAt(before, 1), tangentAt(s, 0)) < -kSameDirection)
                obstacles.push_back({&s, true, {}});
            if (s.isArc()) {
                obstacles.push_back({&s, false, {}});
                continue;
            }
            const Vec2 inward = inwardAt(s, s.from);
            const double closing = 1 - dot(n, inward);
            if (closing > kSameDirection) obstacles.push_back({&s, false, (1 / closing) * inward});
        }
    }
    return obstacles;
}

/// What keeps a ball that touches the face at p from growing.
struct Stop {
    Vec2 p;
    double radius = std::numeric_limits<double>::infinity();
    const Obstacle* obstacle = nullptr;
    Vec2 centre(Vec2 n) const { return p + radius * n; }
};

/// The largest ball in the metal that touches the face at p.
Stop largestBall(const std::vector<Obstacle>& obstacles, Vec2 p, Vec2 n) {
    Stop best{.p = p};
    for (const Obstacle& obstacle : obstacles) {
        const double radius = obstacle.radius(p, n);
        if (radius > kSamePoint && radius < best.radius && obstacle.isTouched(p + radius * n, radius))
            best = {p, radius, &obstacle};
    }
    return best;
}

/// A place between two of the face where what stops the balls at either would stop them at one size, if the
/// sizes changed evenly on the way.
Vec2 evenlyBetween(const Stop& low, const Stop& high, Vec2 n) {
    const double atLow = high.obstacle->radius(low.p, n) - low.radius;
    const double atHigh = high.radius - low.obstacle->radius(high.p, n);
    const double share = atLow / (atLow - atHigh);
    return low.p + (share > 0 && share < 1 ? share : 0.5) * (high.p - low.p);
}

/// The largest ball against an edge face, as the diameter across it along the face.
Gap wallAtEdge(const Section& body, const Segment& face) {
    constexpr double kClose = 1e-7;  // mm; the ball is known to half of it
    const Vec2 n = inwardAt(face, face.from);
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
    } while (distance(low.p, high.p) > kClose);
    const Vec2 centre = ball.centre(n);
    const auto tagOf = [&](const Stop& stop) {
        return stop.obstacle ? stop.obstacle->segment->tag : face.tag;
    };
    return {2 * ball.radius, centre + Vec2{0, ball.radius}, centre - Vec2{0, ball.radius}, tagOf(high),
            tagOf(low)};
}

/// The thinnest wall of a turned body.
std::optional<Gap> thinnest(const Section& body) {
    std::optional<Gap> best = narrowest(body);
    for (const Segment& face : segmentsWhere(body, [](Tag t) { return t.feature == Feature::EdgeFace; })) {
        const Gap gap = wallAtEdge(body, face);
        if (!best || gap.value < best->value) best = gap;
    }
    return best;
}

}  // namespace

void measureThinnestWall(const StagedRing& ring, Measures& measures) {
    const auto add = [&](const char* id, const char* label, const Section& body) {
        if (const auto gap = thinnest(body))
            measures.push_back(measureOf(id, label, ring.stage, *gap, ring.quietAngle, 0));
    };
    add("thinnest-wall", "Thinnest wall of the band", ring.plain.band);
    add("liner-wall", "Thinnest wall of the liner", ring.plain.liner);
}

}  // namespace bandwright
