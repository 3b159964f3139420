#include "geometry/section.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "gauss.hpp"
#include "section_rows.hpp"

namespace bandwright::geometry {

namespace {

/// Raw moments of the area: integrals of 1, z, r, z z, r r, z r over the loop's inside.
struct Moments {
    double one = 0, z = 0, r = 0, zz = 0, rr = 0, zr = 0;
};

/// Adds the contour integrals of Green's theorem for one point of the outline: dA = closed integral of z dr.
void accumulate(Moments& sum, Vec2 p, double dr) {
    sum.one += p.z * dr;
    sum.z += p.z * p.z / 2 * dr;
    sum.r += p.z * p.r * dr;
    sum.zz += p.z * p.z * p.z / 3 * dr;
    sum.rr += p.z * p.r * p.r * dr;
    sum.zr += p.z * p.z / 2 * p.r * dr;
}

Moments moments(const Section& section) {
    Moments sum;
    for (const Loop& loop : section) {
        for (const Segment& s : loop)
            alongSegment(s, [&](Vec2 p, Vec2 step) { accumulate(sum, p, step.r); });
    }
    return sum;
}

/// Candidate feet of the shortest join that lie inside both segments.
void interiorFeet(const Segment& a, const Segment& b, auto&& offer) {
    if (!a.isArc() && !b.isArc()) return;  // two lines: an end of one is always among the nearest
    if (a.isArc() && b.isArc()) {
        const Vec2 d = b.centre - a.centre;
        const double l = length(d);
        if (l == 0) return;  // concentric: an end of one projects on the other
        const Vec2 u = (1 / l) * d;
        for (const double sa : {-1.0, 1.0}) {
            for (const double sb : {-1.0, 1.0}) {
                const Vec2 p = a.centre + sa * a.radius * u;
                const Vec2 q = b.centre + sb * b.radius * u;
                if (onSweep(a, p) && onSweep(b, q)) offer(p, q);
            }
        }
        return;
    }
    const Segment& arc = a.isArc() ? a : b;
    const Segment& straight = a.isArc() ? b : a;
    const Vec2 along = straight.to - straight.from;
    const double share = dot(arc.centre - straight.from, along) / dot(along, along);
    if (share < 0 || share > 1) return;
    const Vec2 foot = straight.from + share * along;
    const Vec2 d = foot - arc.centre;
    if (length(d) == 0) return;
    for (const double side : {-1.0, 1.0}) {
        const Vec2 p = arc.centre + (side * arc.radius / length(d)) * d;
        if (!onSweep(arc, p)) continue;
        if (a.isArc()) {
            offer(p, foot);
        } else {
            offer(foot, p);
        }
    }
}

}  // namespace

Segment line(Vec2 from, Vec2 to, Tag tag) {
    return {.from = from, .to = to, .centre = {}, .tag = tag};
}

Segment arcBySagitta(Vec2 from, Vec2 to, double sagitta, Tag tag) {
    const Vec2 chord = to - from;
    const double half = length(chord) / 2;
    const double radius = (half * half + sagitta * sagitta) / (2 * std::abs(sagitta));
    const Vec2 left = (1 / (2 * half)) * Vec2{-chord.r, chord.z};
    const Vec2 middle = 0.5 * (from + to);
    const double side = sagitta > 0 ? 1 : -1;
    return {.from = from,
            .to = to,
            .centre = middle + side * (radius - std::abs(sagitta)) * left,
            .radius = radius,
            .ccw = sagitta > 0,
            .tag = tag};
}

double sweep(const Segment& arc) {
    const Vec2 u = arc.from - arc.centre;
    const Vec2 v = arc.to - arc.centre;
    double angle = std::atan2(cross(u, v), dot(u, v));
    if (arc.ccw && angle < 0) angle += kTurn;
    if (!arc.ccw && angle > 0) angle -= kTurn;
    return angle;
}

bool onSweep(const Segment& arc, Vec2 p) {
    const Vec2 u = arc.from - arc.centre;
    const Vec2 v = arc.to - arc.centre;
    const Vec2 w = p - arc.centre;
    const double side = arc.ccw ? 1 : -1;
    const double turn = side * cross(u, v);
    const double afterStart = side * cross(u, w);
    const double beforeEnd = side * cross(w, v);
    const bool minor = turn > 0 || (turn == 0 && dot(u, v) > 0);
    return minor ? afterStart >= 0 && beforeEnd >= 0 : afterStart >= 0 || beforeEnd >= 0;
}

Vec2 pointAt(const Segment& s, double t) {
    if (t <= 0) return s.from;
    if (t >= 1) return s.to;
    if (!s.isArc()) return s.from + t * (s.to - s.from);
    const double angle = t * sweep(s);
    const double c = std::cos(angle);
    const double n = std::sin(angle);
    const Vec2 u = s.from - s.centre;
    return s.centre + Vec2{c * u.z - n * u.r, n * u.z + c * u.r};
}

Vec2 tangentAt(const Segment& s, double t) {
    return tangentOn(s, s.isArc() ? pointAt(s, t) : s.from);
}

Vec2 tangentOn(const Segment& s, Vec2 p) {
    if (!s.isArc()) return (1 / distance(s.from, s.to)) * (s.to - s.from);
    const Vec2 u = (1 / s.radius) * (p - s.centre);
    return s.ccw ? Vec2{-u.r, u.z} : Vec2{u.r, -u.z};
}

double arcLength(const Segment& s) {
    return s.isArc() ? s.radius * std::abs(sweep(s)) : distance(s.from, s.to);
}

bool contains(const Section& section, Vec2 p) {
    // Crossings of the ray towards +z. A line that goes up or down counts its lower end and not its upper; an
    // arc counts as its chord, and once more between chord and arc. A point on a line counts as a hair above
    // it, on an upright one as a hair to the right.
    bool inside = false;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            const Vec2 way = s.to - s.from;
            const double side = cross(way, p - s.from);
            const bool left = side != 0 ? side > 0 : way.z > 0 || (way.z == 0 && way.r < 0);
            const bool rises = way.r > 0;
            if ((s.from.r <= p.r) != (s.to.r <= p.r) && left == rises) inside = !inside;
            if (s.isArc() && left != s.ccw && distance(p, s.centre) < s.radius) inside = !inside;
        }
    }
    return inside;
}

