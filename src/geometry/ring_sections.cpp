#include <algorithm>
#include <utility>

#include "arc.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "outline.hpp"
#include "setting.hpp"

namespace bandwright::geometry {

namespace {

/// What closes a fill at the top is its own surface, not the band's; where it ends on an edge face it is as
/// wide as the band.
Section asFill(Section section, std::size_t channel) {
    for (Loop& loop : section) {
        for (Segment& s : loop) {
            if (s.tag.feature == Feature::EdgeFace) continue;
            const Region region = regionOf(s.tag.feature);
            if (region == Region::Outside || region == Region::Edge) s.tag = {Feature::FillTop, channel};
        }
    }
    return section;
}

/// What a channel holds under the height to which it is filled; `whole` is the ring's outline.
Intersection asFilled(const design::Design& design, const Workpiece& piece, std::size_t channel,
                      const Loop& whole, const Section& cutter) {
    const double proud = design.channels[channel].fill->proud;
    const double over = piece.trued ? proud : std::max(0.0, proud) + design.allowances.fill;
    const Loop top = over > 0 ? bandOutline(piece.band, piece.bore, piece.outside + over) : whole;
    Intersection fill = intersection({top}, cutter);
    if (over >= 0) return fill;
    // A sunk fill ends where the outline would be if the whole ring were so much nearer to the axis.
    const Intersection sunk = intersection(fill.section, {moved(whole, {0, over})});
    return {sunk.section, std::max(fill.larger, sunk.larger)};
}

/// The wall on the other side of the tube's axis.
Loop mirrored(const Loop& loop) {
    Loop result;
    for (auto s = loop.rbegin(); s != loop.rend(); ++s)
        result.push_back(line({-s->to.z, s->to.r}, {-s->from.z, s->from.r}, s->tag));
    return result;
}

}  // namespace

RingSections sections(const design::Design& design, design::Stage stage) {
    return sections(design, workpiece(design, stage));
}

RingSections sections(const design::Design& design, const Workpiece& piece) {
    std::vector<Section> cutters;
    for (std::size_t i = 0; piece.channelled && i < design.channels.size(); ++i)
        cutters.push_back(channelCutter(design, i));

    RingSections result;
    const Loop whole = bandOutline(piece.band, piece.bore, piece.outside);
    result.band = {whole};
    if (piece.lined) {
        result.band = {linedBandOutline(piece.band, piece.joint, piece.outside)};
        result.liner = {linerOutline(piece.band, piece.bore, piece.joint)};
    }
    for (const Section& cutter : cutters) {
        result.band = subtract(result.band, cutter);
        if (piece.lined) result.liner = subtract(result.liner, cutter);
    }
    for (std::size_t i = 0; piece.filled && i < cutters.size(); ++i) {
        if (!design.channels[i].fill) continue;
        const Intersection filled = asFilled(design, piece, i, whole, cutters[i]);
        Section fill = filled.section;
        // Where channels run into each other the later one is cut through the fill of the earlier.
        for (std::size_t later = i + 1; later < cutters.size(); ++later)
            fill = subtract(fill, cutters[later], filled.larger);
        if (fill.empty()) continue;
        result.fills.push_back(asFill(std::move(fill), i));
        result.fillChannel.push_back(static_cast<std::uint16_t>(i));
    }
    return result;
}

Section drilled(const Section& plain, const design::Design& design, std::size_t setting) {
    return subtract(plain, meridian(settingHole(design, setting)));
}

Section drilledAt(const Section& plain, const design::Design& design, double angle) {
    Section result = plain;
    for (const HoleRow& row : holeRows(design)) {
        for (const double own : row.angles) {
            const Section outline = outlineAt(row.profile, angle - own);
            if (!outline.empty()) result = subtract(result, outline);
        }
    }
    return result;
}

SettingBodies settingBodies(const design::Design& design, std::size_t setting, design::Stage stage) {
    const design::Setting& s = design.settings[setting];
    const Vec2 axis{s.placement.offset, 0};
    const Workpiece piece = workpiece(design, stage);
    SettingBodies result;
    if (hasTube(piece, s)) {
        const Loop wall = tubeWall(design, setting, stage);
        result.tube = {moved(mirrored(wall), axis), moved(wall, axis)};
    }
    if (hasStone(piece, s)) {
        const Mesh stone = stoneMesh(*s.stone);
        const Vec2 seat = axis + Vec2{0, girdleHeight(design, setting, stone)};
        for (const Loop& loop : stoneOutline(stone, setting))
            result.stone.push_back(moved(loop, seat));
    }
    return result;
}

SettingSection sectionThrough(const design::Design& design, std::size_t setting, design::Stage stage) {
    const Workpiece piece = workpiece(design, stage);
    const RingSections plain = sections(design, piece);
    const auto left = [&](const Section& body) {
        return piece.drilled ? drilled(body, design, setting) : body;
    };
    SettingBodies bodies = settingBodies(design, setting, stage);
    SettingSection result{.band = left(plain.band),
                          .liner = left(plain.liner),
                          .fills = {},
                          .tube = std::move(bodies.tube),
                          .stone = std::move(bodies.stone)};
    for (const Section& fill : plain.fills)
        result.fills.push_back(left(fill));
    return result;
}

}  // namespace bandwright::geometry
