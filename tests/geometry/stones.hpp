#pragma once

#include <array>
#include <random>

#include "geometry/stone.hpp"

/// Stones for tests.
namespace bandwright {

inline constexpr std::array kFaceted = {StoneCut::RoundBrilliant, StoneCut::Oval,        StoneCut::Marquise,
                                        StoneCut::Pear,           StoneCut::StepOctagon, StoneCut::StepSquare,
                                        StoneCut::RoseCut};

/// A stone as the trade would cut it.
inline Stone usual(StoneCut cut, double diameter = 4, double length = 6) {
    Stone stone;
    stone.cut = cut;
    stone.diameter = diameter;
    stone.length = length;
    if (cut == StoneCut::StepOctagon || cut == StoneCut::StepSquare) {
        stone.table = 60;
        stone.pavilionAngle = 43;
    }
    if (cut == StoneCut::RoseCut) stone.dome = 50;
    return stone;
}

/// Any proportions that a design file may have; some have stars that cannot be that short.
inline Stone anyStone(std::uint32_t seed) {
    std::mt19937 random(seed);
    const auto between = [&random](double least, double most) {
        return least + (most - least) * static_cast<double>(random()) / 4294967296.0;
    };
    Stone stone;
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

}  // namespace bandwright
