#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <span>
#include <utility>
#include <vector>

#include "geometry/floor_land.hpp"
#include "geometry/tolerance.hpp"
#include "holes_round.hpp"
#include "measure.hpp"

/// Distances from a hole are those of the plane through its middle (see `drilled`), at the first hole of its
/// row where no other hole lies in the way. Where one does at all of them there is no such wall: on one side
/// of that hole the metal is at most half as thick, and is told as its own. A floor alone may be cut away in
/// that plane and be left beside it: `landUnderRim`.
namespace bandwright::check {

namespace {

/// A way through metal in the half-plane at an angle in radians round the band.
struct Wall {
    geometry::Gap gap;
    double angle = 0;
};

/// The half-plane through the middle of one hole of a row, and what stands in it.
struct Plane {
    std::size_t hole;
    double angle;  ///< radians
    std::vector<Holes::Beside> beside;
};

/// What the functions below need of one setting.
struct HoleInRing {
    const StagedRing& ring;
    const Holes& holes;
    std::size_t number;
    std::string of;                       ///< " of setting 2"
    geometry::Section body;               ///< band and liner, in the plane through the hole's middle
    std::vector<geometry::Segment> wall;  ///< of the hole, with its floors, where it stands in metal
    std::vector<Plane> planes;            ///< through holes of its row, of like ones the first

    HoleInRing(const StagedRing& ring_, const Holes& holes_, std::size_t number_)
        : ring(ring_),
          holes(holes_),
          number(number_),
          of(ofSetting(ring.design, number)),
          body(ring.drilled[number]) {
        const geometry::Section& liner = ring.plain.liner;
        if (!liner.empty()) body = geometry::together(body, geometry::drilled(liner, ring.design, number));
        wall = where([](geometry::Tag tag) { return geometry::isHoleWall(tag.feature); });
        findPlanes();
    }

    double offset() const { return ring.design.settings[number].placement.offset; }

    std::vector<geometry::Segment> where(auto&& test) const { return geometry::segmentsWhere(body, test); }

    bool isOwnWall(geometry::Tag tag) const {
        return geometry::isHoleWall(tag.feature) && geometry::settingOf(tag) == number;
    }

    /// The angle of the first hole at which no other lies in the way that `wayAt` gives for an angle.
    std::optional<double> clearAngleOf(auto&& wayAt) const {
        for (const Plane& plane : planes) {
            const auto [from, to] = wayAt(plane.angle);
            if (!holes.anyRunsThrough(from, to, OneHole{number, plane.hole})) return plane.angle;
        }
        return std::nullopt;
    }

    /// The shortest way between segments with these tags; what is left of it between other holes where it is
    /// not longer, or `longer` ones are wanted too.
    std::optional<Wall> shortest(auto&& isFrom, auto&& isTo, bool longer = false) const {
        const auto gap = geometry::shortestInside(body, where(isFrom), where(isTo));
        if (!gap) return std::nullopt;
        const auto wayAt = [&](double at) { return std::pair{placed(gap->from, at), placed(gap->to, at)}; };
        if (const auto angle = clearAngleOf(wayAt)) return Wall{*gap, *angle};
        const Sought beside = shortestBesideOthers(isFrom, isTo);
        // Of a floor in such a place no less is left than if it were whole.
        if (longer && !beside.isAll) return Wall{*gap, planes.front().angle};
        constexpr double kSame = 1e-6;  // mm: the outlines of other holes are drawn as arcs
        const bool counts = beside.least && (longer || beside.least->gap.value <= gap->value + kSame);
        return counts ? beside.least : std::nullopt;
    }

    void add(Measures& measures, const char* id, const std::string& label, const Wall& wall_) const {
        measures.push_back(
            measureOf(numbered(id, number), label, ring.stage, wall_.gap, wall_.angle, number));
    }

