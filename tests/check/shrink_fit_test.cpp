#include "shrink_fit.hpp"

#include <gtest/gtest.h>

#include "plain_ring.hpp"

namespace bandwright::check {
namespace {

// Worked by hand: a sleeve of zirconium, 99 GPa, 10.0 to 11.7 mm, on a liner of 18K gold, 85 GPa, 9.2 to
// 10.0 mm, 0.02 mm of interference on the diameter.
//   sleeve (136.89 + 100) / (136.89 - 100) = 6.4215; liner (100 + 84.64) / (100 - 84.64) = 12.0208
//   (6.4215 + 0.3) / 99000 + (12.0208 - 0.3) / 85000 = 6.789e-5 + 13.789e-5 = 20.578e-5
//   p = 0.01 / (10 x 20.578e-5) = 4.860 MPa; 6.4215 p = 31.20; 200 / 15.36 p = 63.28
TEST(PressFit, IsThatOfTheWorkedExample) {
    const PressFit fit = pressFit({9.2, 10, 85e3}, {10, 11.7, 99e3}, 0.02);
    EXPECT_NEAR(fit.pressure, 4.860, 0.002);
    EXPECT_NEAR(fit.sleeve, 31.20, 0.02);
    EXPECT_NEAR(fit.liner, -63.28, 0.03);
}

// A thin sleeve on a stiff core takes all of the interference: E i / (2 b).
TEST(PressFit, OfAThinSleeveIsThatOfAStretchedHoop) {
    const PressFit fit = pressFit({1, 10, 1e9}, {10, 10.001, 1e5}, 0.02);
    EXPECT_NEAR(fit.sleeve, 1e5 * 0.02 / 20, 0.1);
}

// 0.03 mm on 20 mm: titanium 174 degrees, stainless steel 90 (0.03 / (17e-6 x 20) = 88).
TEST(Liner, IsSlippedInByTheHeatOfTheHandbook) {
    design::Design design = plainRing();
    design.finger.size = {trade::SizeSystem::Diameter, 18.8};
    design.band.liner = design::Liner{"gold-18k-yellow", 0.6, 0.03};
    EXPECT_NEAR(valueOf(checked(design), "liner-heat"), 174, 1);
    design.band.metal = "steel-304l";
    EXPECT_NEAR(valueOf(checked(design), "liner-heat"), 88, 1);
}

TEST(Liner, StrainsTheBandMostWhereAChannelLeavesItThinnest) {
    design::Design design = plainRing();
    design.band.liner = design::Liner{};
    const double whole = valueOf(checked(design), "sleeve-stress");
    design.channels = {channel(0, 4, 1)};
    const double cut = valueOf(checked(design), "sleeve-stress");
    const PressFit thin = pressFit({10, 10.6, 80e3}, {10.6, 11.4, 114e3}, 0.02);
    EXPECT_GT(cut, whole);
    EXPECT_NEAR(cut, thin.sleeve / 828, 1e-9);
}

}  // namespace
}  // namespace bandwright::check
