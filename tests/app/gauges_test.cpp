#include "app/gauges.hpp"

#include <gtest/gtest.h>

namespace bandwright::app {
namespace {

TEST(Gauges, ThePointerStandsInTheZoneOfItsVerdict) {
    EXPECT_DOUBLE_EQ(gaugePlace(0, 0.5, 0.8), 0);
    EXPECT_DOUBLE_EQ(gaugePlace(0.5, 0.5, 0.8), kLimitPlace);
    EXPECT_DOUBLE_EQ(gaugePlace(0.8, 0.5, 0.8), kComfortablePlace);
    EXPECT_LT(gaugePlace(0.49, 0.5, 0.8), kLimitPlace);
    EXPECT_GT(gaugePlace(0.51, 0.5, 0.8), kLimitPlace);
    EXPECT_LT(gaugePlace(0.79, 0.5, 0.8), kComfortablePlace);
}

TEST(Gauges, MoreMetalNeverMovesThePointerBack) {
    for (const auto& [limit, comfortable] : {std::pair{0.5, 0.8}, {0.5, 0.5}, {0.0, 0.3}, {0.0, 0.0}}) {
        double before = 0;
        for (double value = -1; value < 50; value += 0.01) {
            const double place = gaugePlace(value, limit, comfortable);
            EXPECT_GE(place, before);
            EXPECT_LE(place, 1);
            before = place;
        }
    }
}

TEST(Gauges, ALimitSaysOnWhichSideItLies) {
    check::Finding finding;
    check::Figures figures;
    figures.limit = "0.50";
    figures.unit = "mm";
    EXPECT_EQ(limitInWords(finding, "mm", figures), "at least 0.50 mm");
    finding.sense = check::Sense::AtMost;
    EXPECT_EQ(limitInWords(finding, "mm", figures), "at most 0.50 mm");
    finding.across = check::SideLimits{0.1, 0.2};
    figures.across = "0.10";
    EXPECT_EQ(limitInWords(finding, "mm", figures), "at most 0.50 mm, at least 0.10 mm");
}

}  // namespace
}  // namespace bandwright::app
