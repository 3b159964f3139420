#include <cmath>

#include "levers.hpp"

namespace bandwright::check {

namespace {

/// A wall above the limit by this share is comfortable: it leaves room for a slip of the tool and the next
/// polish. Our own choice.
constexpr double kComfort = 1.2;

const trade::Metal& bandMetal(const design::Design& design, const trade::Catalogue& catalogue) {
    return *catalogue.metal(design.band.metal);
}

Limit fromMetal(const trade::Sourced& least, std::string_view source = {}) {
    // To a hundredth of a micrometre, so that it reads as typed.
    const double comfortable = std::round(kComfort * least.value * 1e5) / 1e5;
    return {least.value, comfortable, std::string(source) + least.source};
}

Limit leastFloor(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastFloor);
}

Limit leastRim(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastRim);
}

Limit leastLand(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastWall, "taken as the least wall; ");
}

Limit leastWall(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastWall);
}

Limit leastHoleToEdge(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastHoleToEdge);
}

Limit leastHoleToChannel(const design::Design& design, const trade::Catalogue& catalogue) {
    return fromMetal(bandMetal(design, catalogue).leastHoleToEdge, "taken as between hole and edge; ");
}

}  // namespace

std::vector<Rule> metalRules() {
    constexpr std::string_view kRimBends =
        "A thin rim bends outwards when the fill is packed, and chips in wear.";
    return {
        atLeast(
            {"floor-wall", "the metal between a channel's floor and the bore"}, leastFloor,
            "A thin floor bends in under the grip, tears in turning or shows through when the bore is sized.",
            {kShallowerChannel, kThickerBand, kLowerBoreRise, kThinnerLiner}),
        atLeast({"rim-left", "the metal between a channel and the left edge"}, leastRim, kRimBends,
                {kNarrowerChannel, kChannelToRight, kWiderBand, kNarrowerLeftEdge}),
        atLeast({"rim-right", "the metal between a channel and the right edge"}, leastRim, kRimBends,
                {kNarrowerChannel, kChannelToLeft, kWiderBand, kNarrowerRightEdge}),
        atLeast({"land", "the metal between two channels"}, leastLand,
                "A thin land between channels bends over under the tool and breaks away.",
                {kNarrowerChannel, kChannelToRight, kChannelToLeft}),
        atLeast({"thinnest-wall",
                 "the least metal of the turned band: between bore, outside, channels and edges, holes left "
                 "aside"},
                leastWall, "The band is weakest where it is thinnest: there it bends and wears through.",
                {kThickerBand, kShallowerChannel, kNarrowerChannel, kWiderBand, kNarrowerLeftEdge,
                 kNarrowerRightEdge, kLowerBoreRise, kLowerOutsideRise, kThinnerLiner, kChannelToRight,
                 kChannelToLeft}),
        atLeast({"liner-wall", "the least metal between the inside and the outside of the liner"},
                {0.25, 0.4, "common practice, no source"},
                "A thin liner wrinkles when it is pressed in and is sanded through when the bore is sized.",
                {kThickerLiner, kLowerBoreRise, kLessEase}),
        atLeast(
            {"hole-to-edge", "the metal between a hole and the edge of the band"}, leastHoleToEdge,
            "A hole close to the edge bulges it out in drilling and when the lip is closed.",
            {kHoleToRight, kHoleToLeft, kWiderBand, kNarrowerSeat, kNarrowerLeftEdge, kNarrowerRightEdge}),
        atLeast(
            {"seat-to-channel", "the metal between a hole and the channel beside it"}, leastHoleToChannel,
            "A thin web between hole and channel breaks through under the drill.",
            {kHoleToRight, kHoleToLeft, kNarrowerSeat, kNarrowerChannel, kChannelToRight, kChannelToLeft}),
        atLeast({"hole-to-hole", "the metal between two holes where they come nearest"}, leastLand,
                "Holes converge towards the finger, and a thin web between them tears.",
                {kNarrowerPilot, kNarrowerSeat, kShallowerSeat, kHoleToRight, kHoleToLeft, kFewerHoles}),
        atLeast({"mouth-to-mouth", "the metal between two holes at the outside"},
                {0.4, 0.8, "from memory: 0.3 to 0.5 mm between tubes; room for a burnisher our own choice"},
                "Between mouths so close no tool gets at the lips, and the land is burnished away.",
                {kNarrowerSeat, kNarrowerPilot, kHoleToRight, kHoleToLeft, kFewerHoles}),
        atLeast({"seat-floor", "the metal between the bottom of a seat or blind hole and the bore"},
                leastFloor,
                "A thin floor under the seat gives way when the tube is pressed in or its lip closed.",
                {kShallowerSeat, kShallowerPilot, kThickerBand, kLowerBoreRise}),
        atLeast({"edge-face-left", "the flat of the left edge between bevel and bore"},
                {0.2, 0.3, "common practice, no source"},
                "With hardly a flat between bevel and bore the edge is sharp, dents and cuts.",
                {kNarrowerLeftEdge, kThickerBand, kLessEase, kLowerBoreRise}),
        atLeast({"edge-face-right", "the flat of the right edge between bevel and bore"},
                {0.2, 0.3, "common practice, no source"},
                "With hardly a flat between bevel and bore the edge is sharp, dents and cuts.",
                {kNarrowerRightEdge, kThickerBand, kLessEase, kLowerBoreRise}),
    };
}

}  // namespace bandwright::check
