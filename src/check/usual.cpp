#include "usual.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "geometry/stone.hpp"

namespace bandwright::check {

namespace {

// All mm, and our own choice: inside the limits of the rules for a hard metal.
constexpr double kRim = 0.85, kFloor = 0.7, kEdge = 0.3;
constexpr double kLip = 0.26, kLedge = 0.32, kLipHeight = 0.4, kTubeProud = 0.2, kGrip = 0.75;
constexpr double kStep = 0.1, kNarrowest = 0.5;

double rounded(double value) {
    return std::round(value * 100) / 100;
}
double roundedUp(double value) {
    return std::ceil(value * 100 - 1e-6) / 100;
}

/// Every part of the hole a little wider and less deep than the one below, from the seat down.
void nest(design::Hole& hole) {
    double diameter = 0, depth = 0;
    for (std::size_t i = hole.steps.size(); i-- > 0;) {
        design::HoleStep& step = hole.steps[i];
        if (i + 1 < hole.steps.size()) {
            step.diameter = std::min(step.diameter, diameter - kStep);
            step.depth = std::max(step.depth, depth + kStep);
        }
        diameter = step.diameter;
        depth = step.depth;
    }
    if (hole.steps.empty()) return;
    hole.pilotDiameter = std::min(hole.pilotDiameter, diameter - kStep);
    hole.pilotDepth = std::max(hole.pilotDepth, depth + kStep);
}

/// mm from a ledge up to the upper rim of the girdle of a stone that sits on it.
double girdleOverLedge(const design::Stone& stone) {
    const bool isFlatBelow =
        stone.cut == design::StoneCut::RoseCut || stone.cut == design::StoneCut::Cabochon;
    const double under = isFlatBelow ? 0 : kLedge * std::tan(stone.pavilionAngle * std::numbers::pi / 180);
    return under + stone.girdle / 100 * stone.diameter;
}

}  // namespace

double usualGap(design::Join join) {
    switch (join) {
        case design::Join::Adhesive:
            return 0.015;
        case design::Join::Solder:
            return 0.04;
        case design::Join::LaserWeld:
            return 0.005;
        case design::Join::Press:
            return -0.005;
    }
    return 0;
}

double usualSeat(const design::Stone& stone) {
    constexpr double kDropsIn = 0.02;
    return roundedUp(geometry::girdleLength(stone) + kDropsIn);
}

design::Design usualBand(design::Design design) {
    design::Band& band = design.band;
    for (design::Edge* edge : {&band.left, &band.right})
        edge->width = std::min(edge->width, kEdge);
    band.bore.rise = std::min(band.bore.rise, 0.1);
    band.bore.ease = std::clamp(band.bore.ease, 0.1, 0.2);
    band.outside.rise = std::min(band.outside.rise, 0.2);
    double thickness = std::clamp(band.thickness, 2.0, 3.0);
    if (band.liner) band.liner->thickness = std::clamp(band.liner->thickness, 0.45, 0.6);
    for (const design::Setting& setting : design.settings)
        if (setting.tube || setting.stone) thickness = std::max(thickness, 2.6);
    band.thickness = rounded(thickness);
    return design;
}

design::Design usualChannels(design::Design design) {
    const design::Band& band = design.band;
    const double left = -band.width / 2 + band.left.width + kRim;
    const double right = band.width / 2 - band.right.width - kRim;
    const double deepest = band.thickness - band.outside.rise - band.bore.rise - kFloor;
    for (design::Channel& channel : design.channels) {
        const double from = std::max(left, channel.offset - channel.width / 2);
        const double to = std::min(right, channel.offset + channel.width / 2);
        channel.width = rounded(std::max(kNarrowest, to - from));
        channel.offset = rounded((from + to) / 2);
        channel.depth = rounded(std::max(0.1, std::min(channel.depth, deepest)));
        channel.draft = std::min(channel.draft, 0.0);
        channel.floorRadius = std::min({channel.floorRadius, channel.depth / 2, channel.width / 4});
    }
    return design;
}

design::Setting usualFit(design::Setting setting) {
    design::Hole& hole = setting.hole;
    double& seat = hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter;
    double& depth = hole.steps.empty() ? hole.pilotDepth : hole.steps.back().depth;
    hole.countersink = 0;
    if (setting.tube) {
        design::Tube& tube = *setting.tube;
        if (setting.stone) tube.seatDiameter = usualSeat(*setting.stone);
        tube.outerDiameter = rounded(tube.seatDiameter + 2 * kLip);
        tube.innerDiameter = std::max(0.1, rounded(tube.seatDiameter - 2 * kLedge));
        seat = rounded(tube.outerDiameter + 2 * usualGap(tube.join));
        tube.seatDepth = rounded(kLipHeight + (setting.stone ? girdleOverLedge(*setting.stone) : 0.1));
        tube.height = rounded(tube.seatDepth + kGrip);
        depth = rounded(tube.height - kTubeProud);
    } else if (setting.stone) {
        const double stone = usualSeat(*setting.stone);
        seat = stone;
        if (!hole.steps.empty()) depth = std::max(depth, 0.35);
        if (!hole.steps.empty()) hole.pilotDiameter = std::min(hole.pilotDiameter, stone - 2 * kLedge);
    }
    nest(hole);
    return setting;
}

design::Design usualSetting(design::Design design, std::size_t number) {
    design::Setting& setting = design.settings[number];
    setting = usualFit(std::move(setting));
    const design::Hole& hole = setting.hole;
    const double seat = hole.steps.empty() ? hole.pilotDiameter : hole.steps.back().diameter;
    const double room =
        std::max(0.0, design.band.width / 2 - std::max(design.band.left.width, design.band.right.width) / 2 -
                          seat / 2 - kRim);
    setting.placement.offset = rounded(std::clamp(setting.placement.offset, -room, room));
    if (setting.placement.count > 1 && setting.placement.angles.empty()) setting.placement.spacing = 0;
    return design;
}

}  // namespace bandwright::check