double turnedArea(const Section& section) {
    double sum = 0;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            // A line's own centroid is its middle; an arc's lies off the centre by the chord over the sweep.
            double first = arcLength(s) * (s.from.r + s.to.r) / 2;
            if (s.isArc()) {
                const double side = s.ccw ? 1 : -1;
                first = arcLength(s) * s.centre.r - side * s.radius * (s.to.z - s.from.z);
            }
            sum += kTurn * first;
        }
    }
    return sum;
}

SectionProperties properties(const Section& section) {
    const Moments m = moments(section);
    SectionProperties result;
    if (m.one == 0) return result;
    result.area = m.one;
    result.centroid = {m.z / m.one, m.r / m.one};
    result.volume = kTurn * m.r;
    result.secondMomentZ = m.rr - m.r * m.r / m.one;
    result.secondMomentR = m.zz - m.z * m.z / m.one;
    result.productMoment = m.zr - m.z * m.r / m.one;
    result.surface = turnedArea(section);
    return result;
}

double areaOverRadius(const Section& section) {
    // Green's theorem: the closed integral of (z / r) dr.
    double sum = 0;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            if (s.isArc()) {
                alongSegment(s, [&](Vec2 p, Vec2 step) { sum += p.z / p.r * step.r; });
                continue;
            }
            const Vec2 way = s.to - s.from;
            if (way.r == 0) continue;
            const double log = std::log1p(way.r / s.from.r);
            sum += s.from.z * log + way.z * (1 - s.from.r / way.r * log);
        }
    }
    return sum;
}

Rectangle rectangleRound(const Segment& s) {
    Rectangle bounds{{std::min(s.from.z, s.to.z), std::min(s.from.r, s.to.r)},
                     {std::max(s.from.z, s.to.z), std::max(s.from.r, s.to.r)}};
    if (!s.isArc()) return bounds;
    if (onSweep(s, s.centre - Vec2{s.radius, 0})) bounds.low.z = s.centre.z - s.radius;
    if (onSweep(s, s.centre - Vec2{0, s.radius})) bounds.low.r = s.centre.r - s.radius;
    if (onSweep(s, s.centre + Vec2{s.radius, 0})) bounds.high.z = s.centre.z + s.radius;
    if (onSweep(s, s.centre + Vec2{0, s.radius})) bounds.high.r = s.centre.r + s.radius;
    return bounds;
}

double distance(const Rectangle& a, const Rectangle& b) {
    const double z = std::max({0.0, a.low.z - b.high.z, b.low.z - a.high.z});
    const double r = std::max({0.0, a.low.r - b.high.r, b.low.r - a.high.r});
    return length(Vec2{z, r});
}

Vec2 nearestOn(const Segment& s, Vec2 p) {
    if (!s.isArc()) {
        const Vec2 along = s.to - s.from;
        const double share = std::clamp(dot(p - s.from, along) / dot(along, along), 0.0, 1.0);
        return s.from + share * along;
    }
    const Vec2 d = p - s.centre;
    const double l = length(d);
    if (l > 0) {
        const Vec2 foot = s.centre + (s.radius / l) * d;
        if (onSweep(s, foot)) return foot;
    }
    return distance(p, s.from) <= distance(p, s.to) ? s.from : s.to;
}

Gap shortest(const Segment& a, const Segment& b) {
    Gap best{.value = std::numeric_limits<double>::infinity(),
             .from = {},
             .to = {},
             .fromTag = a.tag,
             .toTag = b.tag};
    const auto offer = [&](Vec2 p, Vec2 q) {
        const double d = distance(p, q);
        if (d < best.value) {
            best.value = d;
            best.from = p;
            best.to = q;
        }
    };
    for (const Crossing& c : crossings(a, b))
        offer(c.point, c.point);
    for (const Vec2 p : {a.from, a.to})
        offer(p, nearestOn(b, p));
    for (const Vec2 q : {b.from, b.to})
        offer(nearestOn(a, q), q);
    interiorFeet(a, b, offer);
    return best;
}

double touchingRadius(const Segment& s, Vec2 p, Vec2 n) {
    constexpr double kLeast = 1e-9;
    if (!s.isArc()) {
        const Vec2 inward = -1 * outwardAt(s, s.from);
        const double closing = 1 - dot(n, inward);
        return closing > kLeast ? dot(p - s.from, inward) / closing : kNever;
    }
    const Vec2 w = p - s.centre;
    const double within = s.radius * s.radius - dot(w, w);
    if (s.ccw) {
        const double closing = s.radius + dot(w, n);
        return closing > kLeast ? within / (2 * closing) : kNever;
    }
    const double closing = dot(w, n) - s.radius;
    return closing < -kLeast ? within / (2 * closing) : kNever;
}

double touchingRadius(Vec2 corner, Vec2 p, Vec2 n) {
    const Vec2 w = corner - p;
    const double ahead = dot(w, n);
    return ahead > 1e-9 ? dot(w, w) / (2 * ahead) : std::numeric_limits<double>::infinity();
}

}  // namespace bandwright::geometry
