#include <algorithm>
#include <cmath>
#include <optional>

#include "measure.hpp"

/// What a step of the route does to what is already in the ring.
namespace bandwright::check {

namespace {

/// degrees C that reach fills and stones while a tube is joined.
double heatOf(design::Join join) {
    switch (join) {
        case design::Join::Adhesive:
            return 25;
        case design::Join::Solder:
            return 650;  // the whole ring; easy silver solder, from memory
        case design::Join::LaserWeld:
            return 45;  // the ring is held in the fingers, which bear no more; from memory
    }
    return 0;
}

geometry::Vec2 topOf(const design::Design& design, double z) {
    return {z, geometry::outsideAt(design, z)};
}

geometry::Tag floorOf(std::size_t channel) {
    return {geometry::Feature::ChannelFloor, channel};
}

/// How far truing leaves the etched relief standing, where it comes after the etch.
void measureRelief(const StagedRing& ring, Measures& measures) {
    const design::Design& design = ring.design;
    if (!design::isBefore(design.route, design::Stage::Etched, design::Stage::Trued)) return;
    const double left = design.band.layers.etch - design.allowances.truing;
    const double outside = design::outsideRadius(design);
    measures.push_back(measureOf(
        "etch-relief", "Etch that truing leaves", ring.stage,
        {left, {0, outside}, {0, outside + left}, {geometry::Feature::Outside}, {geometry::Feature::Outside}},
        ring.quietAngle, 0));
}

void measureEtchedFill(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                       Measures& measures) {
    const design::Channel& channel = ring.design.channels[i];
    const double least = std::min(catalogue.filler(channel.fill->filler)->etchResistance.value,
                                  catalogue.adhesive(channel.fill->adhesive)->etchResistance.value);
    measures.push_back(countOf(
        numbered("etch-fill", i), "Resistance to the etch of the fill in " + channelName(ring.design, i),
        ring.stage, least, "of 2", topOf(ring.design, channel.offset), floorOf(i), ring.quietAngle, i));
}

void measureEtchedSetting(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                          Measures& measures) {
    const design::Setting& setting = ring.design.settings[i];
    const bool tubed = geometry::hasTube(ring.piece, setting);
    const bool stoned = geometry::hasStone(ring.piece, setting);
    if (!tubed && !stoned) return;
    double least = 2;
    if (tubed) least = catalogue.metal(setting.tube->metal)->etchResistance.value;
    if (stoned) least = std::min(least, catalogue.gem(setting.stone->gem)->etchResistance.value);
    measures.push_back(countOf(
        numbered("etch-setting", i), "Resistance to the etch of tube and stone" + ofSetting(ring.design, i),
        ring.stage, least, "of 2", topOf(ring.design, setting.placement.offset),
        {tubed ? geometry::Feature::TubeLip : geometry::Feature::Girdle, i}, holeAngle(ring.design, i), i));
}

/// The fill whose adhesive stands the least heat, before the heat of the hottest join.
void measureHeatAtFills(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    double heat = 0;
    for (const design::Setting& setting : design.settings)
        if (setting.tube && setting.tube->join != design::Join::Adhesive)
            heat = std::max(heat, heatOf(setting.tube->join));
    if (heat == 0) return;
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const design::Channel& channel = design.channels[i];
        if (!channel.fill) continue;
        const double stands = catalogue.adhesive(channel.fill->adhesive)->serviceTemperature.value;
        measures.push_back(countOf(numbered("join-heat-fill", i),
                                   "Room for the heat of the join in the fill of " + channelName(design, i),
                                   ring.stage, stands - heat, "degrees C", topOf(design, channel.offset),
                                   floorOf(i), ring.quietAngle, i));
    }
}

void measureHeatAtStone(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                        Measures& measures) {
    const design::Setting& setting = ring.design.settings[i];
    if (!setting.stone) return;
    // Solder heats the whole ring; other joins heat only their own tube.
    double heat = setting.tube ? heatOf(setting.tube->join) : 0;
    for (const design::Setting& other : ring.design.settings)
        if (other.tube && other.tube->join == design::Join::Solder) heat = heatOf(design::Join::Solder);
    if (heat <= heatOf(design::Join::Adhesive)) return;
    const double stands = catalogue.gem(setting.stone->gem)->heatResistance.value;
    measures.push_back(countOf(numbered("join-heat-stone", i),
                               "Room for the heat of the join in the stone" + ofSetting(ring.design, i),
                               ring.stage, stands - heat, "degrees C",
                               topOf(ring.design, setting.placement.offset), {geometry::Feature::Girdle, i},
                               holeAngle(ring.design, i), i));
}

/// From a tube that is welded to the nearest fill.
void measureWeldToFills(const StagedRing& ring, const geometry::RingSections& filled, std::size_t i,
                        Measures& measures) {
    const design::Setting& setting = ring.design.settings[i];
    if (!setting.tube || setting.tube->join != design::Join::LaserWeld) return;
    const auto outside = geometry::segmentsWhere(
        ring.bodies[i].tube, [](geometry::Tag tag) { return tag.feature == geometry::Feature::TubeOutside; });
    std::optional<geometry::Gap> nearest;
    for (const geometry::Section& fill : filled.fills) {
        const auto gap = shortest(outside, geometry::segmentsWhere(geometry::drilled(fill, ring.design, i),
                                                                   [](geometry::Tag) { return true; }));
        if (gap && (!nearest || gap->value < nearest->value)) nearest = gap;
    }
    if (!nearest) return;
    measures.push_back(measureOf(numbered("weld-to-fill", i),
                                 "From the weld to the fill" + ofSetting(ring.design, i), ring.stage,
                                 *nearest, holeAngle(ring.design, i), i));
}

}  // namespace

void measureEtching(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    measureRelief(ring, measures);
    for (std::size_t i = 0; ring.piece.filled && i < ring.design.channels.size(); ++i)
        if (ring.design.channels[i].fill) measureEtchedFill(ring, i, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i)
        measureEtchedSetting(ring, i, catalogue, measures);
}

void measureJoining(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    if (ring.piece.filled) measureHeatAtFills(ring, catalogue, measures);
    const bool welded = std::ranges::any_of(ring.design.settings, [](const design::Setting& s) {
        return s.tube && s.tube->join == design::Join::LaserWeld;
    });
    const geometry::RingSections filled =
        welded && ring.piece.filled ? geometry::sections(ring.design, ring.piece) : geometry::RingSections{};
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        if (ring.piece.set) measureHeatAtStone(ring, i, catalogue, measures);
        measureWeldToFills(ring, filled, i, measures);
    }
}

}  // namespace bandwright::check
