#include "levers.hpp"

namespace bandwright {

std::vector<Rule> workRules() {
    return {
        atLeast({"bore-ease", "the radius between bore and edge"}, {0.05, 0.1, "common practice, no source"},
                "A sharp corner between bore and edge cuts into the finger.", {kMoreEase}),
        atLeast({"sizing-allowance", "what is left in the bore for sizing, on the radius"},
                {0, 0.05, "common practice, no source"},
                "With nothing left in the bore its tool marks cannot be sanded out without losing the size.",
                {kMoreSizing}),
        onMeasure("sizing-allowance",
                  atMost({"sizing-excess", "what is left in the bore for sizing, on the radius"},
                         {0.4064, 0.3,
                          "common practice, no source: half a US size, 0.2032 mm; a whole size is too much"},
                         "So much to sand out of the bore goes out of round and heats fill and adhesive.",
                         {kLessSizing})),
        atMost({"band-thickness", "the thickness of the band on the finger"},
               {3.5, 2.5, "instructables, inlaid ring: at most 2.5 mm to be comfortable; 3.5 mm from memory"},
               "So thick a band spreads the fingers beside it.", {kThinnerBand}),
        atMost(
            {"drill-depth", "the depth of the narrowest hole in its diameters", "times"},
            {6, 3,
             "Kennametal/Greenfield tips: one pass to 2 to 3 diameters, then in pecks; beyond 6 from memory"},
            "So deep a hole jams its chips and breaks the drill in the band.", {kWiderPilot}),
    };
}

}  // namespace bandwright
