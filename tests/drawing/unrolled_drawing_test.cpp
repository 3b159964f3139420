#include "drawing/unrolled_drawing.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "drawing/detail_drawing.hpp"
#include "geometry/ring.hpp"
#include "sample_rings.hpp"

namespace bandwright::drawing {
namespace {

Drawing unrolled(const design::Design& design, design::Stage stage = design::Stage::Finished,
                 double scale = 2) {
    Layout layout;
    layout.scale = scale;
    return unrolledDrawing(design, stage, geometry::sections(design, stage), layout);
}

/// The middles of all circles, mm of the ring, each once.
std::vector<geometry::Vec2> middles(const Drawing& drawing) {
    std::vector<geometry::Vec2> all;
    for (const Stroke& stroke : drawing.strokes) {
        if (!stroke.path.isArc()) continue;
        const geometry::Vec2 middle = (1 / drawing.scale) * stroke.path.centre;
        const bool isNew =
            std::ranges::none_of(all, [&](geometry::Vec2 p) { return geometry::distance(p, middle) < 1e-9; });
        if (isNew) all.push_back(middle);
    }
    return all;
}

/// Degrees round the band of a place on the finished mesh's outside are those of the unrolled drawing.
TEST(UnrolledDrawing, HolesStandAtTheirAnglesAndPlaces) {
    for (const std::string name : {"harbour", "lantern", "seven-lamps", "orchard-gate", "honeycomb"}) {
        const design::Design design = sampleDesign(name);
        const Drawing drawing = unrolled(design);
        std::vector<geometry::Vec2> found = middles(drawing);
        const double length = bodiesOf(drawing).high.z / drawing.scale;
        EXPECT_NEAR(length, 2 * std::numbers::pi * design::outsideRadius(design), 1e-9);
        std::size_t holes = 0;
        for (const design::Setting& setting : design.settings) {
            for (const double angle : design::placedAngles(setting.placement)) {
                ++holes;
                const bool isThere = std::ranges::any_of(found, [&](geometry::Vec2 p) {
                    const double degrees = p.z / length * 360;
                    return std::abs(std::remainder(degrees - angle, 360.0)) < 1e-9 &&
                           std::abs(p.r - setting.placement.offset) < 1e-9;
                });
                EXPECT_TRUE(isThere) << name << " at " << angle;
            }
        }
        EXPECT_EQ(found.size(), holes) << name;
    }
}

/// ISO 129-1 asks that the number written is the one measured.
TEST(UnrolledDrawing, AnglesAreWrittenAsTheyAreMeasured) {
    for (const StagedDesign& ring : designsByLot(150)) {
        const Drawing drawing = unrolled(ring.design, ring.stage, 1);
        const double length = bodiesOf(drawing).high.z / drawing.scale;
        for (const Dimension& dimension : drawing.dimensions) {
            if (dimension.measured != Measured::Round) continue;
            const double degrees = std::abs(dimension.to.z - dimension.from.z) / length * 360;
            EXPECT_NEAR(dimension.value, degrees, 1e-9) << ring.name;
            const std::size_t digit = dimension.text.words.find_first_of("0123456789");
            EXPECT_NEAR(std::stod(dimension.text.words.substr(digit)), degrees, 0.0051) << ring.name;
        }
    }
}

/// The band is cut open beside its holes: no circle leaves the strip round the band.
TEST(UnrolledDrawing, NoHoleIsCutInTwoWhereThereIsRoom) {
    design::Design design = sampleDesign("harbour");
    for (double start = 0; start < 360; start += 7) {
        design.settings[0].placement.start = start;
        const Drawing drawing = unrolled(design);
        const geometry::Rectangle band = bodiesOf(drawing);
        for (const Stroke& stroke : drawing.strokes) {
            if (!stroke.path.isArc()) continue;
            EXPECT_GE(stroke.path.centre.z - stroke.path.radius, band.low.z) << start;
            EXPECT_LE(stroke.path.centre.z + stroke.path.radius, band.high.z) << start;
        }
    }
}

TEST(UnrolledDrawing, AChannelIsABandBetweenTwoLines) {
    const design::Design design = sampleDesign("harbour");
    const auto lineAt = [](const Drawing& drawing, double z) {
        return std::ranges::count_if(drawing.strokes, [&](const Stroke& stroke) {
            return !stroke.path.isArc() && stroke.line != LineKind::Axis &&
                   std::abs(stroke.path.from.r / drawing.scale - z) < 1e-9 &&
                   std::abs(stroke.path.to.r / drawing.scale - z) < 1e-9;
        });
    };
    for (const double z : {-2.0, 2.0}) {
        EXPECT_EQ(lineAt(unrolled(design), z), 1);
        EXPECT_EQ(lineAt(unrolled(design, design::Stage::Turned), z), 0);
    }
}

Layout largeLayout() {
    Layout layout;
    layout.scale = 20;
    return layout;
}

/// A detail has the very lines of the section, and all that is under the limit.
TEST(DetailDrawing, ShowsWhatIsTooSmallInTheWhole) {
    constexpr double kLeast = 2;
    int details = 0;
    for (const StagedDesign& ring : designsByLot(200)) {
        Layout layout;
        layout.scale = 2;
        for (Drawing whole : allDrawings(ring, layout)) {
            const auto isSmall = [&](const Dimension& d) {
                return d.value > 0 && d.value * whole.scale < kLeast;
            };
            std::size_t shown = 0;
            for (const geometry::Rectangle& window : smallPlaces(whole, kLeast)) {
                const Drawing detail = detailDrawing(whole, window, kLeast, largeLayout());
                shown += detail.dimensions.size();
                ++details;
                for (const Dimension& dimension : detail.dimensions) {
                    const auto same = std::ranges::find_if(whole.dimensions, [&](const Dimension& d) {
                        return d.field == dimension.field && d.from == dimension.from && d.to == dimension.to;
                    });
                    ASSERT_NE(same, whole.dimensions.end()) << ring.name;
                    EXPECT_EQ(same->text.words, dimension.text.words) << ring.name;
                    EXPECT_NEAR(same->value, dimension.value, 1e-12) << ring.name;
                }
            }
            EXPECT_EQ(shown, static_cast<std::size_t>(std::ranges::count_if(whole.dimensions, isSmall)))
                << ring.name;
            for (const geometry::Rectangle& window : smallPlaces(whole, kLeast))
                dropDimensions(whole, window, kLeast);
            EXPECT_EQ(std::ranges::count_if(whole.dimensions, isSmall), 0) << ring.name;
        }
    }
    EXPECT_GT(details, 50);
}

/// The cut pieces of all bodies have the area that the bodies have in the window, by counting points.
TEST(DetailDrawing, HasTheMetalThatLiesInItsWindow) {
    const design::Design design = sampleDesign("harbour");
    Layout layout;
    layout.scale = 2;
    const Drawing whole = sectionDrawing(design, design::Stage::Finished, geometry::sections(design), layout);
    for (const geometry::Rectangle& window : smallPlaces(whole, 2)) {
        const Drawing detail = detailDrawing(whole, window, 2, largeLayout());
        double area = 0;
        for (const CutBody& body : detail.bodies)
            area += geometry::properties(body.outline).area / (detail.scale * detail.scale);
        int inside = 0;
        constexpr int kSteps = 200;
        const geometry::Vec2 size = window.high - window.low;
        for (int i = 0; i < kSteps * kSteps; ++i) {
            const geometry::Vec2 p = window.low + geometry::Vec2{(i % kSteps + 0.5) / kSteps * size.z,
                                                                 (i / kSteps + 0.5) / kSteps * size.r};
            inside += std::ranges::any_of(whole.bodies, [&](const CutBody& body) {
                return geometry::contains(body.outline, whole.scale * p);
            });
        }
        EXPECT_NEAR(area, inside * size.z * size.r / (kSteps * kSteps), 0.01 * size.z * size.r);
    }
}

}  // namespace
}  // namespace bandwright::drawing
