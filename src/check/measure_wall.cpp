#include <algorithm>
#include <cmath>
#include <limits>

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

constexpr double kSame = 1e-9;    ///< mm
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
    const bool atStart = distance(foot, s.from) < kSame;
    const bool atEnd = distance(foot, s.to) < kSame;
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
            if (shortest(join, s).value < kSame) return false;
        }
    }
    return contains(band, gap.from + 0.5 * whole);
}

struct Placed {
    std::size_t loop, segment;
};

/// The narrowest double normal of the section.
std::optional<Gap> narrowest(const Section& band) {
    std::vector<Placed> all;
    for (std::size_t l = 0; l < band.size(); ++l) {
        for (std::size_t i = 0; i < band[l].size(); ++i)
            all.push_back({l, i});
    }
    std::optional<Gap> best;
    for (std::size_t a = 0; a < all.size(); ++a) {
        for (std::size_t b = a + 1; b < all.size(); ++b) {
            const Loop& la = band[all[a].loop];
            const Loop& lb = band[all[b].loop];
            const Segment& sa = la[all[a].segment];
            const Segment& sb = lb[all[b].segment];
            const Gap nearest = shortest(sa, sb);
            if (nearest.value < kSame || (best && nearest.value >= best->value)) continue;
            const Gap gap = inTheMiddle(sa, sb, nearest);
            const Vec2 d = unit(gap.to - gap.from);
            if (standsBack(la, all[a].segment, gap.from, d) &&
                standsBack(lb, all[b].segment, gap.to, -1 * d) && runsInMetal(band, gap))
                best = gap;
        }
    }
    return best;
}

/// What keeps a ball that touches the outline at one place from growing.
struct Stop {
    double radius = std::numeric_limits<double>::infinity();
    Vec2 contact;
    Tag tag;
};

/// The largest ball in the metal that touches the outline at p, its centre in direction n.
Stop largestBall(const Section& band, Vec2 p, Vec2 n) {
    Stop best;
    for (const Loop& loop : band) {
        for (const Segment& s : loop) {
            const double corner = touchingRadius(s.from, p, n);
            if (corner > kSame && corner < best.radius) best = {corner, s.from, s.tag};
            const double radius = touchingRadius(s, p, n);
            if (!(radius > kSame && radius < best.radius)) continue;
            const Vec2 centre = p + radius * n;
            const Vec2 foot = nearestOn(s, centre);
            if (std::abs(distance(foot, centre) - radius) < kSame) best = {radius, foot, s.tag};
        }
    }
    return best;
}

/// The largest ball against an edge face, as the diameter across it along the face.
Gap wallAtEdge(const Section& band, const Segment& face) {
    Vec2 low = face.from.r < face.to.r ? face.from : face.to;
    Vec2 high = face.from.r < face.to.r ? face.to : face.from;
    const Vec2 n = inwardAt(face, face.from);
    Tag below = face.tag;
    Tag above = face.tag;
    constexpr double kClose = 1e-7;  // mm; the ball is known to half of it
    while (distance(low, high) > kClose) {
        const Vec2 middle = 0.5 * (low + high);
        const Stop stop = largestBall(band, middle, n);
        const bool pressedDown = stop.contact.r > middle.r;
        (pressedDown ? above : below) = stop.tag;
        (pressedDown ? high : low) = middle;
    }
    const Vec2 middle = 0.5 * (low + high);
    const double radius = largestBall(band, middle, n).radius;
    const Vec2 centre = middle + radius * n;
    return {2 * radius, centre + Vec2{0, radius}, centre - Vec2{0, radius}, above, below};
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
