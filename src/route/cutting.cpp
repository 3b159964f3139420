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
    const std::optional<trade::Sourced>& steel = metal.turningSpeedSteel;
    const bool carbideAlone = steel && steel->value == 0;
    if (tool == trade::ToolMaterial::Carbide || carbideAlone)
        return {metal.turningSpeed.value, carbideAlone ? "carbide (steel does not do here)" : "carbide",
                metal.turningSpeed.source};
    if (steel) return {steel->value, "high-speed steel", steel->source};
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
    constexpr double kNothing = 1e-9, kReadable = 100, kHardlyAnything = 0.02;
    std::vector<double> dial;
    if (total <= kNothing) return dial;
    // Down, so that the last pass has no less than was meant for it.
    const double rough = std::floor((total - finishing) * kReadable + kNothing) / kReadable;
    for (int i = 1; i * roughing < rough - kHardlyAnything; ++i)
        dial.push_back(base::roundedTo(i * roughing, 3));
    if (rough > kHardlyAnything) dial.push_back(rough);
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
