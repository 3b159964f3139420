#include <algorithm>
#include <optional>
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

/// One measure for the whole ring, wherever the part is.
MetalPart ofRing(MetalPart part) {
    part.number = 0;
    return part;
}

void add(const StagedRing& ring, Measures& measures, std::string_view id, std::string label, double value,
         const char* unit, const MetalPart& at) {
    measures.push_back(countOf(numbered(id, at.number), std::move(label), ring.stage, value, unit, at.place,
                               at.tag, at.angle, at.number));
}

/// A metal whose alloys differ counts as not known and is asked for.
void measureNickel(const StagedRing& ring, const std::vector<MetalPart>& parts, Measures& measures) {
    const MetalPart* most = nullptr;
    const MetalPart* unknown = nullptr;
    for (const MetalPart& part : parts) {
        const auto& release = part.metal->nickelRelease;
        if (!release) {
            if (unknown == nullptr) unknown = &part;
        } else if (most == nullptr || release->value > most->metal->nickelRelease->value) {
            most = &part;
        }
    }
    if (most != nullptr) {
        add(ring, measures, "nickel-release", "Nickel given off to the skin",
            most->metal->nickelRelease->value, "ug/cm2 a week", ofRing(*most));
    }
    if (unknown != nullptr)
        add(ring, measures, "nickel-known", "Nickel of " + unknown->metal->name + " known", 0, "of 1",
            ofRing(*unknown));
}

/// The part or fill that holds the most lead, and the part that holds the most cadmium.
void measurePoisons(const StagedRing& ring, const std::vector<MetalPart>& parts,
                    const trade::Catalogue& catalogue, Measures& measures) {
    MetalPart lead = parts.front(), cadmium = parts.front();
    double mostLead = 0, mostCadmium = 0;
    const auto keep = [](double& most, MetalPart& at, const std::optional<trade::Sourced>& share,
                         const MetalPart& part) {
        if (!share || share->value <= most) return;
        most = share->value;
        at = part;
    };
    for (const MetalPart& part : parts) {
        keep(mostLead, lead, part.metal->lead, part);
        keep(mostCadmium, cadmium, part.metal->cadmium, part);
    }
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i) {
        const design::Channel& channel = ring.design.channels[i];
        if (!channel.fill) continue;
        const MetalPart fill{nullptr,
                             {geometry::Feature::ChannelFloor, i},
                             {channel.offset, geometry::outsideAt(ring.design, channel.offset)},
                             ring.quietAngle,
                             0};
        keep(mostLead, lead, catalogue.filler(channel.fill->filler)->lead, fill);
    }
    if (mostLead > 0) add(ring, measures, "lead-content", "Lead in the ring", mostLead, "%", ofRing(lead));
    if (mostCadmium > 0)
        add(ring, measures, "cadmium-content", "Cadmium in the ring", mostCadmium, "%", ofRing(cadmium));
}

/// The metal of the bore, where the ring has one that colours the skin.
void measureStain(const StagedRing& ring, const std::vector<MetalPart>& parts, Measures& measures) {
    const MetalPart& bore = ring.design.band.liner ? parts[1] : parts.front();
    if (!parts.front().metal->stainsSkin && !bore.metal->stainsSkin) return;
    add(ring, measures, "skin-stain", "Bore that colours the finger", bore.metal->stainsSkin ? 1 : 0, "of 1",
        ofRing(bore));
}

/// The volts that drive the less noble of two metals that touch: the liner the band, a tube both. A passive
/// one is not eaten, whatever drives it.
void measureGalvanic(const StagedRing& ring, const std::vector<MetalPart>& all, Measures& measures) {
    std::vector<MetalPart> parts = all;
    std::erase_if(parts, [](const auto& part) { return part.metal->substance == trade::Substance::Wood; });
    if (parts.size() < 2) return;  // wood carries no current
    const auto isTube = [](const MetalPart& part) { return part.tag.feature == geometry::Feature::TubeLip; };
    double most = 0;
    MetalPart eaten = parts.front();
    for (const MetalPart& base : parts) {
        for (const MetalPart& noble : parts) {
            const double volts = base.metal->anodicIndex.value - noble.metal->anodicIndex.value;
            if (volts <= most || base.metal->passive || (isTube(base) && isTube(noble))) continue;
            most = volts;
            eaten = base;
        }
    }
    add(ring, measures, "galvanic-pair", "Voltage that eats the less noble metal", most, "V", ofRing(eaten));
}

