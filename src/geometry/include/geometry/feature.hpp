#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

namespace bandwright {

/// What made a curve of the section or a face of a part. It travels with the geometry: it picks the material,
/// lets a finding point at a place, and lets a person click the picture and get to the number.
enum class Feature : std::uint8_t {
    Bore,
    BoreCrown,  ///< the rounded part of a comfort bore
    Ease,       ///< rounded corner between bore and edge face
    EdgeFace,
    Bevel,
    EdgeRound,
    Outside,
    ChannelSide,    ///< index: twice the channel's number, and 1 more on the right
    ChannelCorner,  ///< the radius between side and floor; numbered as the sides
    ChannelFloor,
    FillTop,
    LinerJoint,  ///< where band and liner meet
    Pilot,
    Seat,     ///< side of a wider step of a hole
    Ledge,    ///< flat at the bottom of a wider step
    Bearing,  ///< the same as a cone, for the stone
    HoleBottom,
    Countersink,
    TubeOutside,
    TubeInside,
    TubeSeat,
    TubeLedge,
    TubeEnd,
    TubeLip,
    Table,
    Crown,
    Girdle,
    Pavilion,
};

/// A feature and which of its kind: the side (0 left, 1 right), the channel's or the setting's number from 0.
struct Tag {
    Feature feature = Feature::Bore;
    std::uint16_t index = 0;

    bool operator==(const Tag&) const = default;
};

/// As a maker says it, e.g. "channel floor".
std::string name(Feature feature);

/// Whether faces of this kind belong to the wall or the bottom of a hole.
bool isHoleWall(Feature feature);

/// The channel, from 0, that a side, corner or floor belongs to; nothing for any other feature.
std::optional<std::size_t> channelOf(Tag tag);

}  // namespace bandwright
