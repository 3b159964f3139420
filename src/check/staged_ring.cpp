#include "staged_ring.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::check {

namespace {

constexpr double kDegree = std::numbers::pi / 180;

}  // namespace

double angleAwayFromHoles(const design::Design& design) {
    std::vector<double> angles;
    for (const design::Setting& setting : design.settings) {
        const std::vector<double> placed = design::placedAngles(setting.placement);
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

std::vector<geometry::SettingBodies> allBodies(const design::Design& design) {
    std::vector<geometry::SettingBodies> bodies;
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        bodies.push_back(geometry::settingBodies(design, i));
    return bodies;
}

std::vector<geometry::Section> drilledAtEach(const geometry::Section& plain, const design::Design& design) {
    std::vector<geometry::Section> result;
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        result.push_back(geometry::drilled(plain, design, i));
    return result;
}

double holeAngle(const design::Design& design, std::size_t setting) {
    return design::placedAngles(design.settings[setting].placement).front() * kDegree;
}

geometry::Vec3 placed(geometry::Vec2 point, double angle) {
    return {point.r * std::cos(angle), point.r * std::sin(angle), point.z};
}

}  // namespace bandwright::check
