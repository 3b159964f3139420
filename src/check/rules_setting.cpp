#include "levers.hpp"

namespace bandwright {

std::vector<Rule> settingRules() {
    return {
        atLeast("culet-to-finger",
                {0.2, 0.3,
                 "forum advice, orchid 34008: the metal at least 0.2 mm deeper than the stone; 0.3 mm from "
                 "memory"},
                "The finger bulges into the hole, and the point of the stone presses on it.",
                {kShallowerSeat, kHigherLedge, kThickerBand, kSmallerStone}),
        atLeast("tube-clearance", {0, 0, "common practice, no source: a 4.5 mm tube in a 4.5 mm seat"},
                "A tube wider than its seat does not go in.", {kNarrowerTube, kWiderSeat}),
        onMeasure("tube-clearance",
                  atMost("tube-loose", {0.1, 0.05, "common practice, no source"},
                         "A loose tube stands askew and hangs by the adhesive or solder alone.",
                         {kWiderTube, kNarrowerSeat})),
        atLeast("tube-lip", {0.2, 0.25, "facetjewelry.com 2016: 0.25 mm of lip; 0.2 mm from memory"},
                "A lip this thin tears when it is closed and wears through.",
                {kWiderTube, kNarrowerTubeSeat}),
        atLeast("tube-ledge", {0.2, 0.25, "facetjewelry.com 2016: 0.25 mm of ledge; 0.2 mm from memory"},
                "A narrow ledge gives way under the stone when the lip is closed.",
                {kNarrowerTubeBore, kWiderTubeSeat}),
        atMost("tube-proud", {0.6, 0.45, "common practice, no source"},
               "A tube that stands far out snags, and its lip is knocked open.",
               {kLowerTube, kDeeperSeat, kLowerLedge}),
        atLeast("tube-grip", {0.4, 0.6, "common practice, no source"},
                "At the flanks of the round band the seat is shallower, and the tube is hardly held there.",
                {kDeeperSeat}),
        atLeast("stone-clearance", {0, 0, "aboutstonesetting.com: seat bore and stone of the same diameter"},
                "A stone wider than its seat does not go in.", {kSmallerStone, kWiderTubeSeat}),
        onMeasure("stone-clearance",
                  atMost("stone-loose",
                         {0.1, 0.05, "from memory: 0 to 0.05 mm on the diameter; our own choice beyond"},
                         "A loose stone tips on its ledge, and the lip holds it on one side only.",
                         {kLargerStone, kNarrowerTubeSeat})),
        atLeast("stone-on-ledge",
                {0.2, 0.25,
                 "facetjewelry.com 2016: the tube's bore 0.5 mm less than the stone; 0.2 mm from memory"},
                "A girdle that hardly reaches over the ledge is pushed through when the lip is closed.",
                {kNarrowerTubeBore, kLargerStone}),
        atLeast("lip-over-girdle",
                {0.2, 0.3, "workshop advice, orchid 15113: 0.3 to 0.5 mm above the girdle"},
                "Too little lip stands above the girdle to be closed over the stone.",
                {kLowerLedge, kHigherTube}),
        onMeasure(
            "lip-over-girdle",
            atMost("lip-too-high",
                   {0.7, 0.5, "workshop advice, orchid 15113: 0.3 to 0.5 mm above the girdle"},
                   "So much lip hides the stone and folds when it is closed.", {kHigherLedge, kLowerTube})),
        atLeast("pavilion-room", {0.05, 0.1, "common practice, no source"},
                "The pavilion touches the hole below its ledge, and the stone rocks or chips there.",
                {kWiderPilot, kHigherLedge, kSmallerStone}),
        atLeast("stone-hardness",
                {5, 7, "forum advice, orchid 56011: below Mohs 7 not to be hammered; below 5 from memory"},
                "Dust is mostly quartz, Mohs 7: it dulls a softer stone on the hand.", {}),
    };
}

}  // namespace bandwright
