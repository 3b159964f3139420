#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "drawing/section_drawing.hpp"

namespace bandwright::drawing {

/// A design at one stage.
struct StagedDesign {
    std::string name;
    design::Design design;
    design::Stage stage = design::Stage::Finished;
};

/// Every sample in models/, at every stage that it has.
std::vector<StagedDesign> samplesAtAllStages();
design::Design sampleDesign(const std::string& name);

/// Designs drawn by lot that can be built, each at a stage drawn by lot.
std::vector<StagedDesign> designsByLot(std::uint64_t count);

/// The plain drawing, and those through each setting.
std::vector<Drawing> allDrawings(const StagedDesign& ring, const Layout& layout);

}  // namespace bandwright::drawing
