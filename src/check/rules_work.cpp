#include <algorithm>

#include "levers.hpp"

namespace bandwright::check {

namespace {

/// Twice the narrowest blade is comfortable.
Limit narrowestBlade(const design::Design& /*design*/, const trade::Catalogue& catalogue) {
    const std::vector<double>& blades = catalogue.tools.groovingBlades;
    const double narrowest = *std::ranges::min_element(blades);
    return {narrowest, 2 * narrowest, catalogue.tools.source};
}

}  // namespace

std::vector<Rule> workRules() {
    return {
        atLeast({"bore-ease", "the radius between bore and edge"}, {0.05, 0.1, "common practice, no source"},
                "A sharp corner between bore and edge cuts into the finger.", {kMoreEase}),
        between({"sizing-allowance", "what is left in the bore for sizing, on the radius"},
                {0, 0.05, "common practice, no source"},
                {"sizing-excess",
                 {0.4064, 0.3,
                  "common practice, no source: half a US size, 0.2032 mm; a whole size is too much"}},
                "With nothing left in the bore its tool marks cannot be sanded out without losing the size; "
                "too much to sand out goes out of round and heats fill and adhesive.",
                {kMoreSizing, kLessSizing}),
        atMost({"band-thickness", "the thickness of the band on the finger"},
               {3.5, 2.5, "instructables, inlaid ring: at most 2.5 mm to be comfortable; 3.5 mm from memory"},
               "So thick a band spreads the fingers beside it.", {kThinnerBand}),
        atMost(
            {"drill-depth", "the depth of the narrowest hole in its diameters", "of its diameter"},
            {6, 3,
             "Kennametal/Greenfield tips: one pass to 2 to 3 diameters, then in pecks; a twist-drill maker's "
             "guide slows the drill from 3 diameters on and ends at 6"},
            "So deep a hole jams its chips and breaks the drill in the band.", {kWiderPilot}),
        atMost(
            {"drill-start", "the slope of the outside under the rim of the first drill", "degrees"},
            {31, 7.18,
             "cnccookbook.com: only where the surface radius is more than 4 drill diameters, which is 7.18 "
             "degrees under the rim, else mill a flat; ctemag 2021: a drill walks where a lip touches before "
             "its point, and the lips of a 118 degree drill stand at 31 degrees"},
            "On such a slope the drill walks off before its point bites: mill a flat first.",
            {kHoleToLeft, kHoleToRight, kNarrowerPilot, kLowerOutsideRise}),
        orElse({design::Stage::Polished, design::Stage::Sized},
               atLeast({"mandrel-grip", "the length of bore within 0.02 mm of its narrowest place"},
                       {0.5, 1, "common practice, no source"},
                       "So short a bearing rocks on the mandrel, and what is turned there comes out askew.",
                       {kMoreBoreFlat, kLowerBoreRise, kLessEase})),
        atMost(
            {"boring-reach", "how far the thickest boring bar that fits the bore reaches, in its diameters",
             "of its diameter"},
            {4, 3, "Widia; cuttingtoolsai.eu: steel boring bars to 4 diameters"},
            "So long a bar chatters and leaves the bore tapered.", {kNarrowerBand}),
        atMost({"parting-blade", "the outside of the blank in widths of the parting blade", "of the blade"},
               {20, 15, "common practice, no source: a blade of about a tenth of the bar"},
               "In so thick a bar a blade bends and parts the ring off askew: take a wider one, or saw.",
               {kThinnerBand, kLessBlank}),
        atLeast(
            {"parting-room", "what parting leaves on each face, in widths of the parting blade",
             "of the blade"},
            {0.05, 0.1,
             "common practice, no source: a face parted by a blade comes out dished by some hundredths of "
             "its width"},
            "With so little left a face that the blade dished or scored cannot be faced true.",
            {kMoreParting}),
        atMost({"dividing-error", "how far the dividing head misses the angles of a row of holes", "degrees"},
               {1, 0.1, "our own choice: 0.1 degrees are 0.02 mm at the outside of a ring"},
               "The head has no circle of holes for so many stones: they come out unevenly spaced.",
               {kFewerDegrees, kMoreDegrees, kFewerHoles}),
        atLeast({"channel-width", "the width of a channel"}, narrowestBlade,
                "A tool so narrow breaks in the channel, and the fill does not go in.", {kWiderChannel}),
    };
}

}  // namespace bandwright::check
