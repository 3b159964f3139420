#include "drawing/drawing.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "sample_rings.hpp"

namespace bandwright::drawing {
namespace {

/// ISO 128-2: wide to narrow as 2 to 1. ISO 3098-1, lettering B: strokes of h / 10, heights that grow by the
/// square root of two as the sizes of sheets do.
TEST(Drawing, LinesAndLetteringAreOfTheStandardSeries) {
    for (const double height : kTextHeights) {
        EXPECT_DOUBLE_EQ(lineWidth(LineKind::Thin, height), height / 10);
        EXPECT_DOUBLE_EQ(lineWidth(LineKind::Outline, height), 2 * lineWidth(LineKind::Thin, height));
        EXPECT_DOUBLE_EQ(lineWidth(LineKind::Axis, height), lineWidth(LineKind::Hidden, height));
    }
    for (std::size_t i = 1; i < kTextHeights.size(); ++i)
        EXPECT_NEAR(kTextHeights[i] / kTextHeights[i - 1], std::sqrt(2), 0.03);
}

TEST(Drawing, DashesAreSoManyWidthsOfTheLine) {
    EXPECT_TRUE(dashes(LineKind::Outline, 2.5).empty());
    EXPECT_TRUE(dashes(LineKind::Thin, 2.5).empty());
    EXPECT_EQ(dashes(LineKind::Hidden, 2.5), (std::vector<double>{3, 0.75}));
    EXPECT_EQ(dashes(LineKind::Axis, 2.5), (std::vector<double>{6, 0.75, 0.125, 0.75}));
}

/// ISO 3098-1, lettering B, table of dimensions for h = 10: 2 between characters, 6 between words.
TEST(Drawing, LetteringIsAsWideAsItsCharactersAndTheGapsBetweenThem) {
    EXPECT_EQ(letteringWidth(""), 0);
    EXPECT_NEAR(10 * letteringWidth("88"), 5 + 2 + 5, 1e-12);
    EXPECT_NEAR(10 * letteringWidth("8 8"), 5 + 6 + 5, 1e-12);
    EXPECT_NEAR(letteringWidth("\u00D8"), letteringWidth("O"), 1e-12);
}

TEST(Drawing, TheNearestOutlineIsThatOfItsCircleAbreastOfAnArcAndOfItsEndsElsewhere) {
    const auto found = [](geometry::Vec2 place, double reach) {
        const geometry::Segment arc{
            .from = {5, 10}, .to = {0, 15}, .centre = {0, 10}, .radius = 5, .tag = {}};
        Drawing drawing;
        drawing.bodies.push_back({geometry::PartRole::Band, LineKind::Outline, {{arc}}, {}});
        return outlineNear(drawing, place, reach) != nullptr;
    };
    const geometry::Vec2 abreast = geometry::Vec2{0, 10} + (7 / std::sqrt(2)) * geometry::Vec2{1, 1};
    EXPECT_TRUE(found(abreast, 2 + 1e-9));
    EXPECT_FALSE(found(abreast, 2 - 1e-9));
    EXPECT_TRUE(found({5, 7}, 3 + 1e-9));
    EXPECT_FALSE(found({5, 7}, 3 - 1e-9));
}

TEST(Drawing, BoundsReachToTheExtremesAnArcPassesAndToNoOthers) {
    const auto arc = [](double from, double to) {
        const auto at = [](double degrees) {
            const double angle = degrees * 3.14159265358979323846 / 180;
            return geometry::Vec2{5 * std::cos(angle), 10 + 5 * std::sin(angle)};
        };
        return geometry::Segment{.from = at(from), .to = at(to), .centre = {0, 10}, .radius = 5, .tag = {}};
    };
    const geometry::Rectangle over = rectangleRound(geometry::Section{{arc(30, 150)}});
    EXPECT_DOUBLE_EQ(over.high.r, 15);
    EXPECT_DOUBLE_EQ(over.low.r, 12.5);
    EXPECT_DOUBLE_EQ(over.high.z, 5 * std::cos(3.14159265358979323846 / 6));
    const geometry::Rectangle around = rectangleRound(geometry::Section{{arc(-150, 100)}});
    EXPECT_DOUBLE_EQ(around.high.r, 15);
    EXPECT_DOUBLE_EQ(around.low.r, 5);
    EXPECT_DOUBLE_EQ(around.high.z, 5);
    EXPECT_GT(around.low.z, -5);
    geometry::Segment backwards = arc(30, 150);
    std::swap(backwards.from, backwards.to);
    backwards.ccw = false;
    const geometry::Rectangle same = rectangleRound(geometry::Section{{backwards}});
    EXPECT_DOUBLE_EQ(same.high.r, 15);
    EXPECT_DOUBLE_EQ(same.low.r, 12.5);
}

TEST(Drawing, TheFittingScaleIsTheLargestThatFits) {
    const design::Design design = sampleDesign("harbour");
    const geometry::RingSections plain = geometry::sections(design);
    Layout layout;
    const auto draw = [&](double scale) {
        layout.scale = scale;
        return sectionDrawing(design, design::Stage::Finished, plain, layout);
    };
    const auto goesInto = [&](double scale, double width, double height) {
        const geometry::Rectangle extent = extentOf(draw(scale));
        return extent.high.z - extent.low.z <= width && extent.high.r - extent.low.r <= height;
    };
    for (const auto& [width, height] : {std::pair{190.0, 90.0}, {120.0, 200.0}, {277.0, 60.0}}) {
        const double scale = fittingScale(draw, width, height);
        EXPECT_TRUE(goesInto(scale, width, height));
        EXPECT_FALSE(goesInto(1.002 * scale, width, height));
    }
    EXPECT_EQ(fittingScale(draw, 20, 100), 0);
}

}  // namespace
}  // namespace bandwright::drawing
