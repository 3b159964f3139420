#include "looks.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace bandwright::render {
namespace {

TEST(RefractiveIndices, SpreadByTheStonesDispersion) {
    // Diamond (Peter 1923): n 2.4175 at 589.3 nm, 2.4354 at 486.1 nm (F) and 2.4099 at 656.3 nm (C).
    scene::GemLook diamond;
    diamond.refractiveIndex = 2.4175;
    diamond.dispersion = 0.0444;
    const auto n = refractiveIndices(diamond, 0);
    EXPECT_LT(n[0], n[1]);
    EXPECT_LT(n[1], n[2]);
    // 611 nm and 464 nm lie just inside and just outside C and F.
    EXPECT_NEAR(static_cast<double>(n[0]), 2.4150, 0.002);
    EXPECT_NEAR(static_cast<double>(n[2]), 2.4410, 0.003);
}

TEST(Absorbance, LetsThroughTheShareNamedAfterOneMillimetre) {
    const auto perMm = absorbance({0.25, 0.5, 1});
    EXPECT_NEAR(std::exp(-static_cast<double>(perMm[0])), 0.25, 1e-6);
    EXPECT_NEAR(std::exp(-2 * static_cast<double>(perMm[1])), 0.25, 1e-6);
    EXPECT_EQ(perMm[2], 0.0F);
}

}  // namespace
}  // namespace bandwright::render
