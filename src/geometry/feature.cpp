#include "geometry/feature.hpp"

#include <algorithm>
#include <array>
#include <string_view>

#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

/// In a path "#" stands for the owner and then the step of a tag, and "@" for its side.
struct FeatureRow {
    Feature feature;
    std::string_view name;
    Region region;
    std::string_view field;
    std::string_view ofDome{};  ///< where the stone is a rose cut or a cabochon and another field decides
};

constexpr std::array kFeatures{
    FeatureRow{Feature::Bore, "bore", Region::Bore, "finger.size"},
    FeatureRow{Feature::BoreCrown, "bore crown", Region::Bore, "band.bore.rise"},
    FeatureRow{Feature::Ease, "eased corner", Region::Ease, "band.bore.ease"},
    FeatureRow{Feature::EdgeFace, "edge face", Region::Edge, "band.width"},
    FeatureRow{Feature::Bevel, "bevel", Region::Edge, "band.@.width"},
    FeatureRow{Feature::EdgeRound, "rounded edge", Region::Edge, "band.@.width"},
    FeatureRow{Feature::Outside, "outside", Region::Outside, "band.thickness"},
    FeatureRow{Feature::ChannelSide, "channel side", Region::Channel, "channels[#].width"},
    FeatureRow{Feature::ChannelCorner, "channel corner", Region::Channel, "channels[#].floor-radius"},
    FeatureRow{Feature::ChannelFloor, "channel floor", Region::Channel, "channels[#].depth"},
    FeatureRow{Feature::FillTop, "top of the fill", Region::FillTop, "channels[#].fill.proud"},
    FeatureRow{Feature::LinerJoint, "joint with the liner", Region::LinerJoint, "band.liner.thickness"},
    FeatureRow{Feature::Pilot, "pilot", Region::HoleSide, "settings[#].hole.pilot-diameter"},
    FeatureRow{Feature::Seat, "seat", Region::HoleSide, "settings[#].hole.steps[#].diameter"},
    FeatureRow{Feature::Ledge, "ledge", Region::HoleFloor, "settings[#].hole.steps[#].depth"},
    FeatureRow{Feature::Bearing, "bearing", Region::HoleFloor, "settings[#].hole.steps[#].bearing"},
    FeatureRow{Feature::HoleBottom, "bottom of the hole", Region::HoleFloor, "settings[#].hole.pilot-depth"},
    FeatureRow{Feature::Countersink, "countersink", Region::HoleSide, "settings[#].hole.countersink"},
    FeatureRow{Feature::TubeOutside, "outside of the tube", Region::Tube, "settings[#].tube.outer-diameter"},
    FeatureRow{Feature::TubeInside, "inside of the tube", Region::Tube, "settings[#].tube.inner-diameter"},
    FeatureRow{Feature::TubeSeat, "seat in the tube", Region::Tube, "settings[#].tube.seat-diameter"},
    FeatureRow{Feature::TubeLedge, "ledge in the tube", Region::Tube, "settings[#].tube.seat-depth"},
    FeatureRow{Feature::TubeEnd, "end of the tube", Region::Tube, "settings[#].tube.height"},
    FeatureRow{Feature::TubeLip, "lip of the tube", Region::Tube, "settings[#].tube.height"},
    FeatureRow{Feature::Table, "table", Region::Stone, "settings[#].stone.table"},
    FeatureRow{Feature::Crown, "crown", Region::Stone, "settings[#].stone.crown-angle",
               "settings[#].stone.dome"},
    FeatureRow{Feature::Girdle, "girdle", Region::Stone, "settings[#].stone.diameter"},
    FeatureRow{Feature::Pavilion, "pavilion", Region::Stone, "settings[#].stone.pavilion-angle",
               "settings[#].stone.girdle"},
};

constexpr bool eachFeatureInItsPlace() {
    for (std::size_t i = 0; i < kFeatures.size(); ++i)
        if (static_cast<std::size_t>(kFeatures[i].feature) != i) return false;
    return kFeatures.back().feature == Feature::Pavilion;
}
static_assert(eachFeatureInItsPlace(), "one row for each feature, in the order of the enumeration");

constexpr const FeatureRow& rowOf(Feature feature) {
    return kFeatures[static_cast<std::size_t>(feature)];
}

/// The flat base of a domed stone lies as deep as its girdle is thick. A model is scaled to its girdle; all
/// else about it is in its file.
std::string_view fieldPattern(const design::Design& design, Tag tag) {
    const FeatureRow& row = rowOf(tag.feature);
    if (row.region != Region::Stone || tag.owner >= design.settings.size()) return row.field;
    if (!design.settings[tag.owner].stone) return row.field;
    const design::Stone& stone = *design.settings[tag.owner].stone;
    if (!stone.model.empty()) return rowOf(Feature::Girdle).field;
    return hasFlatBase(stone.cut) && !row.ofDome.empty() ? row.ofDome : row.field;
}

}  // namespace

std::string name(Feature feature) {
    return std::string(rowOf(feature).name);
}

Region regionOf(Feature feature) {
    return rowOf(feature).region;
}

bool isHoleWall(Feature feature) {
    const Region region = regionOf(feature);
    return region == Region::HoleSide || region == Region::HoleFloor;
}

bool isHoleFloor(Tag tag) {
    return regionOf(tag.feature) == Region::HoleFloor;
}

bool isBore(Tag tag) {
    const Region region = regionOf(tag.feature);
    return region == Region::Bore || region == Region::Ease;
}

bool isInside(Tag tag) {
    return isBore(tag) || regionOf(tag.feature) == Region::LinerJoint;
}

bool isEdge(Tag tag, Side side) {
    return regionOf(tag.feature) == Region::Edge && tag.side == side;
}

std::optional<std::size_t> channelOf(Tag tag) {
    if (regionOf(tag.feature) != Region::Channel) return std::nullopt;
    return tag.owner;
}

std::optional<std::size_t> settingOf(Tag tag) {
    const Region region = regionOf(tag.feature);
    if (!isHoleWall(tag.feature) && region != Region::Tube && region != Region::Stone) return std::nullopt;
    return tag.owner;
}

std::string fieldOf(const design::Design& design, Tag tag) {
    std::string field;
    std::uint8_t number = tag.owner;
    for (const char c : fieldPattern(design, tag)) {
        if (c == '#') {
            field += std::to_string(number);
            number = tag.step;
        } else if (c == '@') {
            field += tag.side == Side::Left ? "left" : "right";
        } else {
            field += c;
        }
    }
    return field;
}

}  // namespace bandwright::geometry
