#include "geometry/land.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "arc.hpp"
#include "geometry/tolerance.hpp"
#include "hole_cut.hpp"
#include "land_cells.hpp"
#include "latest.hpp"
#include "seen_hole.hpp"
#include "twin_land.hpp"
#include "unlike_land.hpp"

namespace bandwright::geometry {

namespace {

double widest(const HoleProfile& profile, double outside) {
    double radius = 0;
    for (const HolePiece& piece : profile.pieces)
        radius =
            std::max(radius, piece.isFlat() || piece.isCylinder()
                                 ? piece.radius1
                                 : piece.radius0 + slopeOf(piece) * (std::min(piece.x1, outside) - piece.x0));
    return radius;
}

Section mirrored(const Section& section) {
    Section result;
    for (const Loop& loop : section) {
        Loop other;
        for (auto s = loop.rbegin(); s != loop.rend(); ++s) {
            Segment segment = *s;
            segment.from = {-s->to.z, s->to.r};
            segment.to = {-s->from.z, s->from.r};
            segment.centre = {-s->centre.z, s->centre.r};
            other.push_back(segment);
        }
        result.push_back(std::move(other));
    }
    return result;
}

/// Where a way only just clears what it runs along, the last bit of an angle decides whether it is there, and
/// where in the ring an angle is counted from decides the last bit. So what is below a hundredth of what
/// tells angles apart is left out.
double rounded(double angle) {
    constexpr double kGrain = kSameAngle / 100;
    return std::round(angle / kGrain) * kGrain;
}

bool isTwin(const StandingHole& a, const StandingHole& b) {
    return a.profile == b.profile;
}

/// All that the land between two unlike holes follows from.
struct UnlikePair {
    // What mostly tells pairs apart comes first.
    double half = 0;  ///< radians between an axis and the middle of the pair; not negative
    LandEnds ends = LandEnds::Anywhere;
    HoleProfile a, b;
    std::vector<Section> metal;

    std::vector<const Section*> seen() const {
        std::vector<const Section*> result;
        for (const Section& section : metal)
            result.push_back(&section);
        return result;
    }
    SeenHole seenA() const { return {&a, std::cos(half), std::sin(half), 1}; }
    SeenHole seenB() const { return {&b, std::cos(half), -std::sin(half), -1}; }

