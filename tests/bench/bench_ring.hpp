#pragma once

#include <string>

#include "design/design_file.hpp"
#include "trade/catalogue.hpp"

/// The rings all benchmarks work on.
namespace bandwright::bench {

/// One channel and one stone.
inline design::Design harbour() {
    return design::readDesign(std::string(BANDWRIGHT_MODELS) + "/harbour.ring.json");
}

/// The same band with this many stones evenly round it, in seats this wide in mm.
inline design::Design withStones(int count, double seat = 2) {
    design::Design design = harbour();
    design.settings[0].placement = {.offset = 0, .count = count, .start = 90, .spacing = 0, .angles = {}};
    design::Hole& hole = design.settings[0].hole;
    hole.pilotDiameter = seat / 2;
    hole.steps = {{.diameter = seat, .depth = 1.5}};
    design.settings[0].tube->outerDiameter = seat;
    design.settings[0].tube->seatDiameter = 0.85 * seat;
    design.settings[0].tube->innerDiameter = 0.7 * seat;
    design.settings[0].stone->diameter = 0.8 * seat;
    return design;
}

}  // namespace bandwright::bench