  private:
    struct Sought {
        std::optional<Wall> least;
        bool isAll;  ///< false: some planes were left out, since they take too long
    };
    /// The same in the planes through the middles of its row, with all holes taken out.
    Sought shortestBesideOthers(auto&& isFrom, auto&& isTo) const {
        // The time grows with the square of the segments: where holes are many, it is kept in bounds.
        constexpr std::size_t kManyHoles = 60, kMostPlanes = 4, kMostSegments = 150;
        std::size_t all = 0;
        for (const RowOfHoles& row : holes.rows)
            all += row.size();
        const std::size_t mostPlanes = all > kManyHoles ? kMostPlanes : planes.size();
        const std::size_t mostSegments =
            all > kManyHoles ? kMostSegments : std::numeric_limits<std::size_t>::max();
        Sought sought{std::nullopt, planes.size() <= mostPlanes};
        for (const Plane& plane : std::span(planes).first(std::min(planes.size(), mostPlanes))) {
            const geometry::Section left = cutBy(plane.beside);
            // A hole all the way through between them leaves two pieces.
            const auto hasBoth = [&](const geometry::Loop& loop) {
                const auto tagOf = [](const geometry::Segment& segment) { return segment.tag; };
                return std::ranges::any_of(loop, isFrom, tagOf) && std::ranges::any_of(loop, isTo, tagOf);
            };
            if (std::ranges::none_of(left, hasBoth)) continue;
            if (geometry::segmentsWhere(left, [](auto) { return true; }).size() > mostSegments) {
                sought.isAll = false;
                continue;
            }
            const auto gap = geometry::shortestInside(left, geometry::segmentsWhere(left, isFrom),
                                                      geometry::segmentsWhere(left, isTo));
            if (gap && (!sought.least || gap->value < sought.least->gap.value))
                sought.least = Wall{*gap, plane.angle};
        }
        return sought;
    }

    /// Round an even row all planes are the same, and one is enough.
    void findPlanes() {
        const RowOfHoles& row = holes.rows[number];
        for (std::size_t i = 0; i < row.size(); ++i) {
            std::vector<Holes::Beside> beside = holes.beside(row.angle(i));
            const auto isKnown = [&](const Plane& known) { return isSame(known.beside, beside); };
            if (std::ranges::none_of(planes, isKnown))
                planes.push_back({i, radians(row.angle(i)), std::move(beside)});
        }
    }

    static bool isSame(const std::vector<Holes::Beside>& a, const std::vector<Holes::Beside>& b) {
        return std::ranges::equal(a, b, [](const Holes::Beside& one, const Holes::Beside& other) {
            return one.setting == other.setting && std::abs(one.turn - other.turn) < kEquallyNear;
        });
    }

