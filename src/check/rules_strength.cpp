#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> strengthRules() {
    return {
        atLeast(
            {"first-yield",
             "the force across the diameter at which the band first yields, fills and tubes left aside, "
             "against an ordinary grip on one finger",
             "N"},
            {50, 75,
             "common practice, no source: an ordinary grip, two bags of 10 kg in one hand, is 200 N over "
             "four fingers and 50 N on one; half as much again to be comfortable"},
            "A band that yields under an ordinary grip goes out of round, cracks its fill and lets its "
            "stones go.",
            {kThickerBand, kShallowerChannel, kNarrowerChannel, kWiderBand, kNarrowerSeat, kNarrowerPilot}),
        atLeast(
            {"stiffness",
             "the force across the diameter for each mm the band gives way, against a hard grip on one "
             "finger",
             "N/mm"},
            {300, 600,
             "our own choice: a hard grip, 537 N over four fingers (Mathiowetz 1985, men of 25 to 29, right "
             "hand), is 134 N on one; a band of 300 N/mm gives way by 0.45 mm under it, one of 600 N/mm by "
             "0.22 mm"},
            "A band that gives way under a hard grip loosens tube and fill, though it springs back.",
            {kThickerBand, kShallowerChannel, kNarrowerChannel, kWiderBand}),
        atMost(
            {"chuck-spring",
             "by how much the band springs out of round after it is bored under 100 N at each of three jaws",
             "um"},
            {150, 50,
             "Roark's Formulas for Stress and Strain, circular rings, case 7; jaws closed lightly by hand "
             "and the limits are common practice, no source"},
            "Jaws press so thin a ring to three corners, and the bore cut true in them springs back lobed: "
            "hold it in a split collet or on a mandrel.",
            {kThickerBand, kShallowerChannel, kNarrowerChannel, kWiderBand}),
        atMost(
            {"rim-slender", "the depth of a channel in thicknesses of the rim beside it", "of its thickness"},
            {3, 2, "common practice, no source: beyond twice its thickness a rim bends"},
            "So high and thin a rim bends outwards when the fill is packed, and when it is knocked.",
            {kShallowerChannel, kNarrowerChannel, kWiderBand, kNarrowerLeftEdge, kNarrowerRightEdge}),
    };
}

}  // namespace bandwright::check
