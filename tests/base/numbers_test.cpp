#include "base/numbers.hpp"

#include <gtest/gtest.h>

#include <cfloat>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <random>

namespace bandwright::base {
namespace {

TEST(Numbers, FixedIsWhatTheCLibraryPrints) {
    std::mt19937_64 lot(7);
    for (int i = 0; i < 20'000; ++i) {
        const double value = std::ldexp(std::uniform_real_distribution<double>(-1, 1)(lot), i % 60 - 20);
        const int decimals = i % 7;
        char text[128];
        std::snprintf(text, sizeof text, "%.*f", decimals, value);
        const std::string printed = text;
        const bool isNothing = printed.find_first_not_of("-0.") == std::string::npos;
        EXPECT_EQ(fixed(value, decimals), isNothing && value < 0 ? printed.substr(1) : printed);
    }
    EXPECT_EQ(fixed(-DBL_MAX, 2).size(), 313U);  // minus, 309 digits, point, two more
}

TEST(Numbers, NothingHasNoSign) {
    EXPECT_EQ(fixed(-0.0, 2), "0.00");
    EXPECT_EQ(fixed(-0.004, 2), "0.00");
    EXPECT_EQ(fixed(-0.006, 2), "-0.01");
    EXPECT_EQ(shortestNumber(-0.0), "0");
}

TEST(Numbers, TheShortestTextReadsBackAsTheSameNumber) {
    std::mt19937_64 lot(8);
    for (int i = 0; i < 20'000; ++i) {
        const double value = std::ldexp(std::uniform_real_distribution<double>(-1, 1)(lot), i % 90 - 45);
        EXPECT_EQ(std::strtod(shortestNumber(value).c_str(), nullptr), value);
    }
    EXPECT_EQ(shortestNumber(0.1), "0.1");
    EXPECT_EQ(shortestNumber(8), "8");
}

}  // namespace
}  // namespace bandwright::base
