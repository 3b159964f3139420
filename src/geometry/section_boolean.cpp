#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>
#include <vector>

#include "arc.hpp"
#include "base/input_error.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

Section moved(Section section, Vec2 by) {
    for (Loop& loop : section)
        loop = moved(std::move(loop), by);
    return section;
}

/// Moves the corner between two segments outwards, to where both still end; a corner like a needle gets a
/// short line across its point.
void growCorner(Loop& grown, const Segment& before, const Segment& after, double by) {
    const auto outward = [](Vec2 tangent) { return Vec2{tangent.r, -tangent.z}; };
    const Vec2 corner = before.to;
    const Vec2 n = outward(tangentAt(before, 1));
    const Vec2 m = outward(tangentAt(after, 0));
    constexpr double kNeedle = 0.134;  // a turn of 150 degrees; the corner would move 4 times as far
    const bool needle = 1 + dot(n, m) < kNeedle && cross(n, m) > 0;
    const double reach = by / std::max(kNeedle, 1 + dot(n, m));
    grown.back().to = needle ? corner + by * n : corner + reach * (n + m);
    if (needle) grown.push_back(line(grown.back().to, corner + by * m, after.tag));
}

/// The outline moved outwards all round, by so little that no two parts meet.
Section grown(const Section& section, double by) {
    Section result;
    for (const Loop& loop : section) {
        Loop& larger = result.emplace_back();
        for (std::size_t j = 0; j < loop.size(); ++j) {
            larger.push_back(loop[j]);
            if (loop[j].radius > 2 * by) larger.back().radius += loop[j].ccw ? by : -by;
            growCorner(larger, loop[j], loop[(j + 1) % loop.size()], by);
        }
        for (std::size_t j = 0; j < larger.size(); ++j)
            larger[(j + 1) % larger.size()].from = larger[j].to;
    }
    return result;
}

/// A segment in its place, with the rectangle round it: most pairs of segments are far from each other.
struct OutlineSide {
    const Segment* segment;
    std::size_t loop, number;
    Rectangle bounds;
};

std::vector<OutlineSide> sidesOf(const Section& section) {
    std::vector<OutlineSide> sides;
    std::size_t count = 0;
    for (const Loop& loop : section)
        count += loop.size();
    sides.reserve(count);
    for (std::size_t i = 0; i < section.size(); ++i) {
        for (std::size_t j = 0; j < section[i].size(); ++j)
            sides.push_back({&section[i][j], i, j, rectangleRound(section[i][j])});
    }
    return sides;
}

/// Whether two sides may meet, within rounding.
bool mayMeet(const OutlineSide& a, const OutlineSide& b, double within = kCrossingRounding) {
    return a.bounds.low.z <= b.bounds.high.z + within && b.bounds.low.z <= a.bounds.high.z + within &&
           a.bounds.low.r <= b.bounds.high.r + within && b.bounds.low.r <= a.bounds.high.r + within;
}

/// Whether a corner of one section lies on the outline of the other: then crossings cannot be counted on.
bool cornerTouches(const std::vector<OutlineSide>& a, const std::vector<OutlineSide>& b, double within) {
    for (const OutlineSide& corner : a) {
        const Vec2 p = corner.segment->from;
        for (const OutlineSide& side : b) {
            if (p.z < side.bounds.low.z - within || p.z > side.bounds.high.z + within ||
                p.r < side.bounds.low.r - within || p.r > side.bounds.high.r + within)
                continue;
            if (distance(p, nearestOn(*side.segment, p)) < within) return true;
        }
    }
    return false;
}

/// Whether two arcs or an arc and a line only brush each other.
bool brushes(const std::vector<OutlineSide>& a, const std::vector<OutlineSide>& b) {
    for (const OutlineSide& sa : a) {
        for (const OutlineSide& sb : b) {
            if ((!sa.segment->isArc() && !sb.segment->isArc()) || !mayMeet(sa, sb)) continue;
            const Crossings found = crossings(*sa.segment, *sb.segment);
            if (found.count == 2 && distance(found.list[0].point, found.list[1].point) < kBrush) return true;
        }
    }
    return false;
}

