#pragma once

#include "rules.hpp"

/// The dimensions a maker can change, for the tables of rules.
namespace bandwright {

inline constexpr Lever kThickerBand{"band.thickness", "the thickness of the band", 1};
inline constexpr Lever kThinnerBand{"band.thickness", "the thickness of the band", -1};
inline constexpr Lever kWiderBand{"band.width", "the width of the band", 1};
inline constexpr Lever kNarrowerBand{"band.width", "the width of the band", -1};
inline constexpr Lever kMoreCorrection{"finger.width-correction", "the correction for the band's width", 1};
inline constexpr Lever kMoreBoreFlat{"band.bore.flat", "the straight middle of the bore", 1};
inline constexpr Lever kLowerBoreRise{"band.bore.rise", "the rise of the comfort bore", -1};
inline constexpr Lever kLowerOutsideRise{"band.outside.rise", "the rise of the outside", -1};
inline constexpr Lever kThickerLiner{"band.liner.thickness", "the thickness of the liner", 1};
inline constexpr Lever kThinnerLiner{"band.liner.thickness", "the thickness of the liner", -1};
inline constexpr Lever kMoreEase{"band.bore.ease", "the ease of the bore", 1};
inline constexpr Lever kLessEase{"band.bore.ease", "the ease of the bore", -1};
inline constexpr Lever kNarrowerEdge{"band.#.width", "the width", -1};
inline constexpr Lever kMoreSizing{"allowances.sizing", "the sizing allowance", 1};
inline constexpr Lever kLessTruing{"allowances.truing", "the truing allowance", -1, 0.001};
inline constexpr Lever kDeeperEtch{"band.layers.etch", "the depth of the etch", 1, 0.001};
inline constexpr Lever kLessSizing{"allowances.sizing", "the sizing allowance", -1};

inline constexpr Lever kDeeperChannel{"channels[#].depth", "the depth", 1};
inline constexpr Lever kShallowerChannel{"channels[#].depth", "the depth", -1};
inline constexpr Lever kWiderChannel{"channels[#].width", "the width", 1};
inline constexpr Lever kNarrowerChannel{"channels[#].width", "the width", -1};
inline constexpr Lever kChannelToRight{"channels[#].offset", "the offset", 1};
inline constexpr Lever kChannelToLeft{"channels[#].offset", "the offset", -1};
inline constexpr Lever kLessDraft{"channels[#].draft", "the draft", -1, 0.5};
inline constexpr Lever kFinerGrain{"channels[#].fill.grain-most", "the largest grain", -1};
inline constexpr Lever kDenserFill{"channels[#].fill.packing", "the share of grains", 1};
inline constexpr Lever kLooserFill{"channels[#].fill.packing", "the share of grains", -1};
inline constexpr Lever kHigherFill{"channels[#].fill.proud", "the fill's height above the outside", 1};
inline constexpr Lever kLowerFill{"channels[#].fill.proud", "the fill's height above the outside", -1};

inline constexpr Lever kHoleToRight{"settings[#].placement.offset", "the offset", 1};
inline constexpr Lever kHoleToLeft{"settings[#].placement.offset", "the offset", -1};
inline constexpr Lever kWiderPilot{"settings[#].hole.pilot-diameter", "the pilot's diameter", 1};
inline constexpr Lever kNarrowerPilot{"settings[#].hole.pilot-diameter", "the pilot's diameter", -1};
inline constexpr Lever kShallowerPilot{"settings[#].hole.pilot-depth", "the depth of the pilot", -1};
inline constexpr Lever kWiderSeat{"settings[#].hole.steps[#].diameter", "the seat's diameter", 1};
inline constexpr Lever kNarrowerSeat{"settings[#].hole.steps[#].diameter", "the seat's diameter", -1};
inline constexpr Lever kDeeperSeat{"settings[#].hole.steps[#].depth", "the seat's depth", 1};
inline constexpr Lever kShallowerSeat{"settings[#].hole.steps[#].depth", "the seat's depth", -1};

inline constexpr Lever kWiderTube{"settings[#].tube.outer-diameter", "the tube's outer diameter", 1};
inline constexpr Lever kNarrowerTube{"settings[#].tube.outer-diameter", "the tube's outer diameter", -1};
inline constexpr Lever kNarrowerTubeBore{"settings[#].tube.inner-diameter", "the tube's inner diameter", -1};
inline constexpr Lever kWiderTubeSeat{"settings[#].tube.seat-diameter", "the diameter of the tube's seat", 1};
inline constexpr Lever kNarrowerTubeSeat{"settings[#].tube.seat-diameter", "the diameter of the tube's seat",
                                         -1};
inline constexpr Lever kHigherLedge{"settings[#].tube.seat-depth", "the depth of the tube's seat", -1};
inline constexpr Lever kLowerLedge{"settings[#].tube.seat-depth", "the depth of the tube's seat", 1};
inline constexpr Lever kLowerTube{"settings[#].tube.height", "the height of the tube", -1};
inline constexpr Lever kHigherTube{"settings[#].tube.height", "the height of the tube", 1};
inline constexpr Lever kSmallerStone{"settings[#].stone.diameter", "the diameter of the stone", -1};
inline constexpr Lever kLargerStone{"settings[#].stone.diameter", "the diameter of the stone", 1};

}  // namespace bandwright
