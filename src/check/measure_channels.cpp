#include <algorithm>

#include "geometry/tolerance.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

std::vector<geometry::Segment> channelSegments(const geometry::Section& band, std::size_t channel) {
    return geometry::segmentsWhere(band,
                                   [&](geometry::Tag tag) { return geometry::channelOf(tag) == channel; });
}

geometry::Gap nothing(geometry::Vec2 place, geometry::Feature from, std::size_t channel,
                      geometry::Feature to) {
    return {0, place, place, {from, channel}, {to}};
}

/// Where the middle of a channel's floor is or would be.
geometry::Vec2 floorMiddle(const design::Design& design, std::size_t channel) {
    return {design.channels[channel].offset, geometry::channelFloor(design, channel)};
}

/// Whether a channel that left no floor in the band was cut through it, and not swallowed by another.
bool cutThrough(const design::Design& design, const geometry::Workpiece& piece, std::size_t channel) {
    design::Design alone = design;
    alone.channels = {design.channels[channel]};
    const geometry::Section band = geometry::sections(alone, piece).band;
    return geometry::segmentsWhere(
               band, [](geometry::Tag tag) { return tag.feature == geometry::Feature::ChannelFloor; })
        .empty();
}

void measureFloor(const StagedRing& ring, std::size_t channel, Measures& measures) {
    const geometry::Section& band = ring.plain.band;
    const auto floor = geometry::segmentsWhere(band, [&](geometry::Tag tag) {
        return geometry::channelOf(tag) == channel && tag.feature != geometry::Feature::ChannelSide;
    });
    std::optional<geometry::Gap> gap =
        geometry::shortestInside(band, floor, geometry::segmentsWhere(band, geometry::isInside));
    if (!gap && !cutThrough(ring.design, ring.piece, channel)) return;
    if (!gap)
        gap = nothing(floorMiddle(ring.design, channel), geometry::Feature::ChannelFloor, channel,
                      geometry::Feature::Bore);
    measures.push_back(measureOf(numbered("floor-wall", channel),
                                 "Floor under " + channelName(ring.design, channel), ring.stage, *gap,
                                 ring.quietAngle, channel));
}

double mouthEnd(const design::Channel& channel, double side) {
    return side * channel.offset + channel.width / 2;
}

/// Whether another channel lies between this one and the edge; then there is land on that side and no rim.
bool screened(const design::Design& design, std::size_t channel, double side) {
    const design::Channel& c = design.channels[channel];
    return std::any_of(design.channels.begin(), design.channels.end(), [&](const design::Channel& other) {
        return side * other.offset - other.width / 2 > mouthEnd(c, side);
    });
}

/// The rim beside a channel, if there is one.
std::optional<geometry::Gap> measureRim(const StagedRing& ring, std::size_t channel, geometry::Side side,
                                        Measures& measures) {
    const design::Design& design = ring.design;
    const double sign = signOf(side);
    if (screened(design, channel, sign)) return std::nullopt;
    const auto flank = geometry::segmentsWhere(ring.plain.band, [&](geometry::Tag tag) {
        return geometry::channelOf(tag) == channel && tag.feature != geometry::Feature::ChannelFloor &&
               tag.side == side;
    });
    std::optional<geometry::Gap> gap = geometry::shortestInside(
        ring.plain.band, flank, geometry::segmentsWhere(ring.plain.band, [&](geometry::Tag tag) {
            return geometry::isEdge(tag, side);
        }));
    if (!gap) {
        // Either it was cut away with the edge, or another channel took it.
        if (mouthEnd(design.channels[channel], sign) < ring.piece.band.width / 2) return std::nullopt;
        const geometry::Vec2 corner{sign * ring.piece.band.width / 2, floorMiddle(design, channel).r};
        gap = nothing(corner, geometry::Feature::ChannelFloor, channel, geometry::Feature::EdgeFace);
    }
    const bool left = side == geometry::Side::Left;
    measures.push_back(
        measureOf(numbered(left ? "rim-left" : "rim-right", channel),
                  std::string(left ? "Left" : "Right") + " rim of " + channelName(design, channel),
                  ring.stage, *gap, ring.quietAngle, channel));
    return gap;
}

/// How high the thinner of a channel's rims stands for its thickness.
void measureSlenderness(const StagedRing& ring, std::size_t channel, const geometry::Gap& rim,
                        Measures& measures) {
    if (rim.value < geometry::kFilm) return;  // there is none, and its own rule says so
    const double depth = ring.design.channels[channel].depth;
    Measure m = measureOf(numbered("rim-slender", channel),
                          "Height of the thinner rim beside " + channelName(ring.design, channel), ring.stage,
                          rim, ring.quietAngle, channel);
    m.value = depth / rim.value;
    m.unit = "of its thickness";
    measures.push_back(std::move(m));
}

/// Whether both mouths leave land between them, and no third channel cuts into it.
bool areNeighbours(const std::vector<design::Channel>& channels, std::size_t left, std::size_t right) {
    const double from = mouthEnd(channels[left], 1);
    const double to = -mouthEnd(channels[right], -1);
    return from < to && std::none_of(channels.begin(), channels.end(), [&](const design::Channel& c) {
               return -mouthEnd(c, -1) < to && mouthEnd(c, 1) > from;
           });
}

/// Channels that run into each other leave no land on purpose.
void measureLand(const StagedRing& ring, Measures& measures) {
    const std::vector<design::Channel>& channels = ring.design.channels;
    std::size_t count = 0;
    for (std::size_t i = 0; i < channels.size(); ++i) {
        for (std::size_t j = 0; j < channels.size(); ++j) {
            if (!areNeighbours(channels, i, j)) continue;
            const auto gap = geometry::shortestInside(ring.plain.band, channelSegments(ring.plain.band, i),
                                                      channelSegments(ring.plain.band, j));
            if (!gap || gap->value < geometry::kFilm) continue;
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
        std::optional<geometry::Gap> thinner;
        for (const geometry::Side side : kSides) {
            const auto rim = measureRim(ring, i, side, measures);
            if (rim && (!thinner || rim->value < thinner->value)) thinner = rim;
        }
        if (thinner) measureSlenderness(ring, i, *thinner, measures);
    }
    measureLand(ring, measures);
}

}  // namespace bandwright::check