    /// Band and liner, without these holes.
    geometry::Section cutBy(const std::vector<Holes::Beside>& beside) const {
        geometry::Section band = ring.plain.band, liner = ring.plain.liner;
        for (const auto& [setting, turn] : beside) {
            const geometry::Section outline = geometry::outlineAt(holes.profiles[setting], radians(-turn));
            if (outline.empty()) continue;
            band = geometry::subtract(band, outline);
            if (!liner.empty()) liner = geometry::subtract(liner, outline);
        }
        return liner.empty() ? band : geometry::together(band, liner);
    }
};

geometry::Vec3 turned(const geometry::Vec3& p, double angle) {
    const double c = std::cos(angle), n = std::sin(angle);
    return {p.x * c - p.y * n, p.x * n + p.y * c, p.z};
}

/// When no edge is left beside the hole, or nothing of the hole, since it is as wide as the band, its metal
/// counts as zero; when no straight way leads there through metal, there is none to count.
std::optional<Wall> toEdge(const HoleInRing& hole, geometry::Side side) {
    const auto isEdge = [&](geometry::Tag tag) { return geometry::isEdge(tag, side); };
    if (!hole.where(isEdge).empty() && !hole.wall.empty())
        return hole.shortest([&](geometry::Tag tag) { return hole.isOwnWall(tag); }, isEdge);
    const double half = hole.ring.piece.band.width / 2;
    const geometry::Vec2 place{signOf(side) * half, geometry::outsideAt(hole.ring.design, hole.offset())};
    const geometry::Tag wall =
        hole.wall.empty() ? geometry::Tag(geometry::Feature::Pilot, hole.number) : hole.wall.front().tag;
    return Wall{{0, place, place, wall, {geometry::Feature::EdgeFace, side}},
                holeAngle(hole.ring.design, hole.number)};
}

void measureToEdge(const HoleInRing& hole, Measures& measures) {
    std::optional<Wall> best;
    for (const geometry::Side side : kSides) {
        const auto wall = toEdge(hole, side);
        if (wall && (!best || wall->gap.value < best->gap.value)) best = wall;
    }
    if (best) hole.add(measures, "hole-to-edge", "Metal between hole and edge" + hole.of, *best);
}

/// Whether a hole opens into a channel: then it takes some of the channel's outline. What it takes beside the
/// plane through its middle lies, turned into that plane, within what it takes there.
bool opensInto(const HoleInRing& hole, std::size_t channel) {
    const auto outline = [&](const geometry::Section& band) {
        double length = 0;
        for (const geometry::Segment& s : geometry::segmentsWhere(
                 band, [&](geometry::Tag tag) { return geometry::channelOf(tag) == channel; }))
            length += geometry::arcLength(s);
        return length;
    };
    const geometry::Section& drilled = hole.ring.drilled[hole.number];
    return outline(hole.ring.plain.band) - outline(drilled) > geometry::kFilm;
}

/// A hole that opens into a channel leaves no land beside it on purpose.
void measureToChannels(const HoleInRing& hole, Measures& measures) {
    std::vector<std::size_t> beside;
    for (std::size_t channel = 0; channel < hole.ring.design.channels.size(); ++channel) {
        if (opensInto(hole, channel)) continue;
        const auto outline =
            hole.where([&](geometry::Tag tag) { return geometry::channelOf(tag) == channel; });
        const auto gap = shortest(hole.wall, outline);
        if (gap && gap->value >= geometry::kFilm) beside.push_back(channel);
    }
    const auto seek = [&](const std::vector<std::size_t>& channels) {
        return hole.shortest([&](geometry::Tag tag) { return hole.isOwnWall(tag); },
                             [&](geometry::Tag tag) {
                                 const auto channel = geometry::channelOf(tag);
                                 return channel && std::ranges::find(channels, *channel) != channels.end();
                             });
    };
    std::optional<Wall> best = seek(beside);
    if (!best && beside.size() > 1) {
        for (const std::size_t channel : beside) {
            const auto wall = seek({channel});
            if (wall && (!best || wall->gap.value < best->gap.value)) best = wall;
        }
    }
    if (best) hole.add(measures, "seat-to-channel", "Metal between hole and channel" + hole.of, *best);
}

void measureSeatFloor(const HoleInRing& hole, Measures& measures) {
    // Band and liner carry the seat together.
    const geometry::RingSections& plain = hole.ring.plain;
    const auto isFloor = [&](geometry::Tag tag) {
        return geometry::isHoleFloor(tag) && geometry::settingOf(tag) == hole.number;
    };
    std::optional<Wall> floor = hole.shortest(isFloor, geometry::isBore, true);
    const geometry::HoleProfile profile = geometry::settingHole(hole.ring.design, hole.number);
    const auto rim = geometry::landUnderRim(plain, {&profile, 0});
    const auto rimAt = [&](double angle) {
        return std::pair{turned(rim->from, angle), turned(rim->to, angle)};
    };
    if (rim && (!floor || rim->value < floor->gap.value)) {
        if (const auto angle = hole.clearAngleOf(rimAt)) {
            const auto [from, to] = rimAt(*angle);
            measures.push_back({numbered("seat-floor", hole.number), "Floor under the seat" + hole.of,
                                hole.ring.stage, rim->value, "mm", from, to, rim->fromTag, rim->toTag,
                                static_cast<std::uint16_t>(hole.number)});
            return;
        }
    }
    if (!floor) {
        // No flat in the metal: there is none, it lies in the fill, or it was cut away with the bore.
        const auto inside = geometry::boreAt(plain, hole.offset());
        for (const geometry::HolePiece& piece : profile.pieces) {
            if (!geometry::isHoleFloor(piece.tag) || !inside || piece.x0 > *inside) continue;
            const geometry::Vec2 place{hole.offset(), *inside};
            floor = Wall{{0, place, place, piece.tag, {geometry::Feature::Bore}},
                         holeAngle(hole.ring.design, hole.number)};
        }
    }
    if (floor) hole.add(measures, "seat-floor", "Floor under the seat" + hole.of, *floor);
}

}  // namespace

void measureSettings(const StagedRing& ring, Measures& measures) {
    const Holes holes(ring);
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        const HoleInRing hole(ring, holes, i);
        measureToEdge(hole, measures);
        measureToChannels(hole, measures);
        measureSeatFloor(hole, measures);
    }
}

}  // namespace bandwright::check
