#include "cutting.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"

namespace bandwright::route {

namespace {

constexpr double kDegrees = 180 / std::numbers::pi;

}  // namespace

double spindleSpeed(double speed, double diameter) {
    constexpr double kMmPerMetre = 1000;
    return kMmPerMetre * speed / (std::numbers::pi * diameter);
}

double drillPoint(double diameter, double angle) {
    return diameter / 2 / std::tan(angle / 2 / kDegrees);
}

Speed turningSpeed(const trade::Metal& metal, trade::ToolMaterial tool) {
    constexpr double kSteelToCarbide = 0.5;
    if (tool == trade::ToolMaterial::Carbide)
        return {metal.turningSpeed.value, "carbide", metal.turningSpeed.source};
    return {kSteelToCarbide * metal.turningSpeed.value, "high-speed steel",
            "half of that for carbide: " + metal.turningSpeed.source};
}

Speed drillingSpeed(const trade::Metal& metal) {
    return {metal.drillingSpeed.value, "high-speed or cobalt steel", metal.drillingSpeed.source};
}

double drillFeed(double diameter) {
    constexpr double kSmall = 3.2, kMiddle = 6.4;
    if (diameter < kSmall) return 0.04;
    return diameter < kMiddle ? 0.08 : 0.14;
}

Bite biteOf(const trade::Metal& metal) {
    constexpr double kHardOnTheTool = 50;  // m/min
    if (metal.turningSpeed.value < kHardOnTheTool) return {0.25, 0.1, 0.1};
    return {0.5, 0.1, 0.25};
}

std::vector<double> dialOf(double total, double roughing, double finishing) {
    constexpr double kNothing = 1e-9;
    std::vector<double> dial;
    if (total <= kNothing) return dial;
    const double rough = std::max(0.0, total - finishing);
    const auto count = static_cast<int>(std::ceil(rough / roughing - kNothing));
    for (int i = 1; i <= count; ++i) {
        const double at = base::roundedTo(rough * i / count, 2);
        if (at > (dial.empty() ? 0 : dial.back()) && at < total) dial.push_back(at);
    }
    dial.push_back(total);
    return dial;
}

Cut cutAt(const Speed& speed, double diameter, const std::optional<trade::Spindle>& spindle) {
    Cut cut;
    cut.speed = speed.value;
    cut.diameter = diameter;
    cut.source = speed.tool + ": " + speed.source;
    const double wanted = spindleSpeed(speed.value, diameter);
    cut.spindle = spindle ? spindle->nearest(wanted) : wanted;
    cut.clipped = spindle && wanted > spindle->most;
    return cut;
}

CompoundSetting compoundFor(double axialLeg, double radialLeg) {
    const double slope = std::hypot(axialLeg, radialLeg);
    if (slope == 0) return {};
    return {std::atan2(radialLeg, axialLeg) * kDegrees, slope, radialLeg, axialLeg,
            axialLeg * radialLeg / slope};
}

}  // namespace bandwright::route
