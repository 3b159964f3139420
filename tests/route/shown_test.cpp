#include "route/shown.hpp"

#include <gtest/gtest.h>

namespace bandwright::route {
namespace {

Reading reading(double value, double least, double most) {
    Reading result;
    result.value = value;
    result.least = least;
    result.most = most;
    return result;
}

// What is within the printed limits is within the meant ones.
TEST(Shown, RoundsLimitsInwards) {
    const Shown wide = shown(reading(19.1484, 18.9484, 19.3484));
    EXPECT_EQ(wide.value, "19.15");
    EXPECT_EQ(wide.least, "18.95");
    EXPECT_EQ(wide.most, "19.34");
    for (int i = 0; i < 500; ++i) {
        const double value = 1 + 0.0137 * i, tolerance = 0.0013 * (i % 50);
        const Shown s = shown(reading(value, value - tolerance, value + tolerance));
        if (tolerance < 2e-4) continue;
        EXPECT_GE(std::stod(s.least), value - tolerance - 1e-9);
        EXPECT_LE(std::stod(s.most), value + tolerance + 1e-9);
        EXPECT_LE(std::stod(s.least), std::stod(s.value));
        EXPECT_GE(std::stod(s.most), std::stod(s.value));
    }
}

TEST(Shown, HasTheDigitsThatNarrowLimitsNeed) {
    const Shown fit = shown(reading(20.1624, 20.1519, 20.1729));
    EXPECT_EQ(fit.value, "20.16");
    EXPECT_EQ(shown(reading(20.1624, 20.1604, 20.1644)).value, "20.162");
    EXPECT_EQ(inOneLine(shown(reading(8, 7.8, 8.2))), "8.00 mm (7.80 to 8.20)");
    EXPECT_EQ(inOneLine(shown(reading(8, 8, 8))), "8.00 mm");
}

TEST(Shown, TellsACut) {
    Cut cut;
    cut.speed = 46;
    cut.diameter = 25.4;
    cut.spindle = 576.4;
    cut.feed = 0.04;
    cut.dial = {0.25, 0.5, 0.6024};
    EXPECT_EQ(inOneLine(cut), "46 m/min on 25.4 mm: 576 rev/min, feed 0.04 mm a turn");
    EXPECT_EQ(dialText(cut), (std::vector<std::string>{"0.25", "0.50", "0.60"}));
    cut.clipped = true;
    EXPECT_NE(inOneLine(cut).find("fastest"), std::string::npos);
}

}  // namespace
}  // namespace bandwright::route
