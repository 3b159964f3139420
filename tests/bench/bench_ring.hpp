#pragma once

#include <string>

#include "design/design_file.hpp"
#include "trade/catalogue.hpp"

/// The rings all benchmarks work on.
namespace bandwright {

/// One channel and one stone.
inline Design harbour() {
    return readDesign(std::string(BANDWRIGHT_MODELS) + "/harbour.ring.json");
}

/// The same band with so many small stones evenly round it.
inline Design withStones(int count) {
    Design design = harbour();
    design.settings[0].placement = {.offset = 0, .count = count, .start = 90, .spacing = 0, .angles = {}};
    Hole& hole = design.settings[0].hole;
    hole.pilotDiameter = 0.1;
    hole.steps = {{.diameter = 0.22, .depth = 1.5}};
    if (count <= 24) {
        hole.pilotDiameter = 1;
        hole.steps = {{.diameter = 2, .depth = 1.5}};
    }
    const double seat = hole.steps[0].diameter;
    design.settings[0].tube->outerDiameter = seat;
    design.settings[0].tube->seatDiameter = 0.85 * seat;
    design.settings[0].tube->innerDiameter = 0.7 * seat;
    design.settings[0].stone->diameter = 0.8 * seat;
    return design;
}

}  // namespace bandwright
