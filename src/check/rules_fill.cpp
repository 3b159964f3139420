#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> fillRules() {
    constexpr const char* kThird = "common practice, no source: grains at most a third of depth and width";
    return {
        atLeast({"grains-deep", "how many of the largest grains fit in the depth", "grains"}, {2, 3, kThird},
                "Grains so large leave gaps in the depth and are torn out in sanding.",
                {kFinerGrain, kDeeperChannel}),
        atLeast({"grains-wide", "how many of the largest grains fit in the width", "grains"}, {2, 3, kThird},
                "Grains so large bridge the channel and leave gaps at its sides.",
                {kFinerGrain, kWiderChannel}),
        atLeast({"fill-depth", "the depth of the fill"},
                {0.4, 0.75, "ashdownwood.com: 0.75 mm in a 1.5 mm wall; 0.4 mm from memory"},
                "A shallow fill is sanded through and has little to hold on to.",
                {kDeeperChannel, kHigherFill}),
        atMost({"fill-step", "the step between fill and metal, either way"},
               {0.2, 0.1, "common practice, no source"},
               "A fill that stands out catches and chips; one that is sunk gathers dirt.",
               {kLowerFill, kHigherFill}),
        atLeast({"fill-packing", "the share of the fill that is grains", "share"},
                {0.4, 0.5, "from memory: crushed stone packs to 0.50 to 0.60 when shaken down"},
                "So much bare adhesive shrinks, dishes and yellows.", {kDenserFill}),
        onMeasure(
            "fill-packing",
            atMost(
                {"fill-dense", "the share of the fill that is grains", "share"},
                {0.74, 0.68,
                 "Wikipedia, 'Random close pack': equal spheres 0.64, ellipsoids 0.68; 0.74 is the densest "
                 "packing of equal spheres"},
                "Grains do not pack so densely, and what adhesive is left does not wet them all.",
                {kLooserFill})),
        atMost({"fill-draft", "the lean of the channel's sides outwards", "degrees"},
               {5, 0, "common practice, no source"},
               "Sides that open outwards do not key the fill: it lifts out when the adhesive lets go.",
               {kLessDraft}),
        atMost({"channel-reach", "the depth of a channel in its widths", "times"},
               {3, 2, "common practice, no source"},
               "So deep and narrow a channel breaks the grooving tool and hides its chips.",
               {kWiderChannel, kShallowerChannel}),
    };
}

}  // namespace bandwright::check
