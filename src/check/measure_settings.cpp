#include <algorithm>

#include "geometry/floor_land.hpp"
#include "geometry/tolerance.hpp"
#include "measure.hpp"

/// Distances from a hole are those of the plane through its middle (see `drilled`). A floor alone may be cut
/// away in that plane and be left beside it: `landUnderRim`.
namespace bandwright::check {

namespace {

/// What the functions below need of one setting.
struct HoleInRing {
    const StagedRing& ring;
    std::size_t number;
    std::string of;                       ///< " of setting 2"
    geometry::Section body;               ///< band and liner, in the plane through the hole's middle
    std::vector<geometry::Segment> wall;  ///< of the hole, with its floors, where it stands in metal
    std::vector<geometry::Segment> bore;

    HoleInRing(const StagedRing& ring_, std::size_t number_)
        : ring(ring_), number(number_), of(ofSetting(ring.design, number)), body(ring.drilled[number]) {
        const geometry::Section& liner = ring.plain.liner;
        if (!liner.empty()) body = geometry::together(body, geometry::drilled(liner, ring.design, number));
        wall = where([](geometry::Tag tag) { return geometry::isHoleWall(tag.feature); });
        bore = where(geometry::isBore);
    }

    double offset() const { return ring.design.settings[number].placement.offset; }

    std::vector<geometry::Segment> where(auto&& test) const { return geometry::segmentsWhere(body, test); }

    std::optional<geometry::Gap> shortest(std::span<const geometry::Segment> from,
                                          std::span<const geometry::Segment> to) const {
        return geometry::shortestInside(body, from, to);
    }

    void add(Measures& measures, const char* id, const std::string& label, const geometry::Gap& gap) const {
        measures.push_back(
            measureOf(numbered(id, number), label, ring.stage, gap, holeAngle(ring.design, number), number));
    }
};

/// When no edge is left beside the hole, or nothing of the hole, since it is as wide as the band, its metal
/// counts as zero; when no straight way leads there through metal, there is none to count.
std::optional<geometry::Gap> toEdge(const HoleInRing& hole, geometry::Side side) {
    const auto edge = hole.where([&](geometry::Tag tag) { return geometry::isEdge(tag, side); });
    if (!edge.empty() && !hole.wall.empty()) return hole.shortest(hole.wall, edge);
    const double half = hole.ring.piece.band.width / 2;
    const geometry::Vec2 place{signOf(side) * half, geometry::outsideAt(hole.ring.design, hole.offset())};
    const geometry::Tag wall =
        hole.wall.empty() ? geometry::Tag(geometry::Feature::Pilot, hole.number) : hole.wall.front().tag;
    return geometry::Gap{0, place, place, wall, {geometry::Feature::EdgeFace, side}};
}

void measureToEdge(const HoleInRing& hole, Measures& measures) {
    std::optional<geometry::Gap> best;
    for (const geometry::Side side : kSides) {
        const auto gap = toEdge(hole, side);
        if (gap && (!best || gap->value < best->value)) best = gap;
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
    std::vector<geometry::Segment> beside;
    for (std::size_t channel = 0; channel < hole.ring.design.channels.size(); ++channel) {
        if (opensInto(hole, channel)) continue;
        const auto outline =
            hole.where([&](geometry::Tag tag) { return geometry::channelOf(tag) == channel; });
        const auto gap = shortest(hole.wall, outline);
        if (gap && gap->value >= geometry::kFilm) beside.insert(beside.end(), outline.begin(), outline.end());
    }
    if (const auto gap = hole.shortest(hole.wall, beside))
        hole.add(measures, "seat-to-channel", "Metal between hole and channel" + hole.of, *gap);
}

void measureSeatFloor(const HoleInRing& hole, Measures& measures) {
    // Band and liner carry the seat together.
    const geometry::RingSections& plain = hole.ring.plain;
    std::optional<geometry::Gap> gap = hole.shortest(hole.where(geometry::isHoleFloor), hole.bore);
    const double angle = holeAngle(hole.ring.design, hole.number);
    const geometry::HoleProfile profile = geometry::settingHole(hole.ring.design, hole.number);
    if (const auto way = geometry::landUnderRim(plain, {&profile, angle});
        way && (!gap || way->value < gap->value)) {
        measures.push_back({numbered("seat-floor", hole.number), "Floor under the seat" + hole.of,
                            hole.ring.stage, way->value, "mm", way->from, way->to, way->fromTag, way->toTag,
                            static_cast<std::uint16_t>(hole.number)});
        return;
    }
    if (!gap) {
        // No flat in the metal: there is none, it lies in the fill, or it was cut away with the bore.
        const auto inside = geometry::boreAt(plain, hole.offset());
        for (const geometry::HolePiece& piece : profile.pieces) {
            if (!geometry::isHoleFloor(piece.tag) || !inside || piece.x0 > *inside) continue;
            const geometry::Vec2 place{hole.offset(), *inside};
            gap = geometry::Gap{0, place, place, piece.tag, {geometry::Feature::Bore}};
        }
    }
    if (gap) hole.add(measures, "seat-floor", "Floor under the seat" + hole.of, *gap);
}

}  // namespace

void measureSettings(const StagedRing& ring, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        const HoleInRing hole(ring, i);
        measureToEdge(hole, measures);
        measureToChannels(hole, measures);
        measureSeatFloor(hole, measures);
    }
}

}  // namespace bandwright::check
