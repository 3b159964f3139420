#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>

#include "design/design.hpp"

namespace bandwright::geometry {

/// What made a curve of the section or a face of a part. It travels with the geometry: it picks the material,
/// lets a finding point at a place, and lets a person click the picture and get to the number. A new one is a
/// line here and a row in feature.cpp.
enum class Feature : std::uint8_t {
    Bore,
    BoreCrown,  ///< the rounded part of a comfort bore
    Ease,       ///< rounded corner between bore and edge face
    EdgeFace,
    Bevel,
    EdgeRound,
    Outside,
    ChannelSide,
    ChannelCorner,  ///< the radius between side and floor
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

/// The stretch of the surface that a feature belongs to.
enum class Region : std::uint8_t {
    Bore,  ///< what touches the finger, but for the eased corners
    Ease,
    Edge,  ///< from the eased corner up to the outside
    Outside,
    Channel,
    FillTop,
    LinerJoint,
    HoleSide,
    HoleFloor,  ///< what something can stand on in a hole, or its end
    Tube,
    Stone,
};

/// The half of the band, seen in the section: left is z < 0.
enum class Side : std::uint8_t { None, Left, Right };

/// A feature and which of its kind. Four bytes, because every segment and every face of a mesh has one.
struct Tag {
    Feature feature = Feature::Bore;
    Side side = Side::None;  ///< of the band, or of a channel; none for what has no two sides
    std::uint8_t owner = 0;  ///< the channel's or the setting's number from 0
    std::uint8_t step = 0;   ///< the step of the hole, from 0, that a seat, ledge or bearing belongs to

    constexpr Tag() = default;
    constexpr Tag(Feature feature_, Side side_ = Side::None) : feature(feature_), side(side_) {}
    constexpr Tag(Feature feature_, std::size_t owner_, Side side_ = Side::None, std::size_t step_ = 0)
        : feature(feature_),
          side(side_),
          owner(static_cast<std::uint8_t>(owner_)),
          step(static_cast<std::uint8_t>(step_)) {}

    bool operator==(const Tag&) const = default;
};

/// As a maker says it, e.g. "channel floor".
std::string name(Feature feature);

Region regionOf(Feature feature);

/// Whether faces of this kind belong to the wall or the bottom of a hole.
bool isHoleWall(Feature feature);

/// Whether it is a floor in a hole, or the hole's bottom.
bool isHoleFloor(Tag tag);

/// What touches the finger, with the eased corners.
bool isBore(Tag tag);
/// The inside of the band: its bore, or what lies on the liner.
bool isInside(Tag tag);
/// Edge face, bevel or rounded edge on a side.
bool isEdge(Tag tag, Side side);

/// The channel, from 0, that a side, corner or floor belongs to; nothing for any other feature.
std::optional<std::size_t> channelOf(Tag tag);

/// The setting, from 0, whose hole, tube or stone it is; nothing for any other feature.
std::optional<std::size_t> settingOf(Tag tag);

/// The field of the design file that decides the place of a tag of this design's geometry, e.g.
/// "channels[0].depth" for the first channel's floor.
std::string fieldOf(const design::Design& design, Tag tag);

}  // namespace bandwright::geometry