/// The places each segment is cut at, in step with the section's loops and segments.
struct Cut {
    double share;
    Vec2 point;
};
using Cuts = std::vector<std::vector<std::vector<Cut>>>;

Cuts noCuts(const Section& section) {
    Cuts cuts(section.size());
    for (std::size_t i = 0; i < section.size(); ++i)
        cuts[i].resize(section[i].size());
    return cuts;
}

std::vector<Segment> pieces(const Section& section, Cuts& cuts) {
    std::vector<Segment> result;
    std::size_t count = 0;
    for (const auto& loop : cuts) {
        for (const auto& at : loop)
            count += 1 + at.size();
    }
    result.reserve(count);
    for (std::size_t i = 0; i < section.size(); ++i) {
        for (std::size_t j = 0; j < section[i].size(); ++j) {
            const Segment& s = section[i][j];
            std::vector<Cut>& at = cuts[i][j];
            std::sort(at.begin(), at.end(), [](const Cut& p, const Cut& q) { return p.share < q.share; });
            Vec2 from = s.from;
            for (const Cut& cut : at) {
                result.push_back(stretch(s, from, cut.point));
                from = cut.point;
            }
            result.push_back(stretch(s, from, s.to));
        }
    }
    return result;
}

/// Whether a loop is only a line there and back.
bool isSliver(const Loop& loop) {
    if (loop.size() < 2) return true;
    double around = 0;
    for (const Segment& s : loop)
        around += arcLength(s);
    return std::abs(enclosedArea(loop)) < kFilm * around;
}

/// Joins pieces end to start; every end is, to the bit, the start of one other piece. Nothing when it is not.
std::optional<Section> stitched(std::vector<Segment> pieces) {
    Section result;
    while (!pieces.empty()) {
        Loop loop;
        loop.reserve(pieces.size());
        loop.push_back(pieces.back());
        pieces.pop_back();
        while (!(loop.back().to == loop.front().from)) {
            const auto next = std::find_if(pieces.begin(), pieces.end(),
                                           [&](const Segment& s) { return s.from == loop.back().to; });
            if (next == pieces.end()) return std::nullopt;
            loop.push_back(*next);
            pieces.erase(next);
        }
        result.push_back(tidied(loop));
    }
    std::erase_if(result, isSliver);
    // A later step must not depend on the order in which pieces happened to be found.
    for (Loop& loop : result) {
        const auto first = std::min_element(loop.begin(), loop.end(), [](const Segment& p, const Segment& q) {
            return p.from.r != q.from.r ? p.from.r < q.from.r : p.from.z < q.from.z;
        });
        std::rotate(loop.begin(), first, loop.end());
    }
    std::sort(result.begin(), result.end(), [](const Loop& p, const Loop& q) {
        const Vec2 a = p.front().from;
        const Vec2 b = q.front().from;
        return a.z != b.z ? a.z < b.z : a.r < b.r;
    });
    return result;
}

enum class Keep { Outside, Inside };

std::optional<Section> cutAndStitched(const Section& a, const Section& b,
                                      const std::vector<OutlineSide>& sidesA,
                                      const std::vector<OutlineSide>& sidesB, Keep keepOfA) {
    Cuts cutsA = noCuts(a);
    Cuts cutsB = noCuts(b);
    for (const OutlineSide& sa : sidesA) {
        for (const OutlineSide& sb : sidesB) {
            if (!mayMeet(sa, sb)) continue;
            for (const Crossing& c : crossings(*sa.segment, *sb.segment)) {
                cutsA[sa.loop][sa.number].push_back({c.ta, c.point});
                cutsB[sb.loop][sb.number].push_back({c.tb, c.point});
            }
        }
    }
    std::vector<Segment> kept;
    kept.reserve(sidesA.size() + sidesB.size());
    for (const Segment& s : pieces(a, cutsA)) {
        if (contains(b, pointAt(s, 0.5)) == (keepOfA == Keep::Inside)) kept.push_back(s);
    }
    for (const Segment& s : pieces(b, cutsB)) {
        if (contains(a, pointAt(s, 0.5))) kept.push_back(keepOfA == Keep::Inside ? s : reversed(s));
    }
    return stitched(std::move(kept));
}

