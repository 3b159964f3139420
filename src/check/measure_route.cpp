#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "measure.hpp"

/// What a step of the route does to what is already in the ring.
namespace bandwright::check {

namespace {

constexpr double kRoom = 25;  // degrees C

/// degrees C at which a solder flows.
double flowOf(design::Solder solder) {
    switch (solder) {
        case design::Solder::ExtraEasy:
            return 618;  // published, 56 % silver
        case design::Solder::Easy:
            return 718;  // this and the next two: common practice
        case design::Solder::Medium:
            return 750;
        case design::Solder::Hard:
            return 780;
    }
    return 0;
}

/// degrees C that reach fills and stones while a tube is joined.
double heatOf(const design::Tube& tube) {
    switch (tube.join) {
        case design::Join::Adhesive:
        case design::Join::Press:
            return kRoom;
        case design::Join::Solder:
            return flowOf(tube.solder);  // the whole ring
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

void measureEtchedFill(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                       Measures& measures) {
    const design::Channel& channel = ring.design.channels[i];
    const double least = std::min(catalogue.filler(channel.fill->filler)->etchResistance.value,
                                  catalogue.adhesive(channel.fill->adhesive)->etchResistance.value);
    measures.push_back(countOf(
        numbered("etch-fill", i), "Resistance to the etch of the fill of " + channelName(ring.design, i),
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

/// degrees C of the hottest join.
double hottestJoin(const design::Design& design) {
    double heat = kRoom;
    for (const design::Setting& setting : design.settings)
        if (setting.tube) heat = std::max(heat, heatOf(*setting.tube));
    return heat;
}

/// What each fill's adhesive stands, over the heat of the hottest join.
void measureHeatAtFills(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    const double heat = hottestJoin(design);
    if (heat <= kRoom) return;
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const design::Channel& channel = design.channels[i];
        if (!channel.fill) continue;
        const double stands = catalogue.adhesive(channel.fill->adhesive)->serviceTemperature.value;
        measures.push_back(countOf(numbered("join-heat-fill", i),
                                   "Heat to spare at the join in the fill of " + channelName(design, i),
                                   ring.stage, stands - heat, "degrees C", topOf(design, channel.offset),
                                   floorOf(i), ring.quietAngle, i));
    }
}

/// A glued liner may have any adhesive: the one that stands the most heat is taken.
void measureHeatAtLiner(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    const double heat = hottestJoin(design);
    if (!design.band.liner || design.band.liner->interference >= 0 || heat <= kRoom) return;
    double stands = 0;
    for (const trade::Adhesive& adhesive : catalogue.adhesives)
        stands = std::max(stands, adhesive.serviceTemperature.value);
    measures.push_back(countOf("join-heat-liner", "Heat to spare at the join under the glued liner",
                               ring.stage, stands - heat, "degrees C", {0, design::linerRadius(design)},
                               {geometry::Feature::LinerJoint}, ring.quietAngle, 0));
}

void measureHeatAtStone(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                        Measures& measures) {
    const design::Setting& setting = ring.design.settings[i];
    if (!setting.stone) return;
    // Solder heats the whole ring; other joins heat only their own tube.
    double heat = setting.tube ? heatOf(*setting.tube) : 0;
    for (const design::Setting& other : ring.design.settings)
        if (other.tube && other.tube->join == design::Join::Solder)
            heat = std::max(heat, heatOf(*other.tube));
    if (heat <= kRoom) return;
    const double stands = catalogue.gem(setting.stone->gem)->heatResistance.value;
    measures.push_back(countOf(
        numbered("join-heat-stone", i), "Heat to spare at the join in the stone" + ofSetting(ring.design, i),
        ring.stage, stands - heat, "degrees C", topOf(ring.design, setting.placement.offset),
        {geometry::Feature::Girdle, i}, holeAngle(ring.design, i), i));
}

/// The band, the liner and the tube, which the torch heats alike.
std::vector<const trade::Metal*> heatedMetals(const design::Design& design, const design::Tube& tube,
                                              const trade::Catalogue& catalogue) {
    std::vector<const trade::Metal*> metals{catalogue.metal(design.band.metal), catalogue.metal(tube.metal)};
    if (design.band.liner) metals.push_back(catalogue.metal(design.band.liner->metal));
    return metals;
}

void measureSoldering(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                      Measures& measures) {
    const design::Design& design = ring.design;
    const design::Tube& tube = *design.settings[i].tube;
    const std::vector<const trade::Metal*> metals = heatedMetals(design, tube, catalogue);
    const trade::Metal* least = *std::ranges::min_element(
        metals, {}, [](const trade::Metal* metal) { return metal->soldering.value; });
    const auto count = [&](std::string_view id, std::string label, double value, const char* unit) {
        measures.push_back(countOf(numbered(id, i), std::move(label), ring.stage, value, unit,
                                   topOf(design, design.settings[i].placement.offset),
                                   {geometry::Feature::TubeOutside, i}, holeAngle(design, i), i));
    };
    count("solder-metal", "Soldering of " + least->name + ofSetting(design, i), least->soldering.value,
          "of 2");
    const trade::Metal* first = nullptr;
    for (const trade::Metal* metal : metals)
        if (metal->melting && (first == nullptr || metal->melting->value < first->melting->value))
            first = metal;
    if (first == nullptr) return;
    count("solder-melt", "Heat to spare below the melting of " + first->name + ofSetting(design, i),
          first->melting->value - flowOf(tube.solder), "degrees C");
}

/// How a laser weld of two metals comes out: 2 sound, 1 weak, 0 none. Titanium and its like, which take up
/// gases, weld to each other, weakly to precious metals and not to others; the rest among themselves.
double weldOf(const trade::Metal& one, const trade::Metal& other) {
    const auto isReactive = [](const trade::Metal& metal) { return metal.soldering.value < 0.5; };
    if (one.substance != trade::Substance::Metal || other.substance != trade::Substance::Metal) return 0;
    if (isReactive(one) == isReactive(other)) return 2;
    const trade::Metal& plain = isReactive(one) ? other : one;
    return plain.precious != trade::Precious::None ? 1 : 0;
}

void measureWelding(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                    Measures& measures) {
    const design::Design& design = ring.design;
    const trade::Metal& band = *catalogue.metal(design.band.metal);
    const trade::Metal& tube = *catalogue.metal(design.settings[i].tube->metal);
    measures.push_back(countOf(numbered("weld-metal", i),
                               "Weld of " + tube.name + " to " + band.name + ofSetting(design, i), ring.stage,
                               weldOf(band, tube), "of 2", topOf(design, design.settings[i].placement.offset),
                               {geometry::Feature::TubeOutside, i}, holeAngle(design, i), i));
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
                                 "Metal between the weld and the fill" + ofSetting(ring.design, i),
                                 ring.stage, *nearest, holeAngle(ring.design, i), i));
}

}  // namespace

void measureEtching(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    for (std::size_t i = 0; ring.piece.filled && i < ring.design.channels.size(); ++i)
        if (ring.design.channels[i].fill) measureEtchedFill(ring, i, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i)
        measureEtchedSetting(ring, i, catalogue, measures);
}

void measureJoining(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    if (ring.piece.filled) measureHeatAtFills(ring, catalogue, measures);
    measureHeatAtLiner(ring, catalogue, measures);
    const bool welded = std::ranges::any_of(ring.design.settings, [](const design::Setting& s) {
        return s.tube && s.tube->join == design::Join::LaserWeld;
    });
    const geometry::RingSections filled =
        welded && ring.piece.filled ? geometry::sections(ring.design, ring.piece) : geometry::RingSections{};
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        if (ring.piece.set) measureHeatAtStone(ring, i, catalogue, measures);
        measureWeldToFills(ring, filled, i, measures);
        const auto& tube = ring.design.settings[i].tube;
        if (tube && tube->join == design::Join::Solder) measureSoldering(ring, i, catalogue, measures);
        if (tube && tube->join == design::Join::LaserWeld) measureWelding(ring, i, catalogue, measures);
    }
}

}  // namespace bandwright::check
