#pragma once

#include <cstdint>
#include <optional>
#include <random>

#include "base/input_error.hpp"
#include "design/field_table.hpp"
#include "design/locks.hpp"
#include "geometry/ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {

/// A design by lot that can be built and is of known materials.
inline std::optional<design::Design> drawn(std::uint64_t seed) {
    design::Design design = geometry::randomDesign(seed);
    const design::Design usual;
    if (design.band.liner) design.band.liner->metal = design::Liner{}.metal;
    design.band.metal = usual.band.metal;
    if (design.band.surface.treatment == design::Treatment::Blackened)
        design.band.surface.treatment = design::Treatment::None;
    for (design::Channel& c : design.channels) {
        if (!c.fill) continue;
        c.fill->filler = design::Fill{}.filler;
        c.fill->adhesive = design::Fill{}.adhesive;
    }
    for (design::Setting& s : design.settings) {
        if (s.tube) s.tube->metal = design::Tube{}.metal;
        if (s.stone) s.stone->gem = design::Stone{}.gem;
    }
    try {
        geometry::requireBuildable(design);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return design;
}

/// The design with about one field in four locked, by lot.
inline design::Design withLocks(design::Design design, std::uint64_t seed) {
    std::mt19937_64 lot(seed);
    for (const design::Field& field : design::fieldsIn(design))
        if (lot() % 4 == 0) design::setLocked(design, field.path, true);
    return design;
}

/// Remedies take thousands of checks, and each takes milliseconds where holes cross channels: such rings are
/// for long runs alone, and under the sanitizers all with holes.
inline bool takesLongToMend(const design::Design& design) {
    const bool crossed = design.channels.size() > 1 || geometry::inHaste();
    return !design.settings.empty() && crossed && geometry::oneIn(2, 2) > 1;
}

}  // namespace bandwright::check