    bool operator==(const UnlikePair&) const = default;
};

/// How far the axes of two holes are apart where their walls begin in the metal, mm; they part outwards.
double apartAtBore(std::span<const LandCell> cells, const UnlikePair& pair, double reach) {
    double level = kNever;
    for (const LandCell& cell : cells)
        level = std::min({level, cell.low.at(cell.from), cell.low.at(cell.to)});
    const double x = std::sqrt(std::max(0.0, square(level) - square(reach)));
    return planeNorm(2 * x * std::sin(pair.half), pair.a.offset - pair.b.offset);
}

/// Where one hole takes nothing but metal that the other takes too: their walls do not meet then, and no way
/// leads from one to the other. Looked for on the axis of each, or as near to it as there is metal, at the
/// outside or, for lands that end there, wherever holes have a mouth.
std::optional<Land> withinAnother(std::span<const LandCell> cells, const UnlikePair& pair) {
    const auto within = [&](const HoleProfile& inner, double innerSide, const HoleProfile& outer) {
        const HolePiece& last = inner.pieces.back();
        for (const LandCell& cell : cells) {
            if (pair.ends == LandEnds::AtOutside && !isMouth(cell.high)) continue;
            const double z = std::clamp(inner.offset, cell.from, cell.to);
            const double r = cell.high.at(z);
            if (std::abs(z - inner.offset) >= radiusAt(inner, r) || r <= inner.pieces.front().x0) continue;
            const double turn = 2 * pair.half;
            const double across = planeNorm(r * std::sin(turn), z - outer.offset);
            if (r * std::cos(turn) <= outer.pieces.front().x0 ||
                across >= radiusAt(outer, r * std::cos(turn)))
                continue;
            const Vec3 at{r * std::cos(pair.half), innerSide * r * std::sin(pair.half), z};
            return std::optional(Land{0, at, at, last.tag, outer.pieces.back().tag});
        }
        return std::optional<Land>();
    };
    if (const std::optional<Land> land = within(pair.a, 1, pair.b)) return land;
    return within(pair.b, -1, pair.a);
}

/// A search takes half a millisecond as a rule, and most numbers of a design that change leave most pairs as
/// they are.
Latest<UnlikePair, std::optional<Land>>& latestLands() {
    constexpr std::size_t kMost = 512;
    static Latest<UnlikePair, std::optional<Land>> latest(kMost, kMost);
    return latest;
}

}  // namespace

std::optional<Land> shortestLand(TurnedMetal metal, const StandingHole& a, const StandingHole& b,
                                 LandEnds ends, double below) {
    const double half = rounded(std::remainder(a.angle - b.angle, kTurn) / 2);
    if (std::abs(half) > kQuarter / 2 + kSameAngle) return std::nullopt;  // the finger lies between
    const double middle = b.angle + half;
    const Vec3 out{std::cos(middle), std::sin(middle), 0};
    const Vec3 round{-out.y, out.x, 0};
    const auto inRing = [&](const Vec3& p) { return p.x * out + p.y * round + Vec3{0, 0, p.z}; };

    double outside = 0;
    for (const Section* section : metal) {
        for (const Segment& s : segmentsWhere(*section, [](Tag) { return true; }))
            outside = std::max(outside, rectangleRound(s).high.r);
    }
    const double reachA = widest(*a.profile, outside), reachB = widest(*b.profile, outside);
    const double lowA = a.profile->offset - reachA, highA = a.profile->offset + reachA;
    const double lowB = b.profile->offset - reachB, highB = b.profile->offset + reachB;

    if (isTwin(a, b)) {
        std::vector<double> places{a.profile->offset};
        for (const HolePiece& piece : a.profile->pieces) {
            for (const double radius : {piece.radius0, piece.radius1}) {
                places.push_back(a.profile->offset - radius);
                places.push_back(a.profile->offset + radius);
            }
        }
        std::vector<LandCell> cells = cellsOf(metal, lowA, highA, std::move(places));
        const auto away = [&](const LandCell& cell) {
            return std::abs(std::clamp(a.profile->offset, cell.from, cell.to) - a.profile->offset);
        };
        std::sort(cells.begin(), cells.end(),
                  [&](const LandCell& p, const LandCell& q) { return away(p) < away(q); });
        const std::optional<TwinLand> twin =
            twinLand(*a.profile, std::max(std::abs(half), kSameAngle), cells, ends, below);
        if (!twin) return std::nullopt;
        const double side = half > 0 ? 1 : -1;
        const Vec3 end = twin->end;
        return Land{twin->value, inRing({end.x, side * end.y, end.z}), inRing({end.x, -side * end.y, end.z}),
                    twin->tag, twin->tag};
    }
    // Searched as seen from one side always, so that a ring and its mirror image measure alike.
    const double offA = a.profile->offset, offB = b.profile->offset;
    const bool flips = offA > offB || (offA == offB && offA < 0);
    const double round1 = half < 0 ? -1 : 1, along1 = flips ? -1 : 1;
    UnlikePair pair{std::abs(half), ends, *a.profile, *b.profile, {}};
    for (const Section* section : metal)
        pair.metal.push_back(flips ? mirrored(*section) : *section);
    double from = std::min(lowA, lowB), to = std::max(highA, highB);
    if (flips) {
        pair.a.offset = -offA;
        pair.b.offset = -offB;
        from = -std::exchange(to, -from);
    }
    const std::vector<LandCell> cells = cellsOf(pair.seen(), from, to, {});
    if (cells.empty()) return std::nullopt;
    const double apart = apartAtBore(cells, pair, std::max(reachA, reachB));
    if (apart - reachA - reachB > below) return std::nullopt;
    std::optional<Land> land;
    if (apart >= kSamePoint) {
        land = *latestLands().get(
            pair, [&] { return unlikeLand(cells, pair.seenA(), pair.seenB(), ends); },
            [](const auto&) { return std::size_t{1}; });
    }
    if (!land) land = withinAnother(cells, pair);
    if (!land || land->value >= below) return std::nullopt;
    const auto back = [&](const Vec3& p) { return inRing({p.x, round1 * p.y, along1 * p.z}); };
    land->from = back(land->from);
    land->to = back(land->to);
    return land;
}

bool runsThrough(const StandingHole& hole, const Vec3& from, const Vec3& to) {
    constexpr double kEnd = 1e-6;
    const Line line{from, to - from};
    SeenHole seen{hole.profile, std::cos(hole.angle), std::sin(hole.angle), 1};
    const auto first = hit(seen, line);
    seen.side = -1;
    const auto last = hit(seen, line);
    return first && last && first->w < 1 - kEnd && last->w > kEnd;
}

}  // namespace bandwright::geometry
