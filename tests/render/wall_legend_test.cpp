#include "wall_legend.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace bandwright::render {
namespace {

constexpr scene::Size kLegendSize{640, 480};

TEST(WallLegend, LiesInsideThePictureAndRunsFromThinToThick) {
    const auto triangles = wallLegend({0.4, 2.4, true}, kLegendSize, 1);
    ASSERT_FALSE(triangles.empty());
    float thinEnd = 1, thickEnd = -1;
    for (const MarkVertex& corner : triangles) {
        for (const float place : corner.position) {
            EXPECT_GT(place, -1);
            EXPECT_LT(place, 1);
        }
        if (corner.colour[0] > 0.9F) thinEnd = std::min(thinEnd, corner.position[0]);     // yellow
        if (corner.colour[0] < 0.03F) thickEnd = std::max(thickEnd, corner.position[0]);  // dark blue
    }
    EXPECT_LT(thinEnd + 0.5F, thickEnd);
}

TEST(WallLegend, OfAFinerScaleHasNumbersAtFinerSteps) {
    // A tick is a bar of the ink that hangs from the scale; one a number: 0.5 1.0 1.5 2.0
    // and 1.0 1.1 1.2 1.3.
    const auto ticks = [](const scene::WallScale& scale) {
        std::size_t count = 0;
        const auto triangles = wallLegend(scale, kLegendSize, 1);
        for (std::size_t i = 0; i + 5 < triangles.size(); i += 6) {
            float least = 1, most = -1, low = 1, high = -1;
            for (std::size_t k = i; k < i + 6; ++k) {
                least = std::min(least, triangles[k].position[0]);
                most = std::max(most, triangles[k].position[0]);
                low = std::min(low, triangles[k].position[1]);
                high = std::max(high, triangles[k].position[1]);
            }
            const float wide = (most - least) * kLegendSize.width / 2,
                        tall = (high - low) * kLegendSize.height / 2;
            if (std::abs(wide - 1.5F) < 0.01F && std::abs(tall - 5) < 0.01F) ++count;
        }
        return count;
    };
    EXPECT_EQ(ticks({0.4, 2.4, true}), 4U);
    EXPECT_EQ(ticks({1.0, 1.3, true}), 4U);
    EXPECT_EQ(ticks({0, 0.6, true}), 7U);
    // Deviations: -0.04 -0.02 0.00 +0.02 +0.04.
    EXPECT_EQ(ticks({-0.05, 0.05, true, true}), 5U);
}

TEST(WallLegend, OfAScaleWithoutARangeIsNone) {
    EXPECT_TRUE(wallLegend({1, 1, true}, kLegendSize, 1).empty());
}

}  // namespace
}  // namespace bandwright::render
