#include <gtest/gtest.h>

#include <vector>

#include "design/design.hpp"

namespace bandwright::design {
namespace {

TEST(Placement, StandsEvenlyRoundTheWholeBandWhenNoSpacingIsGiven) {
    Placement placement;
    placement.count = 5;
    placement.start = 90;
    EXPECT_EQ(placedAngles(placement), (std::vector<double>{90, 162, 234, 306, 18}));
}

TEST(Placement, FollowsItsSpacingInEitherDirection) {
    Placement placement;
    placement.count = 3;
    placement.start = 10;
    placement.spacing = -20;
    EXPECT_EQ(placedAngles(placement), (std::vector<double>{10, 350, 330}));
}

TEST(Placement, ListedAnglesReplaceTheRest) {
    Placement placement;
    placement.count = 9;
    placement.angles = {-30, 0, 400};
    EXPECT_EQ(placedAngles(placement), (std::vector<double>{330, 0, 40}));
}

// US size 9.5: 0.458 + 0.032 x 9.5 in (Wikipedia, "Ring size"; GNU Units, definitions.units).
TEST(Radii, ComeFromTheFingerTheCorrectionAndTheThickness) {
    Design design;
    design.finger.size = {trade::SizeSystem::Us, 9.5};
    design.finger.widthCorrection = 0.2;
    design.band.thickness = 2.4;
    EXPECT_NEAR(boreRadius(design), (0.762 * 25.4 + 0.2) / 2, 1e-9);
    EXPECT_DOUBLE_EQ(outsideRadius(design) - boreRadius(design), 2.4);
}

}  // namespace
}  // namespace bandwright::design
