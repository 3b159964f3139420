#include <utility>

#include "measure.hpp"

namespace bandwright {

namespace {

Measure mass(const StagedRing& ring, std::string_view id, std::string label, double value, const char* unit,
             std::size_t number) {
    Measure result;
    result.id = numbered(id, number);
    result.label = std::move(label);
    result.stage = ring.stage;
    result.value = value;
    result.unit = unit;
    result.number = static_cast<std::uint16_t>(number);
    return result;
}

/// g/cm3 times mm3, in g.
double grams(double density, double volume) {
    return density * volume / 1000;
}

}  // namespace

void measureMasses(const StagedRing& ring, const Catalogue& catalogue, Measures& measures) {
    const Design& design = ring.design;
    const RingVolumes bodies = volumes(design, ring.plain);
    const double band = grams(catalogue.metal(design.band.metal)->density.value, bodies.band);
    double whole = band;
    measures.push_back(mass(ring, "band-mass", "Mass of the band", band, "g", 0));
    if (design.band.liner) {
        const double liner = grams(catalogue.metal(design.band.liner->metal)->density.value, bodies.liner);
        measures.push_back(mass(ring, "liner-mass", "Mass of the liner", liner, "g", 0));
        whole += liner;
    }
    for (std::size_t i = 0; i < bodies.fills.size(); ++i) {
        const std::size_t channel = ring.plain.fillChannel[i];
        const Fill& fill = *design.channels[channel].fill;
        const std::string place = " in " + channelName(design, channel);
        const double filler =
            grams(catalogue.filler(fill.filler)->density.value, fill.packing * bodies.fills[i]);
        const double adhesive =
            grams(catalogue.adhesive(fill.adhesive)->density.value, (1 - fill.packing) * bodies.fills[i]);
        measures.push_back(mass(ring, "filler-mass", "Filler" + place, filler, "g", channel));
        measures.push_back(mass(ring, "adhesive-mass", "Adhesive" + place, adhesive, "g", channel));
        whole += filler + adhesive;
    }
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const Setting& setting = design.settings[i];
        const std::string place = ofSetting(design, i);
        const auto count = static_cast<double>(placedAngles(setting.placement).size());
        if (setting.tube) {
            const double tube =
                grams(catalogue.metal(setting.tube->metal)->density.value, ring.bodies[i].tubeVolume);
            measures.push_back(mass(ring, "tube-mass", "Each tube" + place, tube, "g", i));
            whole += count * tube;
        }
        if (setting.stone) {
            constexpr double kCarat = 0.2;  // g; CGPM 1907
            const double stone =
                grams(catalogue.gem(setting.stone->gem)->density.value, ring.bodies[i].stoneVolume);
            measures.push_back(mass(ring, "stone-weight", "Each stone" + place, stone / kCarat, "ct", i));
            whole += count * stone;
        }
    }
    measures.push_back(mass(ring, "ring-mass", "Mass of the whole ring", whole, "g", 0));
}

}  // namespace bandwright
