#include <gtest/gtest.h>

#include "app/fields.hpp"
#include "base/input_error.hpp"

namespace bandwright {
namespace {

using Unit = NumberKind::Unit;

TEST(NumberText, NumbersAreWrittenWithAtLeastTheirDecimalsAndNoMoreThanTheyHave) {
    const NumberKind length{Unit::Millimetre, 0.05, 2};
    EXPECT_EQ(formatNumber(8, length), "8.00");
    EXPECT_EQ(formatNumber(9.525, length), "9.525");
    EXPECT_EQ(formatNumber(0.2032, length), "0.2032");
    EXPECT_EQ(formatNumber(1.0 / 3, length), "0.3333");
    EXPECT_EQ(formatNumber(-0.0, length), "0.00");
    EXPECT_EQ(formatNumber(-1.5, length), "-1.50");
    EXPECT_EQ(formatNumber(12, {Unit::Count, 1, 0}), "12");
}

TEST(NumberText, LengthsAreReadWithUnitsAndArithmetic) {
    const NumberKind length{};
    EXPECT_NEAR(parseNumber("3/8 in", length), 9.525, 1e-9);  // 25.4 mm an inch: NIST SP 811
    EXPECT_NEAR(parseNumber("8/2 + 0.5", length), 4.5, 1e-9);
}

TEST(NumberText, AnglesPercentAndCountsHaveTheirOwnUnits) {
    EXPECT_NEAR(parseNumber("90/2 \u00B0", {Unit::Degree, 1, 1}), 45, 1e-9);
    EXPECT_NEAR(parseNumber("34.5deg", {Unit::Degree, 1, 1}), 34.5, 1e-9);
    EXPECT_NEAR(parseNumber("53 %", {Unit::Percent, 1, 1}), 53, 1e-9);
    EXPECT_NEAR(parseNumber("2*12", {Unit::Count, 1, 0}), 24, 1e-9);
    EXPECT_THROW(parseNumber("45 mm", {Unit::Degree, 1, 1}), InputError);
    EXPECT_THROW(parseNumber("2.5", {Unit::Count, 1, 0}), InputError);
    EXPECT_THROW(parseNumber("3\"", {Unit::Percent, 1, 1}), InputError);
}

}  // namespace
}  // namespace bandwright
