#pragma once

#include <array>
#include <random>

#include "geometry/stone.hpp"

/// Stones for tests.
namespace bandwright::geometry {

inline constexpr std::array kFaceted = {design::StoneCut::RoundBrilliant, design::StoneCut::Oval,
                                        design::StoneCut::Marquise,       design::StoneCut::Pear,
                                        design::StoneCut::StepOctagon,    design::StoneCut::StepSquare,
                                        design::StoneCut::RoseCut};

/// A stone as the trade would cut it.
inline design::Stone usual(design::StoneCut cut, double diameter = 4, double length = 6) {
    design::Stone stone;
    stone.cut = cut;
    stone.diameter = diameter;
    stone.length = length;
    if (cut == design::StoneCut::StepOctagon || cut == design::StoneCut::StepSquare) {
        stone.table = 60;
        stone.pavilionAngle = 43;
    }
    if (cut == design::StoneCut::RoseCut) stone.dome = 50;
    return stone;
}

/// Any proportions that a design file may have; some have stars that cannot be that short.
inline design::Stone anyStone(std::uint32_t seed) {
    std::mt19937 random(seed);
    const auto between = [&random](double least, double most) {
        return least + (most - least) * static_cast<double>(random()) / 4294967296.0;
    };
    design::Stone stone;
    stone.cut = kFaceted[random() % kFaceted.size()];
    stone.diameter = between(0.5, 20);
    stone.length = stone.diameter * between(1, 3);
    stone.table = between(20, 95);
    stone.crownAngle = between(11, 70);
    stone.pavilionAngle = between(11, 70);
    stone.girdle = random() % 4 == 0 ? 0 : between(0, 30);
    stone.starLength = between(1, 99);
    stone.lowerLength = between(1, 99);
    stone.dome = between(5, 100);
    return stone;
}

}  // namespace bandwright::geometry
