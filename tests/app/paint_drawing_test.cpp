#include "paint_drawing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bandwright::app {
namespace {

TEST(PaintDrawing, AnArcIsFlattenedWithinTheTolerance) {
    const auto at = [](double degrees) {
        const double angle = degrees * std::numbers::pi / 180;
        return geometry::Vec2{5 * std::cos(angle), 10 + 5 * std::sin(angle)};
    };
    const geometry::Segment arc{.from = at(10), .to = at(170), .centre = {0, 10}, .radius = 5, .tag = {}};
    for (const double tolerance : {0.5, 0.05, 0.001}) {
        const std::vector<geometry::Vec2> points = flattened(arc, tolerance);
        for (std::size_t i = 1; i < points.size(); ++i) {
            const geometry::Vec2 middle = 0.5 * (points[i - 1] + points[i]);
            EXPECT_LE(5 - geometry::distance(middle, {0, 10}), tolerance);
        }
    }
}

}  // namespace
}  // namespace bandwright::app
