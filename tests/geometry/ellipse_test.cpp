#include "ellipse.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <utility>

namespace bandwright::geometry {
namespace {

// Abramowitz & Stegun, Handbook of Mathematical Functions, table 17.1: E by the parameter m = k^2.
TEST(Ellipse, IntegralIsThatOfTheHandbook) {
    constexpr std::array<std::pair<double, double>, 4> kTable = {
        {{0.1, 1.530757636897763}, {0.5, 1.350643881047675}, {0.9, 1.104774732704073}, {1, 1}}};
    for (const auto& [m, value] : kTable)
        EXPECT_NEAR(completeEllipticE(std::sqrt(1 - m)), value, 5e-16) << m;
}

// libstdc++ stops Carlson's iteration at 1e-12.
TEST(Ellipse, IntegralIsThatOfTheStandardLibrary) {
    double worst = 0;
    for (int i = 0; i <= 20000; ++i) {
        const double k = std::sin(std::numbers::pi / 2 * i / 20000);
        const double own = completeEllipticE(std::cos(std::numbers::pi / 2 * i / 20000));
        worst = std::max(worst, std::abs(own / std::comp_ellint_2(k) - 1));
    }
    EXPECT_LT(worst, 2e-12);
}

// The expansion about k = 1 (NIST Digital Library of Mathematical Functions, 19.12.2), to the fourth power.
TEST(Ellipse, IntegralOfAFlatEllipseIsItsExpansion) {
    for (const double b : {1e-17, 1e-9, 1e-6, 1e-4, 1e-3}) {
        const double log = std::log(4 / b);
        const double series = 1 + b * b / 2 * (log - 0.5) + 3.0 / 16 * b * b * b * b * (log - 13.0 / 12);
        EXPECT_NEAR(completeEllipticE(b), series, 5e-15) << b;
    }
}

TEST(Ellipse, RoundIsATurnOfTheRadius) {
    EXPECT_DOUBLE_EQ(roundEllipse(3, 3), 6 * std::numbers::pi);
    EXPECT_DOUBLE_EQ(roundEllipse(3, 2), roundEllipse(2, 3));
    EXPECT_DOUBLE_EQ(roundEllipse(5, 0), 20);
}

}  // namespace
}  // namespace bandwright::geometry
