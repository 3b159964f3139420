#include "rules.hpp"

#include <algorithm>
#include <array>

namespace bandwright {

namespace {

/// Above the limit by this share a wall is comfortable: room for a slip of the tool and the next polish. Our
/// own choice.
constexpr double kComfort = 1.2;

const Metal& bandMetal(const Design& design, const Catalogue& catalogue) {
    return *catalogue.metal(design.band.metal);
}

Limit fromMetal(const Sourced& least, std::string_view source = {}) {
    return {least.value, kComfort * least.value, std::string(source) + least.source};
}

Limit leastFloor(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastFloor);
}

Limit leastRim(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastRim);
}

Limit leastLand(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastWall, "taken as the least wall; ");
}

Limit leastWall(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastWall);
}

Limit leastHoleToEdge(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastHoleToEdge);
}

Limit leastHoleToChannel(const Design& design, const Catalogue& catalogue, const Measure& /*measure*/) {
    return fromMetal(bandMetal(design, catalogue).leastHoleToEdge, "taken as between hole and edge; ");
}

Limit leastToFinger(const Design& /*design*/, const Catalogue& /*catalogue*/, const Measure& /*measure*/) {
    return {
        0.2, 0.3,
        "forum advice, orchid 34008: the metal at least 0.2 mm deeper than the stone; 0.3 mm from memory"};
}

constexpr Lever kThickerBand{"band.thickness", "the thickness of the band", 1};
constexpr Lever kWiderBand{"band.width", "the width of the band", 1};
constexpr Lever kLowerBoreRise{"band.bore.rise", "the rise of the comfort bore", -1};
constexpr Lever kNarrowerEdge{"band.#.width", "the width of the edge", -1};
constexpr Lever kShallowerChannel{"channels[#].depth", "the depth", -1};
constexpr Lever kNarrowerChannel{"channels[#].width", "the width", -1};
constexpr Lever kChannelToRight{"channels[#].offset", "the offset", 1};
constexpr Lever kChannelToLeft{"channels[#].offset", "the offset", -1};
constexpr Lever kHoleToRight{"settings[#].placement.offset", "the offset", 1};
constexpr Lever kHoleToLeft{"settings[#].placement.offset", "the offset", -1};
constexpr Lever kNarrowerSeat{"settings[#].hole.steps[#].diameter", "the seat's diameter", -1};
constexpr Lever kShallowerSeat{"settings[#].hole.steps[#].depth", "the seat's depth", -1};
constexpr Lever kShallowerPilot{"settings[#].hole.pilot-depth", "the depth of the pilot", -1};
constexpr Lever kHigherLedge{"settings[#].tube.seat-depth", "the depth of the tube's seat", -1};
constexpr Lever kSmallerStone{"settings[#].stone.diameter", "the diameter of the stone", -1};

std::vector<Rule> makeRules() {
    return {
        {"floor-wall",
         leastFloor,
         "A thin floor bends in under the grip, tears in turning or shows through when the bore is sized.",
         {kShallowerChannel, kThickerBand, kLowerBoreRise}},
        {"rim-left",
         leastRim,
         "A thin rim bends outwards when the fill is packed and chips in wear.",
         {kNarrowerChannel, kChannelToRight, kWiderBand, kNarrowerEdge}},
        {"rim-right",
         leastRim,
         "A thin rim bends outwards when the fill is packed and chips in wear.",
         {kNarrowerChannel, kChannelToLeft, kWiderBand, kNarrowerEdge}},
        {"land",
         leastLand,
         "A thin land between channels bends over under the tool and breaks away.",
         {kNarrowerChannel, kChannelToRight, kChannelToLeft}},
        {"thinnest-wall",
         leastWall,
         "The band is weakest where it is thinnest: there it bends and wears through.",
         {kThickerBand,
          kShallowerChannel,
          kNarrowerChannel,
          kWiderBand,
          kNarrowerEdge,
          kLowerBoreRise,
          {"band.outside.rise", "the rise of the outside", -1}}},
        {"hole-to-edge",
         leastHoleToEdge,
         "A hole close to the edge bulges it out in drilling and when the lip is closed.",
         {kHoleToRight, kHoleToLeft, kWiderBand, kNarrowerSeat, kNarrowerEdge}},
        {"seat-to-channel",
         leastHoleToChannel,
         "A thin web between hole and channel breaks through under the drill.",
         {kHoleToRight, kHoleToLeft, kNarrowerSeat, kNarrowerChannel, kChannelToRight, kChannelToLeft}},
        {"seat-floor",
         leastFloor,
         "A thin floor under the seat gives way when the tube is pressed or the lip closed.",
         {kShallowerSeat, kShallowerPilot, kThickerBand, kLowerBoreRise}},
        {"culet-to-finger",
         leastToFinger,
         "The finger bulges into the hole, and the point of the stone presses on it.",
         {kShallowerSeat, kHigherLedge, kThickerBand, kSmallerStone}},
    };
}

}  // namespace

std::span<const Rule> rules() {
    static const std::vector<Rule> kRules = makeRules();
    return kRules;
}

const Rule* ruleFor(const Measure& measure) {
    const std::string_view id = std::string_view(measure.id).substr(0, measure.id.find('@'));
    const auto all = rules();
    const auto rule = std::find_if(all.begin(), all.end(), [&](const Rule& r) { return r.id == id; });
    return rule == all.end() ? nullptr : &*rule;
}

Verdict judged(double value, const Limit& limit) {
    // Sections are exact to about a nanometre; a wall cut to just the limit holds it.
    constexpr double kExact = 1e-6;
    if (value < limit.limit - kExact) return Verdict::NoGo;
    if (value < limit.comfortable - kExact) return Verdict::Marginal;
    return Verdict::Go;
}

}  // namespace bandwright
