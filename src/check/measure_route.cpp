#include <algorithm>
#include <cmath>
#include <optional>

#include "measure.hpp"

/// What a step of the route does to what is already in the ring.
namespace bandwright {

namespace {

/// degrees C that reach fills and stones while a tube is joined.
double heatOf(Join join) {
    switch (join) {
        case Join::Adhesive:
            return 25;
        case Join::Solder:
            return 650;  // the whole ring; easy silver solder, from memory
        case Join::LaserWeld:
            return 45;  // the ring is held in the fingers, which bear no more; from memory
    }
    return 0;
}

Vec2 topOf(const Design& design, double z) {
    return {z, outsideAt(design, z)};
}

Tag floorOf(std::size_t channel) {
    return {Feature::ChannelFloor, channel};
}

/// How far truing leaves the etched relief standing, where it comes after the etch.
void measureRelief(const StagedRing& ring, Measures& measures) {
    const Design& design = ring.design;
    if (!isBefore(design.route, Stage::Etched, Stage::Trued)) return;
    const double left = design.band.layers.etch - design.allowances.truing;
    const double outside = outsideRadius(design);
    measures.push_back(
        measureOf("etch-relief", "Etch that truing leaves", ring.stage,
                  {left, {0, outside}, {0, outside + left}, {Feature::Outside}, {Feature::Outside}},
                  ring.quietAngle, 0));
}

void measureEtchedFill(const StagedRing& ring, std::size_t i, const Catalogue& catalogue,
                       Measures& measures) {
    const Channel& channel = ring.design.channels[i];
    const double least = std::min(catalogue.filler(channel.fill->filler)->etchResistance.value,
                                  catalogue.adhesive(channel.fill->adhesive)->etchResistance.value);
    measures.push_back(countOf(
        numbered("etch-fill", i), "Resistance to the etch of the fill in " + channelName(ring.design, i),
        ring.stage, least, "of 2", topOf(ring.design, channel.offset), floorOf(i), ring.quietAngle, i));
}

void measureEtchedSetting(const StagedRing& ring, std::size_t i, const Catalogue& catalogue,
                          Measures& measures) {
    const Setting& setting = ring.design.settings[i];
    const bool tubed = hasTube(ring.piece, setting);
    const bool stoned = hasStone(ring.piece, setting);
    if (!tubed && !stoned) return;
    double least = 2;
    if (tubed) least = catalogue.metal(setting.tube->metal)->etchResistance.value;
    if (stoned) least = std::min(least, catalogue.gem(setting.stone->gem)->etchResistance.value);
    measures.push_back(countOf(
        numbered("etch-setting", i), "Resistance to the etch of tube and stone" + ofSetting(ring.design, i),
        ring.stage, least, "of 2", topOf(ring.design, setting.placement.offset),
        {tubed ? Feature::TubeLip : Feature::Girdle, i}, holeAngle(ring.design, i), i));
}

/// The fill whose adhesive stands the least heat, before the heat of the hottest join.
void measureHeatAtFills(const StagedRing& ring, const Catalogue& catalogue, Measures& measures) {
    const Design& design = ring.design;
    double heat = 0;
    for (const Setting& setting : design.settings)
        if (setting.tube && setting.tube->join != Join::Adhesive)
            heat = std::max(heat, heatOf(setting.tube->join));
    if (heat == 0) return;
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const Channel& channel = design.channels[i];
        if (!channel.fill) continue;
        const double stands = catalogue.adhesive(channel.fill->adhesive)->serviceTemperature.value;
        measures.push_back(countOf(numbered("join-heat-fill", i),
                                   "Room for the heat of the join in the fill of " + channelName(design, i),
                                   ring.stage, stands - heat, "degrees C", topOf(design, channel.offset),
                                   floorOf(i), ring.quietAngle, i));
    }
}

void measureHeatAtStone(const StagedRing& ring, std::size_t i, const Catalogue& catalogue,
                        Measures& measures) {
    const Setting& setting = ring.design.settings[i];
    if (!setting.stone) return;
    // Solder heats the whole ring; what else is hot, is so at its own tube.
    double heat = setting.tube ? heatOf(setting.tube->join) : 0;
    for (const Setting& other : ring.design.settings)
        if (other.tube && other.tube->join == Join::Solder) heat = heatOf(Join::Solder);
    if (heat <= heatOf(Join::Adhesive)) return;
    const double stands = catalogue.gem(setting.stone->gem)->heatResistance.value;
    measures.push_back(countOf(numbered("join-heat-stone", i),
                               "Room for the heat of the join in the stone" + ofSetting(ring.design, i),
                               ring.stage, stands - heat, "degrees C",
                               topOf(ring.design, setting.placement.offset), {Feature::Girdle, i},
                               holeAngle(ring.design, i), i));
}

/// From a tube that is welded to the nearest fill.
void measureWeldToFills(const StagedRing& ring, const RingSections& filled, std::size_t i,
                        Measures& measures) {
    const Setting& setting = ring.design.settings[i];
    if (!setting.tube || setting.tube->join != Join::LaserWeld) return;
    const auto outside =
        segmentsWhere(ring.bodies[i].tube, [](Tag tag) { return tag.feature == Feature::TubeOutside; });
    std::optional<Gap> nearest;
    for (const Section& fill : filled.fills) {
        const auto gap =
            shortest(outside, segmentsWhere(drilled(fill, ring.design, i), [](Tag) { return true; }));
        if (gap && (!nearest || gap->value < nearest->value)) nearest = gap;
    }
    if (!nearest) return;
    measures.push_back(measureOf(numbered("weld-to-fill", i),
                                 "From the weld to the fill" + ofSetting(ring.design, i), ring.stage,
                                 *nearest, holeAngle(ring.design, i), i));
}

}  // namespace

void measureEtching(const StagedRing& ring, const Catalogue& catalogue, Measures& measures) {
    measureRelief(ring, measures);
    for (std::size_t i = 0; ring.piece.filled && i < ring.design.channels.size(); ++i)
        if (ring.design.channels[i].fill) measureEtchedFill(ring, i, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i)
        measureEtchedSetting(ring, i, catalogue, measures);
}

void measureJoining(const StagedRing& ring, const Catalogue& catalogue, Measures& measures) {
    if (ring.piece.filled) measureHeatAtFills(ring, catalogue, measures);
    const bool welded = std::ranges::any_of(
        ring.design.settings, [](const Setting& s) { return s.tube && s.tube->join == Join::LaserWeld; });
    const RingSections filled =
        welded && ring.piece.filled ? sections(ring.design, ring.piece) : RingSections{};
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        if (ring.piece.set) measureHeatAtStone(ring, i, catalogue, measures);
        measureWeldToFills(ring, filled, i, measures);
    }
}

}  // namespace bandwright
