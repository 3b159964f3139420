#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

#include "measure.hpp"

namespace bandwright::check {

namespace {

/// A metal of the ring and where it is.
struct MetalPart {
    const trade::Metal* metal;
    geometry::Tag tag;
    geometry::Vec2 place;
    double angle;
    std::size_t number;
};

std::vector<MetalPart> metalParts(const StagedRing& ring, const trade::Catalogue& catalogue) {
    const design::Design& design = ring.design;
    const double outside = design::outsideRadius(design);
    std::vector<MetalPart> parts{
        {catalogue.metal(design.band.metal), {geometry::Feature::Outside}, {0, outside}, ring.quietAngle, 0}};
    if (design.band.liner) {
        parts.push_back({catalogue.metal(design.band.liner->metal),
                         {geometry::Feature::Bore},
                         {0, design::boreRadius(design)},
                         ring.quietAngle,
                         0});
    }
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        if (!setting.tube) continue;
        const double z = setting.placement.offset;
        parts.push_back({catalogue.metal(setting.tube->metal),
                         {geometry::Feature::TubeLip, i},
                         {z, geometry::outsideAt(design, z)},
                         holeAngle(design, i),
                         i});
    }
    return parts;
}

void add(const StagedRing& ring, Measures& measures, std::string_view id, std::string label, double value,
         const char* unit, const MetalPart& at) {
    measures.push_back(countOf(numbered(id, at.number), std::move(label), ring.stage, value, unit, at.place,
                               at.tag, at.angle, at.number));
}

void measureMetals(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    std::vector<MetalPart> parts = metalParts(ring, catalogue);
    const MetalPart band = parts.front();
    MetalPart nickel = *std::max_element(parts.begin(), parts.end(), [](const auto& a, const auto& b) {
        return a.metal->nickelRelease.value < b.metal->nickelRelease.value;
    });
    nickel.number = 0;  // one for the whole ring
    add(ring, measures, "nickel-release", "Nickel given off to the skin", nickel.metal->nickelRelease.value,
        "ug/cm2 a week", nickel);
    add(ring, measures, "band-hardness", "Hardness of the band", band.metal->hardness.value, "HV", band);
    std::erase_if(parts, [](const auto& part) { return part.metal->substance == trade::Substance::Wood; });
    if (parts.size() < 2) return;  // wood carries no current
    const auto [noble, base] = std::minmax_element(
        parts.begin(), parts.end(),
        [](const auto& a, const auto& b) { return a.metal->anodicIndex.value < b.metal->anodicIndex.value; });
    MetalPart couple = *base;
    couple.number = 0;
    add(ring, measures, "galvanic-pair", "Voltage between the ring's metals",
        base->metal->anodicIndex.value - noble->metal->anodicIndex.value, "V", couple);
}

void measureFill(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                 Measures& measures) {
    const design::Channel& channel = ring.design.channels[i];
    const trade::Filler& filler = *catalogue.filler(channel.fill->filler);
    const trade::Adhesive& adhesive = *catalogue.adhesive(channel.fill->adhesive);
    const geometry::Tag tag{geometry::Feature::ChannelFloor, i};
    const geometry::Vec2 top{channel.offset, geometry::outsideAt(ring.design, channel.offset)};
    const std::string in = channelName(ring.design, i);
    const auto count = [&](std::string_view id, const std::string& label, double value, const char* unit) {
        measures.push_back(
            countOf(numbered(id, i), label + in, ring.stage, value, unit, top, tag, ring.quietAngle, i));
    };
    count("fill-heat", "Heat that is stood by the adhesive in ", adhesive.serviceTemperature.value,
          "degrees C");
    count("fill-water", "Resistance to water of the fill in ",
          std::min(filler.waterResistance.value, adhesive.waterResistance.value), "of 2");
    count("fill-light", "Resistance to daylight of the fill in ",
          std::min(filler.lightResistance.value, adhesive.lightResistance.value), "of 2");
    count("fill-softness", "Hardness of the fill in ", filler.mohs.value, "Mohs");
    count("fill-layers", "Layers of adhesive to fill ", channel.depth / adhesive.layer.value, "layers");
    const double sunk = (1 - channel.fill->packing) * adhesive.shrinkage.value * channel.depth;
    measures.push_back(measureOf(numbered("fill-shrinkage", i), "Depth lost in curing of the fill in " + in,
                                 ring.stage, {sunk, top, top - geometry::Vec2{0, sunk}, tag, tag},
                                 ring.quietAngle, i));
}

}  // namespace

void measureMaterials(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    measureMetals(ring, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i)
        if (ring.design.channels[i].fill) measureFill(ring, i, catalogue, measures);
}

}  // namespace bandwright::check
