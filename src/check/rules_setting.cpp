#include "levers.hpp"

namespace bandwright::check {

namespace {

constexpr Sides kProud{"proud", "sunk"}, kGap{"", "too tight"}, kOver{"", "short"};

}  // namespace

std::vector<Rule> settingRules() {
    constexpr const char* kPress =
        "ISO 286: H7 with p6 to s6 is 0 to 0.027 mm tighter at this size; from memory";
    constexpr const char* kLip =
        "workshop advice, orchid 15113: 0.3 to 0.5 mm above the girdle; 0.2 and 0.7 mm from memory";
    constexpr const char* kBrazingGap =
        "AWS practice (industrialheating.com, bellmanmelcor.com): 0.025 to 0.125 mm, best 0.038 mm";
    return {
        atLeast({"culet-to-finger",
                 "the room between the stone's lowest point and the bore",
                 "mm",
                 {"", "through the bore"}},
                {0.2, 0.3,
                 "forum advice, orchid 34008: the metal at least 0.2 mm deeper than the stone; 0.3 mm from "
                 "memory"},
                "The finger bulges into the hole, and the point of the stone presses on it.",
                {kShallowerSeat, kHigherLedge, kThickerBand, kSmallerStone}),
        between(
            {"tube-clearance", "the gap between a glued tube and its hole, on the radius", "mm", kGap},
            {0, 0.01,
             "ISO 286: H7 with g6 leaves 0.002 to 0.012 mm at this size; 0.01 mm for the adhesive, common "
             "practice, no source"},
            {"tube-loose",
             {0.125, 0.05,
              "Handbook of Adhesive Technology: thin cyanoacrylate fills 0.05 mm, and at 0.125 mm takes ten "
              "minutes"}},
            "A tube without a gap does not go in or is starved of adhesive; a loose one stands askew and "
            "hangs by the adhesive alone.",
            {kNarrowerTube, kWiderSeat, kWiderTube, kNarrowerSeat}),
        between({"solder-gap", "the gap between a soldered tube and its hole, on the radius", "mm", kGap},
                {0.025, 0.025, kBrazingGap}, {"solder-gap-wide", {0.125, 0.125, kBrazingGap}},
                "Solder does not run into a tighter gap and does not fill a wider one.",
                {kNarrowerTube, kWiderSeat, kWiderTube, kNarrowerSeat}),
        between({"weld-gap", "the gap between a welded tube and its hole, on the radius", "mm", kGap},
                {0, 0.002, "ISO 286: H7 with g6 leaves 0.002 to 0.012 mm at this size"},
                {"weld-gap-wide", {0.05, 0.025, "from memory: the pulse bridges a small part of its spot"}},
                "A tube without a gap does not go in; the pulse falls through a wide one.",
                {kNarrowerTube, kWiderSeat, kWiderTube, kNarrowerSeat}),
        between({"press-fit",
                 "by how much a pressed tube is larger than its hole, on the diameter",
                 "mm",
                 {"", "loose"}},
                {0.002, 0.005, kPress}, {"press-fit-tight", {0.03, 0.02, kPress}},
                "A tube hardly larger than its hole turns or falls out; one much larger scrapes or buckles.",
                {kWiderTube, kNarrowerSeat, kNarrowerTube, kWiderSeat}),
        atMost(
            {"press-stress", "the hoop stress in a pressed tube, in its wall round the seat", "of its yield"},
            {1, 0.7, "Lame's equations, Poisson's ratio 0.3; seven tenths our own choice"},
            "Past its yield the tube is squeezed in, grips the stone and lets go of the hole: glue it, or "
            "press it less.",
            {kNarrowerTube, kWiderSeat, kNarrowerTubeSeat}),
        atLeast({"tube-lip", "the wall of the tube's lip"},
                {0.2, 0.25, "facetjewelry.com 2016: 0.25 mm of lip; 0.2 mm from memory"},
                "A lip this thin tears when it is closed and wears through.",
                {kWiderTube, kNarrowerTubeSeat}),
        atLeast({"tube-ledge", "the width of the ledge in the tube"},
                {0.2, 0.25, "facetjewelry.com 2016: 0.25 mm of ledge; 0.2 mm from memory"},
                "A narrow ledge gives way under the stone when the lip is closed.",
                {kNarrowerTubeBore, kWiderTubeSeat}),
        atMost({"tube-proud", "how far the tube stands above the outside", "mm", kProud},
               {0.6, 0.45, "common practice, no source"},
               "A tube that stands far out snags, and its lip is knocked open.",
               {kLowerTube, kDeeperSeat, kLowerLedge}),
        atLeast({"tube-grip",
                 "the depth of the seat where the round band makes it shallowest",
                 "mm",
                 {"", "short of the metal"}},
                {0.4, 0.6, "common practice, no source"},
                "At the flanks of the round band the seat is shallower, and the tube is hardly held there.",
                {kDeeperSeat}),
        between(
            {"stone-clearance", "the gap between stone and seat, on the radius", "mm", kGap},
            {0, 0.005,
             "aboutstonesetting.com: seat bore and stone of the same diameter, snug; 0.005 mm so that the "
             "stone drops in, our own choice"},
            {"stone-loose", {0.1, 0.05, "from memory: 0 to 0.05 mm on the diameter; our own choice beyond"}},
            "A stone as wide as its seat or wider does not drop in; a loose one tips, and the metal over it "
            "holds it on one side only.",
            {kWiderTubeSeat, kWiderSeat, kNarrowerTubeSeat, kNarrowerSeat, kSmallerStone, kLargerStone}),
        atLeast({"stone-on-ledge", "how far the girdle reaches over the ledge", "mm", kOver},
                {0.2, 0.25,
                 "facetjewelry.com 2016: the tube's bore 0.5 mm less than the stone; 0.2 mm from memory"},
                "A girdle that hardly reaches over the ledge is pushed through when the lip is closed.",
                {kNarrowerTubeBore, kLargerStone}),
        between({"lip-over-girdle", "the height of the lip above the girdle", "mm", {"", "below it"}},
                {0.2, 0.3, kLip}, {"lip-too-high", {0.7, 0.5, kLip}},
                "Too little lip cannot be closed over the girdle; too much hides the stone and folds.",
                {kLowerLedge, kHigherTube, kHigherLedge, kLowerTube}),
        atLeast({"lip-cover", "how far the closed lip reaches over the girdle", "mm", kOver},
                {0.05, 0.1,
                 "orchid 44948: a lip ends about a tenth over the crown, which is 0.05 mm on a stone of 2 mm "
                 "and 0.1 mm on one of 4 mm"},
                "A lip that hardly reaches over the girdle lets go of the stone when it wears.",
                {kHigherTube, kLowerLedge, kLargerStone}),
        atLeast(
            {"bearing-width", "the width of the bearing under a stone without a tube", "mm", kOver},
            {0.1, 0.2,
             "ganoksin, basic bead setting: a through hole of three quarters of the stone, which leaves 0.2 "
             "mm under one of 1.6 mm; 0.1 mm from memory"},
            "A stone on a narrow bearing is pushed through when the edge is burnished over it.",
            {kNarrowerPilot, kWiderSeat, kLargerStone}),
        between({"girdle-sunk",
                 "how far the girdle of a stone without a tube lies below the metal's edge, where that is "
                 "lowest",
                 "mm",
                 {"", "above it"}},
                {0.1, 0.15, "common practice, no source"},
                {"girdle-deep", {0.8, 0.5, "common practice, no source"}},
                "With little metal above the girdle there is no edge to burnish over the stone; deep in the "
                "metal it is dark and fills with dirt.",
                {kDeeperSeat, kSmallerStone, kShallowerSeat}),
        atLeast({"edge-cover", "how far the metal's edge, leaned in to 45 degrees, reaches over the girdle",
                 "mm", kOver},
                {0.05, 0.1, "common practice, no source"},
                "An edge that hardly reaches over the girdle lets go of the stone when it wears.",
                {kDeeperSeat, kNarrowerSeat, kLargerStone}),
        atLeast({"pavilion-room", "the gap between the pavilion and the hole"},
                {0.05, 0.1, "common practice, no source"},
                "The pavilion touches the hole below its ledge, and the stone rocks or chips there.",
                {kWiderPilot, kHigherLedge, kSmallerStone}),
        atMost({"girdle-proud", "how far the girdle stands above the outside", "mm", kProud},
               {0.5, 0.3, "common practice, no source"},
               "A girdle so far out is knocked on its edge, where stones chip first.",
               {kLowerTube, kDeeperSeat, kLowerLedge}),
        atMost({"stone-proud", "how far the stone stands above the outside", "mm", kProud},
               {2, 1.2, "common practice, no source"}, "So high a stone snags and is knocked.",
               {kLowerTube, kDeeperSeat, kLowerLedge, kSmallerStone}),
        atLeast({"seat-bite", "by how much a hole in a channel cuts into the channel's sides, where it does"},
                {0.1, 0.2, "common practice, no source"},
                "A hole hardly wider than the channel leaves a sliver of a step, which burrs and shows.",
                {kWiderSeat, kNarrowerSeat, kNarrowerChannel, kWiderChannel}),
        atLeast({"seat-in-floor",
                 "the depth of the seat in the metal under the channel",
                 "mm",
                 {"", "above the floor"}},
                {0.2, 0.3, "common practice, no source"},
                "A tube that hardly stands in metal hangs by the fill, and the fill gives.",
                {kDeeperSeat, kShallowerChannel}),
        atLeast({"stone-hardness", "the hardness of the stone", "Mohs"},
                {5, 7, "forum advice, orchid 56011: below Mohs 7 not to be hammered; below 5 from memory"},
                "Dust is mostly quartz, Mohs 7: in wear it scratches a softer stone dull.", {}),
    };
}

}  // namespace bandwright::check
