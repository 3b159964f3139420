#include <algorithm>

#include "geometry/tolerance.hpp"
#include "measure.hpp"

namespace bandwright {

namespace {

std::vector<Segment> channelSegments(const Section& band, std::size_t channel) {
    return segmentsWhere(band, [&](Tag tag) { return channelOf(tag) == channel; });
}

Gap nothing(Vec2 place, Feature from, std::size_t channel, Feature to) {
    return {0, place, place, {from, channel}, {to}};
}

/// Where the middle of a channel's floor is or would be.
Vec2 floorMiddle(const Design& design, std::size_t channel) {
    return {design.channels[channel].offset, channelFloor(design, channel)};
}

/// Whether a channel that left no floor in the band was cut through it, and not swallowed by another.
bool cutThrough(const Design& design, const Workpiece& piece, std::size_t channel) {
    Design alone = design;
    alone.channels = {design.channels[channel]};
    const Section band = sections(alone, piece).band;
    return segmentsWhere(band, [](Tag tag) { return tag.feature == Feature::ChannelFloor; }).empty();
}

void measureFloor(const StagedRing& ring, std::size_t channel, Measures& measures) {
    const Section& band = ring.plain.band;
    const auto floor = segmentsWhere(
        band, [&](Tag tag) { return channelOf(tag) == channel && tag.feature != Feature::ChannelSide; });
    std::optional<Gap> gap = shortest(floor, segmentsWhere(band, isInside));
    if (!gap && !cutThrough(ring.design, ring.piece, channel)) return;
    if (!gap) gap = nothing(floorMiddle(ring.design, channel), Feature::ChannelFloor, channel, Feature::Bore);
    measures.push_back(measureOf(numbered("floor-wall", channel),
                                 "Floor under " + channelName(ring.design, channel), ring.stage, *gap,
                                 ring.quietAngle, channel));
}

double mouthEnd(const Channel& channel, double side) {
    return side * channel.offset + channel.width / 2;
}

/// Whether another channel lies between this one and the edge; then there is land on that side and no rim.
bool screened(const Design& design, std::size_t channel, double side) {
    const Channel& c = design.channels[channel];
    return std::any_of(design.channels.begin(), design.channels.end(), [&](const Channel& other) {
        return side * other.offset - other.width / 2 > mouthEnd(c, side);
    });
}

void measureRim(const StagedRing& ring, std::size_t channel, Side side, Measures& measures) {
    const Design& design = ring.design;
    const double sign = signOf(side);
    if (screened(design, channel, sign)) return;
    const auto flank = segmentsWhere(ring.plain.band, [&](Tag tag) {
        return channelOf(tag) == channel && tag.feature != Feature::ChannelFloor && tag.side == side;
    });
    std::optional<Gap> gap =
        shortest(flank, segmentsWhere(ring.plain.band, [&](Tag tag) { return isEdge(tag, side); }));
    if (!gap) {
        // Either it was cut away with the edge, or another channel took it.
        if (mouthEnd(design.channels[channel], sign) < ring.piece.band.width / 2) return;
        const Vec2 corner{sign * ring.piece.band.width / 2, floorMiddle(design, channel).r};
        gap = nothing(corner, Feature::ChannelFloor, channel, Feature::EdgeFace);
    }
    const bool left = side == Side::Left;
    measures.push_back(
        measureOf(numbered(left ? "rim-left" : "rim-right", channel),
                  std::string(left ? "Left" : "Right") + " rim of " + channelName(design, channel),
                  ring.stage, *gap, ring.quietAngle, channel));
}

/// Whether both mouths leave land between them, and no third channel cuts into it.
bool areNeighbours(const std::vector<Channel>& channels, std::size_t left, std::size_t right) {
    const double from = mouthEnd(channels[left], 1);
    const double to = -mouthEnd(channels[right], -1);
    return from < to && std::none_of(channels.begin(), channels.end(), [&](const Channel& c) {
               return -mouthEnd(c, -1) < to && mouthEnd(c, 1) > from;
           });
}

/// Channels that run into each other leave no land and mean to.
void measureLand(const StagedRing& ring, Measures& measures) {
    const std::vector<Channel>& channels = ring.design.channels;
    std::size_t count = 0;
    for (std::size_t i = 0; i < channels.size(); ++i) {
        for (std::size_t j = 0; j < channels.size(); ++j) {
            if (!areNeighbours(channels, i, j)) continue;
            const auto gap =
                shortest(channelSegments(ring.plain.band, i), channelSegments(ring.plain.band, j));
            if (!gap || gap->value < kFilm) continue;
            const std::string label = "Land between channels " + std::to_string(std::min(i, j) + 1) +
                                      " and " + std::to_string(std::max(i, j) + 1);
            measures.push_back(
                measureOf(numbered("land", count++), label, ring.stage, *gap, ring.quietAngle, i));
        }
    }
}

}  // namespace

void measureChannels(const StagedRing& ring, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i) {
        measureFloor(ring, i, measures);
        for (const Side side : kSides)
            measureRim(ring, i, side, measures);
    }
    measureLand(ring, measures);
}

}  // namespace bandwright