/// Parts of `a` may have been cut with a tool enlarged by `standsOver` mm.
Intersection combined(const Section& a, const Section& b, Keep keepOfA, double standsOver = 0) {
    // Where outlines coincide the tool is enlarged by nanometres, so that films of no thickness vanish. Where
    // that slides a corner along what it touches, the tool is moved too, by less than it grew.
    const std::vector<OutlineSide> sides = sidesOf(a);
    for (int attempt = 0; attempt < kMostNudges; ++attempt) {
        const double nudge = sectionNudge(attempt);
        const double aside = attempt % 2 == 0 ? 0.35 * nudge : 0;
        const double by = attempt == 0 ? 0 : standsOver + nudge;
        const double way = 2.4 * attempt;  // the golden angle: no two ways are alike
        const Section tool =
            attempt == 0 ? b : moved(grown(b, by), aside * Vec2{std::cos(way), std::sin(way)});
        // Slivers that run nearly along each other separate slowly; so late attempts accept any gap above
        // rounding.
        const double within = attempt == 0                ? kFilm + standsOver
                              : attempt < kMostNudges / 2 ? kFilm
                                                          : kCrossingRounding;
        const std::vector<OutlineSide> toolSides = sidesOf(tool);
        if (cornerTouches(sides, toolSides, within) || cornerTouches(toolSides, sides, within) ||
            brushes(sides, toolSides))
            continue;
        if (std::optional<Section> result = cutAndStitched(a, tool, sides, toolSides, keepOfA))
            return {*std::move(result), by + aside};
    }
    throw base::InputError(
        "two outlines of the ring run along each other so closely that they cannot be told apart; allowed: "
        "a channel, an edge or a hole a hundredth of a mm to the side");
}

}  // namespace

double shareAt(const Segment& s, Vec2 p) {
    if (!s.isArc()) {
        const Vec2 along = s.to - s.from;
        return dot(p - s.from, along) / dot(along, along);
    }
    if (p == s.from) return 0;
    if (p == s.to) return 1;
    return sweep(stretch(s, s.from, p)) / sweep(s);
}

Segment reversed(const Segment& s) {
    Segment result = s;
    result.from = s.to;
    result.to = s.from;
    result.ccw = !s.ccw;
    return result;
}

Segment stretch(const Segment& s, Vec2 from, Vec2 to) {
    Segment result = s;
    result.from = from;
    result.to = to;
    return result;
}

double enclosedArea(const Loop& loop) {
    double sum = 0;
    for (const Segment& s : loop) {
        sum += cross(s.from, s.to) / 2;
        if (!s.isArc()) continue;
        const double angle = sweep(s);
        sum += s.radius * s.radius * (angle - std::sin(angle)) / 2;
    }
    return sum;
}

Loop moved(Loop loop, Vec2 by) {
    for (Segment& s : loop) {
        s.from = s.from + by;
        s.to = s.to + by;
        s.centre = s.centre + by;
    }
    return loop;
}

