#include <algorithm>

#include "geometry/tolerance.hpp"
#include "measure.hpp"

/// Distances to a hole are those of the plane through its middle (see `drilled`).
namespace bandwright::check {

namespace {

/// What the functions below need of one setting.
struct HoleInRing {
    const StagedRing& ring;
    std::size_t number;
    std::vector<geometry::Segment> wall;  ///< of the hole, where it stands in metal
    std::string of;                       ///< " of setting 2"

    const geometry::Section& band() const { return ring.drilled[number]; }
    double offset() const { return ring.design.settings[number].placement.offset; }

    void add(Measures& measures, const char* id, const std::string& label, const geometry::Gap& gap) const {
        measures.push_back(
            measureOf(numbered(id, number), label, ring.stage, gap, holeAngle(ring.design, number), number));
    }
};

/// When no edge is left beside the hole, its metal counts as zero.
geometry::Gap toEdge(const HoleInRing& hole, geometry::Side side) {
    const auto edge =
        geometry::segmentsWhere(hole.band(), [&](geometry::Tag tag) { return geometry::isEdge(tag, side); });
    if (const auto gap = shortest(hole.wall, edge)) return *gap;
    const double half = hole.ring.piece.band.width / 2;
    const geometry::Vec2 place{signOf(side) * half, geometry::outsideAt(hole.ring.design, hole.offset())};
    return {0, place, place, hole.wall.front().tag, {geometry::Feature::EdgeFace, side}};
}

void measureToEdge(const HoleInRing& hole, Measures& measures) {
    if (hole.wall.empty()) return;
    const geometry::Gap left = toEdge(hole, geometry::Side::Left);
    const geometry::Gap right = toEdge(hole, geometry::Side::Right);
    hole.add(measures, "hole-to-edge", "Metal between hole and edge" + hole.of,
             left.value < right.value ? left : right);
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
    return outline(hole.ring.plain.band) - outline(hole.band()) > geometry::kFilm;
}

/// A hole that opens into a channel leaves no land beside it on purpose.
void measureToChannels(const HoleInRing& hole, Measures& measures) {
    std::optional<geometry::Gap> best;
    for (std::size_t channel = 0; channel < hole.ring.design.channels.size(); ++channel) {
        if (opensInto(hole, channel)) continue;
        const auto gap = shortest(hole.wall, geometry::segmentsWhere(hole.band(), [&](geometry::Tag tag) {
                                      return geometry::channelOf(tag) == channel;
                                  }));
        if (gap && gap->value >= geometry::kFilm && (!best || gap->value < best->value)) best = gap;
    }
    if (best) hole.add(measures, "seat-to-channel", "Metal between hole and channel" + hole.of, *best);
}

void measureSeatFloor(const HoleInRing& hole, Measures& measures) {
    // Band and liner carry the seat together.
    const geometry::RingSections& plain = hole.ring.plain;
    std::vector<geometry::Segment> floors = geometry::segmentsWhere(hole.band(), geometry::isHoleFloor);
    std::vector<geometry::Segment> bore = geometry::segmentsWhere(hole.band(), geometry::isBore);
    if (!plain.liner.empty()) {
        const geometry::Section liner = geometry::drilled(plain.liner, hole.ring.design, hole.number);
        for (const geometry::Segment& s : geometry::segmentsWhere(liner, geometry::isHoleFloor))
            floors.push_back(s);
        bore = geometry::segmentsWhere(liner, geometry::isBore);
    }
    std::optional<geometry::Gap> gap = shortest(floors, bore);
    if (!gap) {
        // No flat in the metal: there is none, it lies in the fill, or it was cut away with the bore.
        const geometry::HoleProfile profile = geometry::settingHole(hole.ring.design, hole.number);
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
    const std::size_t count = ring.design.settings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const HoleInRing hole{
            ring, i,
            geometry::segmentsWhere(ring.drilled[i],
                                    [](geometry::Tag tag) { return geometry::isHoleWall(tag.feature); }),
            ofSetting(ring.design, i)};
        measureToEdge(hole, measures);
        measureToChannels(hole, measures);
        measureSeatFloor(hole, measures);
    }
}

}  // namespace bandwright::check
