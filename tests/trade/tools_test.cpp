#include "trade/tools.hpp"

#include <gtest/gtest.h>

#include <filesystem>
#include <fstream>

#include "base/input_error.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::trade {
namespace {

std::vector<double> evenly(int count) {
    std::vector<double> angles;
    for (int i = 0; i < count; ++i)
        angles.push_back(360.0 * i / count);
    return angles;
}

// Turns of the crank by hand: 40 / 7 = 5 + 20/28, 40 / 11 = 3 + 42/66, 40 / 13 = 3 + 3/39; 7 does not divide
// 360.
TEST(Dividing, IsExactWhereACircleHasTheHoles) {
    const Dividing head = usualTools().dividing, degrees{1, {360}};
    for (const int count : {3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 18, 20, 24, 30, 36, 40, 48})
        EXPECT_NEAR(head.error(evenly(count)), 0, 1e-9) << count;
    for (const int count : {3, 4, 5, 6, 8, 9, 10, 12, 15, 18, 20, 24, 30, 36, 40})
        EXPECT_NEAR(degrees.error(evenly(count)), 0, 1e-9) << count;
    // 360/7 = 51.43, 102.86, 154.29 ...: the worst is 3/7 of a degree off; 360/16 = 22.5: half a degree.
    EXPECT_NEAR(degrees.error(evenly(7)), 3.0 / 7, 1e-9);
    EXPECT_NEAR(degrees.error(evenly(16)), 0.5, 1e-9);
}

TEST(Dividing, CountsFromTheFirstHole) {
    EXPECT_NEAR((Dividing{1, {24}}.error({7, 22, 37.5})), 0.5, 1e-9);
    EXPECT_EQ((Dividing{1, {24}}.error({7})), 0);
}

Catalogue withTools(const std::string& text) {
    const std::filesystem::path file =
        std::filesystem::temp_directory_path() /
        (std::string("bandwright-tools-") + testing::UnitTest::GetInstance()->current_test_info()->name() +
         ".json");
    std::ofstream(file) << text;
    return withLimits(builtInCatalogue(), file);
}

TEST(Tools, OfTheMakerStandInForTheUsual) {
    const Catalogue mine =
        withTools(R"({"tools": {"boring-bars": [5], "dividing": {"ratio": 60, "circles": [21]}}})");
    EXPECT_EQ(mine.tools.boringBars, std::vector<double>{5});
    EXPECT_EQ(mine.tools.groovingBlades, usualTools().groovingBlades);
    EXPECT_EQ(mine.tools.dividing, (Dividing{60, {21}}));
    EXPECT_NE(mine.tools.source.find("maker's own"), std::string::npos);
}

TEST(Tools, AreRefusedInOneSentence) {
    EXPECT_THROW(withTools(R"({"tools": {"boring-bars": []}})"), base::InputError);
    EXPECT_THROW(withTools(R"({"tools": {"parting-blade": 0}})"), base::InputError);
    EXPECT_THROW(withTools(R"({"tools": {"dividing": {"ratio": 40, "circles": [2.5]}}})"), base::InputError);
    EXPECT_THROW(withTools(R"({"tools": {"lathe": 1}})"), base::InputError);
}

}  // namespace
}  // namespace bandwright::trade
