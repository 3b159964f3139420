#pragma once

#include <cstdint>
#include <optional>

#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "random_design.hpp"

namespace bandwright {

/// A design by lot that can be built and is of known materials.
inline std::optional<Design> drawn(std::uint64_t seed) {
    Design design = randomDesign(seed);
    const Design usual;
    if (design.band.liner) design.band.liner->metal = Liner{}.metal;
    design.band.metal = usual.band.metal;
    if (design.band.surface.treatment == Treatment::Blackened)
        design.band.surface.treatment = Treatment::None;
    for (Channel& c : design.channels) {
        if (!c.fill) continue;
        c.fill->filler = Fill{}.filler;
        c.fill->adhesive = Fill{}.adhesive;
    }
    for (Setting& s : design.settings) {
        if (s.tube) s.tube->metal = Tube{}.metal;
        if (s.stone) s.stone->gem = Stone{}.gem;
    }
    try {
        requireBuildable(design);
    } catch (const InputError&) {
        return std::nullopt;
    }
    return design;
}

}  // namespace bandwright
