#pragma once

#include "rules.hpp"

/// The numbers a maker can change, for the tables of rules; each a row of design/field_table.hpp.
namespace bandwright::check {

inline const Lever kThickerBand{"band.thickness", 1};
inline const Lever kThinnerBand{"band.thickness", -1};
inline const Lever kWiderBand{"band.width", 1};
inline const Lever kNarrowerBand{"band.width", -1};
inline const Lever kMoreCorrection{"finger.width-correction", 1};
inline const Lever kMoreBoreFlat{"band.bore.flat", 1};
inline const Lever kLowerBoreRise{"band.bore.rise", -1};
inline const Lever kLowerOutsideRise{"band.outside.rise", -1};
inline const Lever kThickerLiner{"band.liner.thickness", 1};
inline const Lever kThinnerLiner{"band.liner.thickness", -1};
inline const Lever kMorePress{"band.liner.interference", 1};
inline const Lever kLessPress{"band.liner.interference", -1};
inline const Lever kMoreEase{"band.bore.ease", 1};
inline const Lever kLessEase{"band.bore.ease", -1};
inline const Lever kNarrowerLeftEdge{"band.left.width", -1};
inline const Lever kNarrowerRightEdge{"band.right.width", -1};
inline const Lever kMoreSizing{"allowances.sizing", 1};
inline const Lever kMoreOverFill{"allowances.fill", 1};
inline const Lever kMoreParting{"allowances.parting", 1};
inline const Lever kLessBlank{"allowances.blank-outside", -1};
inline const Lever kLessSizing{"allowances.sizing", -1};

inline const Lever kDeeperChannel{"channels[#].depth", 1};
inline const Lever kShallowerChannel{"channels[#].depth", -1};
inline const Lever kWiderChannel{"channels[#].width", 1};
inline const Lever kNarrowerChannel{"channels[#].width", -1};
inline const Lever kChannelToRight{"channels[#].offset", 1};
inline const Lever kChannelToLeft{"channels[#].offset", -1};
inline const Lever kLessDraft{"channels[#].draft", -1};
inline const Lever kFinerGrain{"channels[#].fill.grain-most", -1};
inline const Lever kDenserFill{"channels[#].fill.packing", 1};
inline const Lever kLooserFill{"channels[#].fill.packing", -1};
inline const Lever kHigherFill{"channels[#].fill.proud", 1};
inline const Lever kLowerFill{"channels[#].fill.proud", -1};

inline const Lever kHoleToRight{"settings[#].placement.offset", 1};
inline const Lever kHoleToLeft{"settings[#].placement.offset", -1};
inline const Lever kMoreDegrees{"settings[#].placement.spacing", 1};
inline const Lever kFewerDegrees{"settings[#].placement.spacing", -1};
inline const Lever kFewerHoles{"settings[#].placement.count", -1};
inline const Lever kWiderPilot{"settings[#].hole.pilot-diameter", 1};
inline const Lever kNarrowerPilot{"settings[#].hole.pilot-diameter", -1};
inline const Lever kShallowerPilot{"settings[#].hole.pilot-depth", -1};
inline const Lever kWiderSeat{"settings[#].hole.steps[#].diameter", 1};
inline const Lever kNarrowerSeat{"settings[#].hole.steps[#].diameter", -1};
inline const Lever kDeeperSeat{"settings[#].hole.steps[#].depth", 1};
inline const Lever kShallowerSeat{"settings[#].hole.steps[#].depth", -1};

inline const Lever kWiderTube{"settings[#].tube.outer-diameter", 1};
inline const Lever kNarrowerTube{"settings[#].tube.outer-diameter", -1};
inline const Lever kNarrowerTubeBore{"settings[#].tube.inner-diameter", -1};
inline const Lever kWiderTubeSeat{"settings[#].tube.seat-diameter", 1};
inline const Lever kNarrowerTubeSeat{"settings[#].tube.seat-diameter", -1};
inline const Lever kHigherLedge{"settings[#].tube.seat-depth", -1};
inline const Lever kLowerLedge{"settings[#].tube.seat-depth", 1};
inline const Lever kLowerTube{"settings[#].tube.height", -1};
inline const Lever kHigherTube{"settings[#].tube.height", 1};
inline const Lever kSmallerStone{"settings[#].stone.diameter", -1};
inline const Lever kLargerStone{"settings[#].stone.diameter", 1};

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
