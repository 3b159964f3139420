#include <gtest/gtest.h>

#include "app/card_rows.hpp"
#include "base/input_error.hpp"

namespace bandwright::app {
namespace {

TEST(NumberText, NumbersAreWrittenWithAtLeastTheirDecimalsAndNoMoreThanTheyHave) {
    const design::NumberField length = design::mm(0, 100);
    EXPECT_EQ(formatNumber(8, length), "8.00");
    EXPECT_EQ(formatNumber(9.525, length), "9.525");
    EXPECT_EQ(formatNumber(0.2032, length), "0.2032");
    EXPECT_EQ(formatNumber(1.0 / 3, length), "0.3333");
    EXPECT_EQ(formatNumber(-0.0, length), "0.00");
    EXPECT_EQ(formatNumber(-1.5, length), "-1.50");
    EXPECT_EQ(formatNumber(12, {.unit = design::Unit::Pieces}), "12");
}

TEST(NumberText, LengthsAreReadWithUnitsAndArithmetic) {
    const design::NumberField length = design::mm(0, 100);
    EXPECT_NEAR(parseNumber("3/8 in", length), 9.525, 1e-9);  // 25.4 mm an inch: NIST SP 811
    EXPECT_NEAR(parseNumber("8/2 + 0.5", length), 4.5, 1e-9);
}

TEST(NumberText, AnglesPercentAndCountsHaveTheirOwnUnits) {
    EXPECT_NEAR(parseNumber("90/2 \u00B0", design::degrees(0, 360)), 45, 1e-9);
    EXPECT_NEAR(parseNumber("34.5deg", design::degrees(0, 360)), 34.5, 1e-9);
    EXPECT_NEAR(parseNumber("53 %", design::percent(0, 100)), 53, 1e-9);
    EXPECT_NEAR(parseNumber("60 %", design::share(0, 1)), 0.6, 1e-12);
    EXPECT_EQ(formatNumber(0.6, design::share(0, 1)), "60");
    EXPECT_NEAR(parseNumber("50 nm", design::nanometres(0, 300)), 50, 1e-12);
    EXPECT_NEAR(parseNumber("2*12", {.unit = design::Unit::Pieces}), 24, 1e-9);
    EXPECT_THROW(parseNumber("60 mm", design::share(0, 1)), base::InputError);
    EXPECT_THROW(parseNumber("45 mm", design::degrees(0, 360)), base::InputError);
    EXPECT_THROW(parseNumber("2.5", {.unit = design::Unit::Pieces}), base::InputError);
    EXPECT_THROW(parseNumber("3\"", design::percent(0, 100)), base::InputError);
}

}  // namespace
}  // namespace bandwright::app
