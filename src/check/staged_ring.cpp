#include "staged_ring.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright {

namespace {

constexpr double kDegree = std::numbers::pi / 180;

}  // namespace

double angleAwayFromHoles(const Design& design) {
    std::vector<double> angles;
    for (const Setting& setting : design.settings) {
        const std::vector<double> placed = placedAngles(setting.placement);
        angles.insert(angles.end(), placed.begin(), placed.end());
    }
    if (angles.empty()) return 0;
    std::sort(angles.begin(), angles.end());
    angles.push_back(angles.front() + 360);
    double widest = 0;
    double middle = 0;
    for (std::size_t i = 0; i + 1 < angles.size(); ++i) {
        if (angles[i + 1] - angles[i] <= widest) continue;
        widest = angles[i + 1] - angles[i];
        middle = (angles[i] + angles[i + 1]) / 2;
    }
    return middle * kDegree;
}

std::vector<SettingBodies> allBodies(const Design& design) {
    std::vector<SettingBodies> bodies;
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        bodies.push_back(settingBodies(design, i));
    return bodies;
}

std::vector<Section> drilledAtEach(const Section& plain, const Design& design) {
    std::vector<Section> result;
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        result.push_back(drilled(plain, design, i));
    return result;
}

double holeAngle(const Design& design, std::size_t setting) {
    return placedAngles(design.settings[setting].placement).front() * kDegree;
}

Vec3 placed(Vec2 point, double angle) {
    return {point.r * std::cos(angle), point.r * std::sin(angle), point.z};
}

}  // namespace bandwright
