#include "geometry/feature.hpp"

namespace bandwright {

std::string name(Feature feature) {
    switch (feature) {
        case Feature::Bore:
            return "bore";
        case Feature::BoreCrown:
            return "bore crown";
        case Feature::Ease:
            return "eased corner";
        case Feature::EdgeFace:
            return "edge face";
        case Feature::Bevel:
            return "bevel";
        case Feature::EdgeRound:
            return "rounded edge";
        case Feature::Outside:
            return "outside";
        case Feature::ChannelSide:
            return "channel side";
        case Feature::ChannelCorner:
            return "channel corner";
        case Feature::ChannelFloor:
            return "channel floor";
        case Feature::FillTop:
            return "top of the fill";
        case Feature::LinerJoint:
            return "joint with the liner";
        case Feature::Pilot:
            return "pilot";
        case Feature::Seat:
            return "seat";
        case Feature::Ledge:
            return "ledge";
        case Feature::Bearing:
            return "bearing";
        case Feature::HoleBottom:
            return "bottom of the hole";
        case Feature::Countersink:
            return "countersink";
        case Feature::TubeOutside:
            return "outside of the tube";
        case Feature::TubeInside:
            return "inside of the tube";
        case Feature::TubeSeat:
            return "seat in the tube";
        case Feature::TubeLedge:
            return "ledge in the tube";
        case Feature::TubeEnd:
            return "end of the tube";
        case Feature::TubeLip:
            return "lip of the tube";
        case Feature::Table:
            return "table";
        case Feature::Crown:
            return "crown";
        case Feature::Girdle:
            return "girdle";
        case Feature::Pavilion:
            return "pavilion";
    }
    return {};
}

bool isHoleWall(Feature feature) {
    switch (feature) {
        case Feature::Pilot:
        case Feature::Seat:
        case Feature::Ledge:
        case Feature::Bearing:
        case Feature::HoleBottom:
        case Feature::Countersink:
            return true;
        default:
            return false;
    }
}

std::optional<std::size_t> channelOf(Tag tag) {
    switch (tag.feature) {
        case Feature::ChannelFloor:
            return tag.index;
        case Feature::ChannelSide:
        case Feature::ChannelCorner:
            return tag.index / 2U;
        default:
            return std::nullopt;
    }
}

}  // namespace bandwright