/// The section that a cutter has to go through, told in 18K gold: by its area and the hardness of each part.
void measureCutting(const StagedRing& ring, const std::vector<MetalPart>& parts, Measures& measures) {
    constexpr double kGoldHardness = 130;  // HV, 18K
    const MetalPart& band = parts.front();
    double section = geometry::properties(ring.plain.band).area * band.metal->hardness.value;
    if (ring.design.band.liner)
        section += geometry::properties(ring.plain.liner).area * parts[1].metal->hardness.value;
    add(ring, measures, "cut-off", "Section to cut to get the ring off", section / kGoldHardness,
        "mm2 of gold", band);
}

void measureMetals(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const std::vector<MetalPart> parts = metalParts(ring, catalogue);
    measureNickel(ring, parts, measures);
    measurePoisons(ring, parts, catalogue, measures);
    measureStain(ring, parts, measures);
    add(ring, measures, "band-hardness", "Hardness of the band", parts.front().metal->hardness.value, "HV",
        parts.front());
    measureCutting(ring, parts, measures);
    measureGalvanic(ring, parts, measures);
}

/// How many classes of toughness a stone has over what the closing asks: fair to be burnished, good to be
/// hammered, and one more to be hammered where it cleaves.
void measureToughness(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                      Measures& measures) {
    constexpr double kFair = 1, kGood = 2;
    const design::Setting& setting = ring.design.settings[i];
    if (!setting.stone) return;
    const trade::Gem& gem = *catalogue.gem(setting.stone->gem);
    const bool hammered = setting.closing == design::Closing::Hammered;
    const double asked = hammered ? kGood + (gem.perfectCleavage ? 1 : 0) : kFair;
    const double z = setting.placement.offset;
    measures.push_back(countOf(numbered("stone-toughness", i),
                               "Toughness of the stone" + ofSetting(ring.design, i) +
                                   (hammered ? " to be hammered in" : " to be burnished in"),
                               ring.stage, gem.toughness.value - asked, "classes",
                               {z, geometry::outsideAt(ring.design, z)}, {geometry::Feature::Girdle, i},
                               holeAngle(ring.design, i), i));
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
    count("fill-heat", "Heat limit of the adhesive in ", adhesive.serviceTemperature.value, "degrees C");
    count("fill-water", "Resistance to water of the fill of ",
          std::min(filler.waterResistance.value, adhesive.waterResistance.value), "of 2");
    count("fill-light", "Resistance to daylight of the fill of ",
          std::min(filler.lightResistance.value, adhesive.lightResistance.value), "of 2");
    count("fill-softness", "Hardness of the filler of ", filler.mohs.value, "Mohs");
    constexpr double kWhole = 1e-9;  // rounding; a part of a layer is one more to lay
    count("fill-layers", "Number of layers to fill ",
          std::ceil(channel.depth / adhesive.layer.value - kWhole), "layers");
    const double sunk = (1 - channel.fill->packing) * adhesive.shrinkage.value * channel.depth;
    measures.push_back(measureOf(numbered("fill-shrinkage", i), "Sink in curing of the fill of " + in,
                                 ring.stage, {sunk, top, top - geometry::Vec2{0, sunk}, tag, tag},
                                 ring.quietAngle, i));
}

}  // namespace

void measureMaterials(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    measureMetals(ring, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i)
        if (ring.design.channels[i].fill) measureFill(ring, i, catalogue, measures);
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i)
        measureToughness(ring, i, catalogue, measures);
}

}  // namespace bandwright::check
