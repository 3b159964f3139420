#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> linerRules() {
    constexpr const char* kPress =
        "common practice, no source: 0.01 to 0.03 mm; half and twice as much our own choice";
    const Limit holds{1, 0.7, "Lame's equations, Poisson's ratio 0.3; seven tenths our own choice"};
    constexpr Sides kSpare{"", "too little"};
    return {
        between(
            {"liner-fit", "by how much a pressed liner is larger than its hole, on the diameter"},
            {0.005, 0.01, kPress}, {"liner-fit-tight", {0.06, 0.03, kPress}},
            "A liner hardly larger than its hole comes loose; one much larger buckles or bursts the band.",
            {kMorePress, kLessPress}),
        between(
            {"liner-gap", "the gap round a glued liner, on the radius"},
            {0.0035, 0.01,
             "ISO 286-2, charts of eicac.co.uk: H7 with g6 leaves 0.0035 to 0.0205 mm at this size; 0.01 mm "
             "for the adhesive, common practice, no source"},
            {"liner-gap-wide",
             {0.125, 0.05,
              "Handbook of Adhesive Technology: thin cyanoacrylate fills 0.05 mm, and at 0.125 mm takes ten "
              "minutes"}},
            "Without a gap the adhesive is scraped off as the liner goes in; in a wide one it sits askew.",
            {kMorePress, kLessPress}),
        atMost({"liner-stress", "the hoop stress in a pressed liner", "of its yield"}, holds,
               "Past its yield the liner is crushed and comes loose: press it less or make it thicker.",
               {kLessPress, kThickerLiner}),
        atMost({"sleeve-stress", "the hoop stress in the band round a pressed liner, over its thinnest floor",
                "of its yield"},
               holds, "Past its yield the band stretches or bursts and lets its liner go.",
               {kLessPress, kShallowerChannel, kThickerBand}),
        atMost({"liner-heat", "the heat over that of the room at which the band slips over its liner",
                "degrees C"},
               {365, 270,
                "interference over expansion and diameter; Wikipedia, 'Heat coloring of metals': stainless "
                "steel colours at 290 and titanium at 385 degrees C"},
               "So much heat colours the band: press the liner in cold, or less tightly.", {kLessPress}),
        atLeast({"join-heat-liner",
                 "what the adhesive of a glued liner stands at most, above the heat of a later join",
                 "degrees C", kSpare},
                {0, 20,
                 "the heat at which the solder flows, published and common practice, against what the "
                 "adhesives in the catalogue stand; 20 our own choice"},
                "The heat of the join burns what holds the liner: press the liner in, or glue the tubes.",
                {kMorePress}),
    };
}

}  // namespace bandwright::check
