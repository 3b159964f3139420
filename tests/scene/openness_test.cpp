#include "openness.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bandwright {
namespace {

// Share of cosine-weighted light over the middle of a floor that comes in by an opening, by plain summation.
double summed(double depth, const auto& open) {
    constexpr int kSteps = 400;
    double in = 0, all = 0;
    for (int i = 0; i < kSteps; ++i) {
        const double rise = (i + 0.5) / kSteps * std::numbers::pi / 2;
        for (int j = 0; j < kSteps; ++j) {
            const double turn = (j + 0.5) / kSteps * 2 * std::numbers::pi, away = depth / std::tan(rise);
            const double weight = std::sin(rise) * std::cos(rise);
            all += weight;
            if (open(away * std::cos(turn), away * std::sin(turn))) in += weight;
        }
    }
    return in / all;
}

TEST(Openness, OfASlotsFloorIsWhatASummationOverTheSkyGives) {
    const double width = 4, depth = 1.3;
    EXPECT_NEAR(slotOpenness(depth, width, false),
                summed(depth, [&](double, double y) { return std::abs(y) < width / 2; }), 2e-3);
}

TEST(Openness, OfAHolesFloorIsWhatASummationOverTheSkyGives) {
    const double diameter = 3, depth = 2;
    EXPECT_NEAR(wellOpenness(depth, diameter, false),
                summed(depth, [&](double x, double y) { return std::hypot(x, y) < diameter / 2; }), 2e-3);
}

TEST(Openness, AtTheMouthIsWholeOnTheFlatAndHalfOnTheWall) {
    EXPECT_DOUBLE_EQ(slotOpenness(0, 3, false), 1);
    EXPECT_DOUBLE_EQ(slotOpenness(0, 3, true), 0.5);
    EXPECT_DOUBLE_EQ(wellOpenness(0, 3, false), 1);
}

}  // namespace
}  // namespace bandwright
