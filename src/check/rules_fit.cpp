#include "levers.hpp"

namespace bandwright::check {

std::vector<Rule> fitRules() {
    return {
        atLeast(
            {"resize-room", "how far the bore can be opened with every other gauge still go", "US sizes"},
            {0, 0.25, "by every other rule, on the opened ring; a quarter size our own choice"},
            "Fingers grow: a ring that cannot be opened has to be made again.",
            {kShallowerChannel, kThickerBand, kShallowerSeat, kHigherLedge, kShallowerPilot, kThickerLiner}),
        atMost({"width-correction",
                "the diameter a wide band lacks to go on as a narrow one does",
                "mm",
                {"too narrow", "wider"}},
               {0.6, 0.3,
                "careypearson.com: half a US size more for 5 mm or wider, a quarter to a half less for a "
                "comfort bore"},
               "A wide band sits tighter than the sizing ring it was measured with.", {kMoreCorrection}),
        atMost({"band-width", "the width of the band"}, {14, 10, "common practice, no source"},
               "So wide a band keeps the finger from bending and presses on its neighbours.",
               {kNarrowerBand}),
        atMost({"ring-mass", "the mass of the whole ring", "g"}, {30, 18, "common practice, no source"},
               "So heavy a ring turns on the finger, and not everyone likes to wear it.",
               {kThinnerBand, kNarrowerBand}),
    };
}

}  // namespace bandwright::check
