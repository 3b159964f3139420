#include "scene/material.hpp"

#include <algorithm>
#include <cmath>

#include "base/input_error.hpp"
#include "stone_shape.hpp"

namespace bandwright::scene {

namespace {

// Share of light that 1 mm of a cabochon scatters even in a clear gem, because clean material is cut with
// facets. Chosen by eye.
constexpr double kSilk = 0.05;

template <class T>
const T& known(const T* entry, const std::string& kind, const std::string& id) {
    if (entry == nullptr) throw base::InputError("The " + kind + " \"" + id + "\" is not in the catalogue.");
    return *entry;
}

template <class Reflectance>
Skin skin(const Reflectance& at) {
    Skin skin{};
    for (std::size_t i = 0; i < skin.size(); ++i)
        skin[i] = at((static_cast<double>(i) + 0.5) / static_cast<double>(skin.size()));
    return skin;
}

std::optional<Skin> skinOf(const trade::Metal& metal, const design::Surface& surface) {
    if (surface.treatment == design::Treatment::Anodised && metal.anodising) {
        return skin(
            [&](double cosine) { return trade::filmColour(*metal.anodising, surface.oxide, cosine); });
    }
    if (surface.treatment == design::Treatment::Blackened && metal.blackOxide) {
        return skin([&](double cosine) {
            const double share = trade::surfaceReflectance(cosine, metal.blackOxide->value);
            return trade::LinearRgb{share, share, share};
        });
    }
    return std::nullopt;
}

Material metalLook(const trade::Metal& metal, const design::Surface& surface, const design::Layers& layers) {
    const ZoneFinishes finish = {surface.outside, surface.edges, surface.bore, design::Finish::Turned};
    if (metal.substance != trade::Substance::Metal) {
        return FibreLook{metal.substance == trade::Substance::Wood, metal.reflectance,
                         metal.layerReflectance.value_or(metal.reflectance), finish};
    }
    MetalLook look{metal.reflectance, metal.reflectance82, finish};
    if (metal.layerReflectance) look.layers = LayersLook{*metal.layerReflectance, layers};
    look.skin = skinOf(metal, surface);
    return look;
}

FillLook fillLook(const design::Design& design, const trade::Catalogue& catalogue,
                  const geometry::Part& part) {
    const trade::Filler& filler = known(catalogue.filler(part.material), "filler", part.material);
    FillLook look{filler.colour, filler.colour2};
    look.opalescent = filler.opalescent;
    look.glows = filler.glows;
    look.glow = filler.glowColour;
    if (part.source < design.channels.size() && design.channels[part.source].fill) {
        const design::Fill& fill = *design.channels[part.source].fill;
        look.grainLeast = fill.grainLeast;
        look.grainMost = fill.grainMost;
        look.packing = fill.packing;
    }
    return look;
}

GemLook gemLook(const design::Design& design, const trade::Catalogue& catalogue, const geometry::Part& part) {
    const trade::Gem& gem = known(catalogue.gem(part.material), "gem", part.material);
    std::string seat = design.band.metal;
    const bool set = part.source < design.settings.size();
    if (set && design.settings[part.source].tube) seat = design.settings[part.source].tube->metal;
    GemLook look{gem.refractiveIndex.value,
                 gem.dispersion.value,
                 gem.transmission,
                 {},
                 known(catalogue.metal(seat), "metal", seat).reflectance};
    look.cloud = gem.cloud;
    look.opalescent = gem.opalescent;
    if (set && design.settings[part.source].stone &&
        design.settings[part.source].stone->cut == design::StoneCut::Cabochon) {
        look.dome = domeOf(part.mesh);
        for (double& share : look.cloud)
            share = std::max(share, kSilk);
    } else {
        look.facets = facetPlanes(part.mesh);
    }
    return look;
}

}  // namespace

Zone zoneOf(geometry::Feature feature) {
    switch (geometry::regionOf(feature)) {
        case geometry::Region::Bore:
            return Zone::Bore;
        case geometry::Region::Ease:
        case geometry::Region::Edge:
            return Zone::Edges;
        case geometry::Region::LinerJoint:
        case geometry::Region::Channel:
        case geometry::Region::HoleSide:
        case geometry::Region::HoleFloor:
            return Zone::Cuts;
        case geometry::Region::Outside:
        case geometry::Region::FillTop:
        case geometry::Region::Tube:
        case geometry::Region::Stone:
            break;
    }
    return Zone::Outside;
}

double roughness(design::Finish finish) {
    switch (finish) {
        case design::Finish::Polished:
        case design::Finish::Hammered:
            return 0.08;
        case design::Finish::Turned:
            return 0.16;
        case design::Finish::Satin:
        case design::Finish::Brushed:
            return 0.32;
        case design::Finish::Blasted:
            return 0.5;
    }
    return 0;
}

Material materialOf(const design::Design& design, const trade::Catalogue& catalogue,
                    const geometry::Part& part) {
    constexpr design::Surface kPolished{design::Finish::Polished, design::Finish::Polished,
                                        design::Finish::Polished};
    switch (part.role) {
        case geometry::PartRole::Fill:
            return fillLook(design, catalogue, part);
        case geometry::PartRole::Stone:
            return gemLook(design, catalogue, part);
        case geometry::PartRole::Band:
            return metalLook(known(catalogue.metal(part.material), "metal", part.material),
                             design.band.surface, design.band.layers);
        case geometry::PartRole::Liner: {
            design::Surface surface = design.band.surface;
            surface.treatment = design::Treatment::None;
            return metalLook(known(catalogue.metal(part.material), "metal", part.material), surface, {});
        }
        case geometry::PartRole::Tube:
            return metalLook(known(catalogue.metal(part.material), "metal", part.material), kPolished, {});
    }
    return MetalLook{};
}

}  // namespace bandwright::scene