Loop tidied(const Loop& loop) {
    const auto isNothing = [](const Segment& s) {
        return distance(s.from, s.to) < kFilm && !(s.isArc() && arcLength(s) > 10 * kFilm);
    };
    Loop result;
    result.reserve(loop.size());
    for (Segment s : loop) {
        if (!result.empty()) s.from = result.back().to;
        if (!isNothing(s)) result.push_back(s);
    }
    while (!result.empty()) {
        result.back().to = result.front().from;
        if (!isNothing(result.back())) break;
        result.pop_back();
    }
    const auto goesOn = [](const Segment& a, const Segment& b) {
        return !a.isArc() && !b.isArc() && a.tag == b.tag && dot(tangentAt(a, 0), tangentAt(b, 0)) > 0 &&
               std::abs(cross(tangentAt(a, 0), tangentAt(b, 0))) < kSameDirection;
    };
    for (std::size_t i = 0; result.size() > 2 && i < result.size();) {
        const std::size_t next = (i + 1) % result.size();
        if (!goesOn(result[i], result[next])) {
            ++i;
            continue;
        }
        result[i].to = result[next].to;
        result.erase(result.begin() + static_cast<std::ptrdiff_t>(next));
        if (next < i) --i;
    }
    return result;
}

Crossings crossingsWithCircle(const Segment& a, Vec2 centre, double radius) {
    Crossings result;
    const auto add = [&](Vec2 p) { result.list[result.count++] = {p, shareAt(a, p), 0}; };
    if (!a.isArc()) {
        const Vec2 along = a.to - a.from;
        const double l = length(along);
        const Vec2 u = (1 / l) * along;
        const Vec2 c = centre - a.from;
        const double height = cross(u, c);
        const double square = radius * radius - height * height;
        if (square < 0) return result;
        const double half = std::sqrt(square);
        for (const double at : {dot(u, c) - half, dot(u, c) + half}) {
            if (at >= 0 && at <= l) add(a.from + at * u);
        }
        return result;
    }
    // Seen from the smaller circle: an outside that is all but flat has its centre far away.
    const bool fromA = a.radius <= radius;
    const Vec2 near = fromA ? a.centre : centre;
    const double small = fromA ? a.radius : radius;
    const double large = fromA ? radius : a.radius;
    const Vec2 d = (fromA ? centre : a.centre) - near;
    const double l = length(d);
    if (l == 0 || l > large + small || l < large - small) return result;
    const double along = ((l - large) * (l + large) + small * small) / (2 * l);
    const double half = std::sqrt(std::max(0.0, small * small - along * along));
    const Vec2 u = (1 / l) * d;
    for (const double side : {-half, half}) {
        const Vec2 p = near + along * u + side * Vec2{-u.r, u.z};
        if (onSweep(a, p)) add(p);
    }
    return result;
}

Crossings crossings(const Segment& a, const Segment& b) {
    Crossings result;
    if (a.isArc() || b.isArc()) {
        const Segment& arc = b.isArc() ? b : a;
        const Segment& other = b.isArc() ? a : b;
        for (const Crossing& c : crossingsWithCircle(other, arc.centre, arc.radius)) {
            if (onSweep(arc, c.point)) {
                result.list[result.count++] = {c.point, shareAt(a, c.point), shareAt(b, c.point)};
            }
        }
        return result;
    }
    const Vec2 u = a.to - a.from;
    const Vec2 v = b.to - b.from;
    const double turn = cross(u, v);
    if (std::abs(turn) <= kParallel * length(u) * length(v)) return result;
    const Vec2 w = b.from - a.from;
    const double ta = cross(w, v) / turn;
    const double tb = cross(w, u) / turn;
    if (ta < 0 || ta > 1 || tb < 0 || tb > 1) return result;
    result.list[result.count++] = {a.from + ta * u, ta, tb};
    return result;
}

Section subtract(const Section& a, const Section& b) {
    return combined(a, b, Keep::Outside).section;
}
Section subtract(const Section& a, const Section& b, double larger) {
    return combined(a, b, Keep::Outside, larger).section;
}
Section intersect(const Section& a, const Section& b) {
    return combined(a, b, Keep::Inside).section;
}
Intersection intersection(const Section& a, const Section& b) {
    return combined(a, b, Keep::Inside);
}

}  // namespace bandwright::geometry
