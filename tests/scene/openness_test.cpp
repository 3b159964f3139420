#include "openness.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <numbers>
#include <vector>

#include "geometry/ring.hpp"

namespace bandwright::scene {
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

TEST(Openness, BothSidesOfEachChannelLieAsDeepInTheShade) {
    design::Design design;
    design.settings.clear();
    design.channels = {{.offset = -2, .width = 1.5, .depth = 1}, {.offset = 2, .width = 1.5, .depth = 1}};
    const geometry::Part band = geometry::buildParts(design).front();
    const std::vector<float> open = openness(design, band);
    std::vector<float> least;  // of each side, at the floor
    for (const geometry::MeshFace& face : band.mesh.faces) {
        if (face.tag.feature != geometry::Feature::ChannelSide) continue;
        float here = 1;
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t vertex : band.mesh.triangles[t])
                here = std::min(here, open[vertex]);
        }
        least.push_back(here);
    }
    ASSERT_EQ(least.size(), 4U);
    for (const float here : least)
        EXPECT_NEAR(here, slotOpenness(1, 1.5, true), 1e-5);
}

}  // namespace
}  // namespace bandwright::scene
