#pragma once

#include "rules.hpp"

/// The numbers a maker can change, for the tables of rules; each a row of design/field_table.hpp.
namespace bandwright::check {

inline constexpr Lever kThickerBand{"band.thickness", 1};
inline constexpr Lever kThinnerBand{"band.thickness", -1};
inline constexpr Lever kWiderBand{"band.width", 1};
inline constexpr Lever kNarrowerBand{"band.width", -1};
inline constexpr Lever kMoreCorrection{"finger.width-correction", 1};
inline constexpr Lever kMoreBoreFlat{"band.bore.flat", 1};
inline constexpr Lever kLowerBoreRise{"band.bore.rise", -1};
inline constexpr Lever kLowerOutsideRise{"band.outside.rise", -1};
inline constexpr Lever kThickerLiner{"band.liner.thickness", 1};
inline constexpr Lever kThinnerLiner{"band.liner.thickness", -1};
inline constexpr Lever kMorePress{"band.liner.interference", 1};
inline constexpr Lever kLessPress{"band.liner.interference", -1};
inline constexpr Lever kMoreEase{"band.bore.ease", 1};
inline constexpr Lever kLessEase{"band.bore.ease", -1};
inline constexpr Lever kNarrowerLeftEdge{"band.left.width", -1};
inline constexpr Lever kNarrowerRightEdge{"band.right.width", -1};
inline constexpr Lever kMoreSizing{"allowances.sizing", 1};
inline constexpr Lever kMoreOverFill{"allowances.fill", 1};
inline constexpr Lever kMoreParting{"allowances.parting", 1};
inline constexpr Lever kLessBlank{"allowances.blank-outside", -1};
inline constexpr Lever kLessSizing{"allowances.sizing", -1};

inline constexpr Lever kDeeperChannel{"channels[#].depth", 1};
inline constexpr Lever kShallowerChannel{"channels[#].depth", -1};
inline constexpr Lever kWiderChannel{"channels[#].width", 1};
inline constexpr Lever kNarrowerChannel{"channels[#].width", -1};
inline constexpr Lever kChannelToRight{"channels[#].offset", 1};
inline constexpr Lever kChannelToLeft{"channels[#].offset", -1};
inline constexpr Lever kLessDraft{"channels[#].draft", -1};
inline constexpr Lever kFinerGrain{"channels[#].fill.grain-most", -1};
inline constexpr Lever kDenserFill{"channels[#].fill.packing", 1};
inline constexpr Lever kLooserFill{"channels[#].fill.packing", -1};
inline constexpr Lever kHigherFill{"channels[#].fill.proud", 1};
inline constexpr Lever kLowerFill{"channels[#].fill.proud", -1};

inline constexpr Lever kHoleToRight{"settings[#].placement.offset", 1};
inline constexpr Lever kHoleToLeft{"settings[#].placement.offset", -1};
inline constexpr Lever kMoreDegrees{"settings[#].placement.spacing", 1};
inline constexpr Lever kFewerDegrees{"settings[#].placement.spacing", -1};
inline constexpr Lever kWiderPilot{"settings[#].hole.pilot-diameter", 1};
inline constexpr Lever kNarrowerPilot{"settings[#].hole.pilot-diameter", -1};
inline constexpr Lever kShallowerPilot{"settings[#].hole.pilot-depth", -1};
inline constexpr Lever kWiderSeat{"settings[#].hole.steps[#].diameter", 1};
inline constexpr Lever kNarrowerSeat{"settings[#].hole.steps[#].diameter", -1};
inline constexpr Lever kDeeperSeat{"settings[#].hole.steps[#].depth", 1};
inline constexpr Lever kShallowerSeat{"settings[#].hole.steps[#].depth", -1};

inline constexpr Lever kWiderTube{"settings[#].tube.outer-diameter", 1};
inline constexpr Lever kNarrowerTube{"settings[#].tube.outer-diameter", -1};
inline constexpr Lever kNarrowerTubeBore{"settings[#].tube.inner-diameter", -1};
inline constexpr Lever kWiderTubeSeat{"settings[#].tube.seat-diameter", 1};
inline constexpr Lever kNarrowerTubeSeat{"settings[#].tube.seat-diameter", -1};
inline constexpr Lever kHigherLedge{"settings[#].tube.seat-depth", -1};
inline constexpr Lever kLowerLedge{"settings[#].tube.seat-depth", 1};
inline constexpr Lever kLowerTube{"settings[#].tube.height", -1};
inline constexpr Lever kHigherTube{"settings[#].tube.height", 1};
inline constexpr Lever kSmallerStone{"settings[#].stone.diameter", -1};
inline constexpr Lever kLargerStone{"settings[#].stone.diameter", 1};

/// What a maker changes together in a setting, so that a fit stays a fit.
inline std::vector<Lever> coupledLevers() {
    static constexpr std::string_view kSeat = "settings[#].hole.steps[#].diameter",
                                      kSeatDepth = "settings[#].hole.steps[#].depth",
                                      kOuter = "settings[#].tube.outer-diameter",
                                      kInner = "settings[#].tube.inner-diameter",
                                      kTubeSeat = "settings[#].tube.seat-diameter",
                                      kHeight = "settings[#].tube.height",
                                      kLedge = "settings[#].tube.seat-depth",
                                      kStone = "settings[#].stone.diameter";
    std::vector<Lever> levers;
    for (const int way : {1, -1}) {
        levers.push_back({kOuter, way, {kSeat}});                     // another tube, its hole with it
        levers.push_back({kTubeSeat, way, {kOuter, kSeat}});          // the lip as thick as before
        levers.push_back({kTubeSeat, way, {kInner, kOuter, kSeat}});  // the whole tube
        levers.push_back({kStone, way, {kTubeSeat, kInner, kOuter, kSeat}});  // with its stone
        levers.push_back({kStone, way, {kTubeSeat, kInner}});
        levers.push_back({kTubeSeat, way, {kInner}});
        levers.push_back({kStone, way, {kSeat}});
        levers.push_back({kHeight, way, {kLedge}});      // the lip, its ledge where it was
        levers.push_back({kSeatDepth, way, {kHeight}});  // the lip where it was
        levers.push_back({kSeatDepth, way, {kHeight, kLedge}});
        levers.push_back({"band.thickness", way, {kSeatDepth}});
    }
    return levers;
}

}  // namespace bandwright::check
