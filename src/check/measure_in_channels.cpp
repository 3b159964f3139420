#include <cmath>
#include <optional>

#include "geometry/tolerance.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

/// The channel whose mouth a hole's axis runs through.
std::optional<std::size_t> channelAround(const design::Design& design, const design::Setting& setting) {
    const double z = setting.placement.offset;
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        if (std::abs(z - design.channels[i].offset) < design.channels[i].width / 2) return i;
    return std::nullopt;
}

/// The lesser of the steps the hole cuts into the two sides; where it stays within them there is none.
void measureBite(const StagedRing& ring, std::size_t setting, std::size_t channel, Measures& measures) {
    const design::Setting& s = ring.design.settings[setting];
    const design::Channel& c = ring.design.channels[channel];
    const geometry::HoleSeat seat = geometry::seatOf(s.hole, setting);
    const double mouth = geometry::outsideAt(ring.design, c.offset);
    std::optional<geometry::Gap> least;
    for (const geometry::Side side : kSides) {
        const double sign = signOf(side);
        const double wall = c.offset + sign * c.width / 2;
        const double rim = s.placement.offset + sign * seat.diameter / 2;
        const double bite = sign * (rim - wall);
        if (bite < geometry::kFilm || (least && least->value <= bite)) continue;
        least = geometry::Gap{
            bite, {wall, mouth}, {rim, mouth}, {geometry::Feature::ChannelSide, channel, side}, seat.side};
    }
    if (!least) return;
    measures.push_back(
        measureOf(numbered("seat-bite", setting),
                  "Step that the hole leaves in the channel's side" + ofSetting(ring.design, setting),
                  ring.stage, *least, holeAngle(ring.design, setting), setting));
}

void measureInFloor(const StagedRing& ring, std::size_t setting, std::size_t channel, Measures& measures) {
    const design::Setting& s = ring.design.settings[setting];
    const geometry::HoleSeat hole = geometry::seatOf(s.hole, setting);
    const double z = s.placement.offset;
    const double floor = geometry::channelFloor(ring.design, channel);
    const double seat = geometry::outsideAt(ring.design, z) - hole.depth;
    measures.push_back(measureOf(
        numbered("seat-in-floor", setting),
        "Seat in the metal under the channel" + ofSetting(ring.design, setting), ring.stage,
        {floor - seat, {z, seat}, {z, floor}, hole.floor, {geometry::Feature::ChannelFloor, channel}},
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

}  // namespace bandwright::check
