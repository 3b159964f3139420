#include <cmath>
#include <optional>

#include "measure.hpp"

namespace bandwright {

namespace {

/// The channel whose mouth a hole's axis runs through.
std::optional<std::size_t> channelAround(const Design& design, const Setting& setting) {
    const double z = setting.placement.offset;
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        if (std::abs(z - design.channels[i].offset) < design.channels[i].width / 2) return i;
    return std::nullopt;
}

double widest(const Hole& hole) {
    return hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter;
}

/// The lesser of the steps the hole cuts into the two sides; where it stays within them there is none.
void measureBite(const StagedRing& ring, std::size_t setting, std::size_t channel, Measures& measures) {
    constexpr double kTouch = 1e-6;
    const Setting& s = ring.design.settings[setting];
    const Channel& c = ring.design.channels[channel];
    const double mouth = outsideAt(ring.design, c.offset);
    std::optional<Gap> least;
    for (const Side side : kSides) {
        const double sign = signOf(side);
        const double wall = c.offset + sign * c.width / 2;
        const double rim = s.placement.offset + sign * widest(s.hole) / 2;
        const double bite = sign * (rim - wall);
        if (bite < kTouch || (least && least->value <= bite)) continue;
        least = Gap{bite,
                    {wall, mouth},
                    {rim, mouth},
                    {Feature::ChannelSide, channel, side},
                    {Feature::Seat, setting}};
    }
    if (!least) return;
    measures.push_back(measureOf(numbered("seat-bite", setting),
                                 "Step of the hole in the channel's side" + ofSetting(ring.design, setting),
                                 ring.stage, *least, holeAngle(ring.design, setting), setting));
}

void measureInFloor(const StagedRing& ring, std::size_t setting, std::size_t channel, Measures& measures) {
    const Setting& s = ring.design.settings[setting];
    const Channel& c = ring.design.channels[channel];
    const double depth = s.hole.steps.empty() ? s.hole.pilotDepth : s.hole.steps.back().depth;
    const double z = s.placement.offset;
    const double floor = outsideAt(ring.design, c.offset) - c.depth;
    const double seat = outsideAt(ring.design, z) - depth;
    measures.push_back(measureOf(
        numbered("seat-in-floor", setting),
        "Seat in the metal under the channel" + ofSetting(ring.design, setting), ring.stage,
        {floor - seat, {z, seat}, {z, floor}, {Feature::Ledge, setting}, {Feature::ChannelFloor, channel}},
        holeAngle(ring.design, setting), setting));
}

}  // namespace

void measureInChannels(const StagedRing& ring, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        const auto channel = channelAround(ring.design, ring.design.settings[i]);
        if (!channel) continue;
        measureBite(ring, i, *channel, measures);
        if (ring.design.settings[i].tube) measureInFloor(ring, i, *channel, measures);
    }
}

}  // namespace bandwright
