#pragma once

#include <cstddef>
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

/// A band with this many rows of 120 small holes.
inline design::Design withRows(int rows) {
    design::Design design = harbour();
    design.channels.clear();
    design::Setting setting = design.settings[0];
    setting.tube.reset();
    setting.stone.reset();
    setting.placement = {.offset = 0, .count = 120, .start = 0, .spacing = 0, .angles = {}};
    setting.hole = {.pilotDiameter = 0.12, .bottom = design::HoleBottom::Flat, .pilotDepth = 1};
    setting.hole.steps = {{.diameter = 0.2, .depth = 0.5}};
    design.settings.assign(static_cast<std::size_t>(rows), setting);
    for (int i = 0; i < rows; ++i)
        design.settings[static_cast<std::size_t>(i)].placement.offset = 6 * (i + 0.5) / rows - 3;
    return design;
}

}  // namespace bandwright::bench
