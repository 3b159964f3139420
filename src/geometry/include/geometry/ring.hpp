#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "geometry/section.hpp"

namespace bandwright {

/// A moment in the work at which the ring is shown, measured and judged.
enum class Stage : std::uint8_t {
    BeforeSizing,  ///< all cut and filled, the bore still under size by the sizing allowance
    Finished,
};

/// The sections of the ring's bodies of revolution, holes left aside.
struct RingSections {
    Section band;
    std::vector<Section> fills;             ///< one for each filled channel
    std::vector<std::uint16_t> fillChannel; ///< the channel each fill belongs to
};

/// The plain section, away from any hole.
RingSections sections(const Design& design, Stage stage = Stage::Finished);

/// The section through the middle of a setting's hole: band and fills with the hole taken out, the tube's two walls and
/// the outline of the stone.
struct SettingSection {
    Section band;
    std::vector<Section> fills;
    Section tube;
    Section stone;
};
SettingSection sectionThrough(const Design& design, std::size_t setting, Stage stage = Stage::Finished);

struct BuildOptions {
    double tolerance = 10;  ///< um, the most a triangle may stand off the true surface
};

/// Every body of the ring as a closed mesh: band, fills, tubes, stones. Deterministic.
/// Throws InputError for a design that encloses no metal or whose holes run into each other.
std::vector<Part> buildParts(const Design& design, Stage stage = Stage::Finished, const BuildOptions& options = {});

/// Throws InputError (one sentence: the field's path, what was found, what is allowed) where no ring can be made from
/// these numbers at all; a ring that can be drawn but not made well is for the checks to judge.
void requireBuildable(const Design& design);

}  // namespace bandwright
