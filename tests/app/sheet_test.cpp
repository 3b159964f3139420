#include "sheet.hpp"

#include <gtest/gtest.h>

#include <cmath>

namespace bandwright {
namespace {

/// The part of a circle about (0, 10) with radius 5 that runs counter-clockwise from one angle to another,
/// degrees from the z axis.
Segment arc(double from, double to) {
    const auto at = [](double degrees) {
        const double angle = degrees * 3.14159265358979323846 / 180;
        return Vec2{5 * std::cos(angle), 10 + 5 * std::sin(angle)};
    };
    Segment segment;
    segment.from = at(from);
    segment.to = at(to);
    segment.centre = {0, 10};
    segment.radius = 5;
    return segment;
}

TEST(Sheet, BoundsReachToTheExtremesAnArcPassesAndToNoOthers) {
    Bounds over;
    grow(over, {{arc(30, 150)}});
    EXPECT_DOUBLE_EQ(over.mostR, 15);
    EXPECT_DOUBLE_EQ(over.leastR, 12.5);
    EXPECT_DOUBLE_EQ(over.mostZ, 5 * std::cos(3.14159265358979323846 / 6));
    Bounds around;
    grow(around, {{arc(-150, 100)}});
    EXPECT_DOUBLE_EQ(around.mostR, 15);
    EXPECT_DOUBLE_EQ(around.leastR, 5);
    EXPECT_DOUBLE_EQ(around.mostZ, 5);
    EXPECT_GT(around.leastZ, -5);
    Segment backwards = arc(30, 150);
    std::swap(backwards.from, backwards.to);
    backwards.ccw = false;
    Bounds same;
    grow(same, {{backwards}});
    EXPECT_DOUBLE_EQ(same.mostR, 15);
    EXPECT_DOUBLE_EQ(same.leastR, 12.5);
}

TEST(Sheet, AnArcIsFlattenedWithinTheTolerance) {
    for (const double tolerance : {0.5, 0.05, 0.001}) {
        const std::vector<Vec2> points = flattened(arc(10, 170), tolerance);
        for (std::size_t i = 1; i < points.size(); ++i) {
            const Vec2 middle = 0.5 * (points[i - 1] + points[i]);
            EXPECT_LE(5 - distance(middle, {0, 10}), tolerance);
        }
    }
}

TEST(Sheet, AVerticalLineCrossesACircleWherePythagorasSays) {
    const std::vector<double> found = crossings({{arc(0, 180), arc(180, 360)}}, 3);
    ASSERT_EQ(found.size(), 2U);
    EXPECT_NEAR(found[0], 6, 1e-3);  // 3, 4, 5
    EXPECT_NEAR(found[1], 14, 1e-3);
}

TEST(Sheet, DistanceToAnArcIsThatToItsCircleAbreastOfItAndToItsEndsElsewhere) {
    EXPECT_NEAR(distanceTo(arc(30, 150), {0, 17}, 1e-4), 2, 1e-3);
    EXPECT_NEAR(distanceTo(arc(30, 150), {0, 10}, 1e-4), 5, 1e-3);
    EXPECT_NEAR(distanceTo(arc(0, 90), {5, 7}, 1e-4), 3, 1e-3);
}

}  // namespace
}  // namespace bandwright
