#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> fillRules() {
    constexpr const char* kPacks =
        "With too few grains so much bare adhesive shrinks, dishes and yellows; more grains than go in leave "
        "some that no adhesive wets.";
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
        atLeast({"fill-depth-keyed", "the depth of a fill that an undercut keys"},
                {0.3, 0.4, "our own choice: less than without a key, which needs 0.4 mm at least"},
                "Even a keyed fill so shallow is sanded through.", {kDeeperChannel, kHigherFill}),
        atLeast({"fill-over",
                 "how far the fill still stands over the outside when its last layer has cured",
                 "mm",
                 {"proud", "sunk"}},
                {0, 0.05,
                 "a matter of subtraction: between jammed grains the adhesive sinks by its shrinkage of the "
                 "layer; 0.05 mm our own choice"},
                "Between the grains the adhesive sinks below the outside, and truing leaves pits: pack the "
                "fill higher, or top it up.",
                {kMoreOverFill}),
        atMost({"fill-step", "the step between fill and metal, either way"},
               {0.2, 0.1, "common practice, no source"},
               "A fill that stands out catches and chips; one that is sunk gathers dirt.",
               {kLowerFill, kHigherFill}),
        between({"fill-packing", "the share of the fill that is grains of one sieve", "share"},
                {0.4, 0.5, "common practice, no source: crushed stone packs to 0.45 to 0.55 as it is poured"},
                {"fill-dense",
                 {0.64, 0.6,
                  "Desmond and Weeks 2014: grains of one size 0.64; crushed and pressed 0.50 to 0.60, common "
                  "practice, no source"}},
                kPacks, {kDenserFill, kLooserFill}),
        between(
            {"fill-packing-mixed",
             "the share of the fill that is grains, the largest seven times the smallest or more", "share"},
            {0.4, 0.5, "common practice, no source: crushed stone packs to 0.45 to 0.55 as it is poured"},
            {"fill-dense-mixed",
             {0.78, 0.7,
              "Brouwers 2006: two sizes far apart pack to f + (1 - f) f, 0.84 for 0.60; 0.70 to 0.78 met "
              "at seven to one, from memory"}},
            kPacks, {kDenserFill, kLooserFill}),
        atMost({"fill-draft", "the lean of the channel's sides outwards", "degrees", {"outwards", "inwards"}},
               {5, 0, "common practice, no source"},
               "Sides that open outwards do not key the fill: it lifts out when the adhesive lets go.",
               {kLessDraft}),
        atMost({"channel-reach", "the depth of a channel in its widths", "of its width"},
               {3, 2, "common practice, no source"},
               "So deep and narrow a channel breaks the grooving tool and hides its chips.",
               {kWiderChannel, kShallowerChannel}),
    };
}

}  // namespace bandwright::check
