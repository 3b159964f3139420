#include "cutting.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "trade/catalogue.hpp"

namespace bandwright::route {
namespace {

// Machinery's Handbook, n = 1000 v / (pi d), worked by hand: 22 mm at 60 m/min, a 4 mm drill at 10, a 2.5 mm
// drill at 12; and 19, 22 and 25 mm at 30, 46 and 92 m/min.
TEST(SpindleSpeed, IsThatOfTheHandbook) {
    EXPECT_NEAR(spindleSpeed(60, 22), 868, 0.5);
    EXPECT_NEAR(spindleSpeed(10, 4), 796, 0.5);
    EXPECT_NEAR(spindleSpeed(12, 2.5), 1528, 0.5);
    EXPECT_NEAR(spindleSpeed(30, 19), 503, 0.5);
    EXPECT_NEAR(spindleSpeed(46, 22), 666, 0.5);
    EXPECT_NEAR(spindleSpeed(92, 25), 1171, 0.5);
}

// The inch form of the same handbook: 3.82 times feet a minute over inches.
TEST(SpindleSpeed, IsThatOfTheInchFormula) {
    constexpr double kFoot = 0.3048, kInch = 25.4;
    for (const double feet : {20.0, 100.0, 300.0})
        for (const double inches : {0.125, 0.75, 1.0})
            EXPECT_NEAR(spindleSpeed(feet * kFoot, inches * kInch), 3.82 * feet / inches,
                        3e-4 * 3.82 * feet / inches);
}

// Tables of drill points give 0.500, 0.300, 0.207 and 0.182 of the diameter (calculator.city, calcady).
TEST(DrillPoint, IsThatOfTheTables) {
    EXPECT_NEAR(drillPoint(1, 90), 0.500, 5e-4);
    EXPECT_NEAR(drillPoint(1, 118), 0.300, 5e-4);
    EXPECT_NEAR(drillPoint(1, 135), 0.207, 5e-4);
    EXPECT_NEAR(drillPoint(1, 140), 0.182, 5e-4);
    EXPECT_NEAR(drillPoint(16, 118), 16 * drillPoint(1, 118), 1e-12);
}

// US Navy 14345: drills to 3.2 mm 0.025 to 0.05, to 6.4 mm 0.05 to 0.10, to 12.7 mm 0.10 to 0.18 mm a turn.
TEST(DrillFeed, LiesInTheRangesOfTheManual) {
    for (const double d : {0.5, 1.0, 3.1}) {
        EXPECT_GE(drillFeed(d), 0.025);
        EXPECT_LE(drillFeed(d), 0.05);
    }
    for (const double d : {3.3, 6.3}) {
        EXPECT_GE(drillFeed(d), 0.05);
        EXPECT_LE(drillFeed(d), 0.10);
    }
    for (const double d : {6.5, 12.7}) {
        EXPECT_GE(drillFeed(d), 0.10);
        EXPECT_LE(drillFeed(d), 0.18);
    }
}

// The table that Machinery's Handbook is quoted with: titanium 15 m/min with high-speed steel and 30 with
// carbide, brass 46 and 92, copper 30 and 60. TM 43-0106, table 2-8: stainless steel roughed at 6 to 12.
TEST(TurningSpeed, IsForTheToolThatIsUsed) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    const auto both = [&](const char* metal) {
        return std::pair{turningSpeed(*catalogue.metal(metal), trade::ToolMaterial::HighSpeedSteel).value,
                         turningSpeed(*catalogue.metal(metal), trade::ToolMaterial::Carbide).value};
    };
    EXPECT_EQ(both("titanium-grade-5"), (std::pair{15.0, 30.0}));
    EXPECT_EQ(both("brass"), (std::pair{46.0, 92.0}));
    EXPECT_EQ(both("copper"), (std::pair{30.0, 60.0}));
    EXPECT_LE(both("steel-304l").first, 12);
    EXPECT_GE(both("steel-304l").first, 6);
    EXPECT_EQ(turningSpeed(*catalogue.metal("brass"), trade::ToolMaterial::Carbide).tool, "carbide");
}

// Every pass is within its depth, and the last reading is all there is to take.
TEST(Dial, EndsAtWhatIsToTake) {
    for (int i = 1; i <= 400; ++i) {
        const double total = 0.0071 * i;
        for (const auto& [rough, fine] : {std::pair{0.25, 0.1}, std::pair{0.5, 0.1}, std::pair{0.1, 0.03}}) {
            const std::vector<double> dial = dialOf(total, rough, fine);
            ASSERT_FALSE(dial.empty());
            EXPECT_EQ(dial.back(), total);
            double last = 0;
            for (const double at : dial) {
                EXPECT_GT(at, last);
                EXPECT_LE(at - last, rough + 0.0301) << total;
                last = at;
            }
            if (dial.size() > 1) {
                EXPECT_LE(total - dial[dial.size() - 2], fine + 0.0301) << total;
            }
        }
    }
    EXPECT_TRUE(dialOf(0, 0.25, 0.1).empty());
    EXPECT_EQ(dialOf(0.6, 0.25, 0.1), (std::vector<double>{0.25, 0.5, 0.6}));
}

TEST(CutAt, KeepsToTheMachine) {
    const Speed speed{60, "carbide", "a test"};
    const Cut any = cutAt(speed, 22, std::nullopt);
    EXPECT_NEAR(any.spindle, 868, 0.5);
    EXPECT_FALSE(any.clipped);
    const Cut slow = cutAt(speed, 22, trade::Spindle{100, 500, {}});
    EXPECT_EQ(slow.spindle, 500);
    EXPECT_TRUE(slow.clipped);
    const Cut stepped = cutAt(speed, 22, trade::Spindle{250, 2000, {250, 600, 2000}});
    EXPECT_EQ(stepped.spindle, 600);
    EXPECT_FALSE(stepped.clipped);
    EXPECT_NE(any.source.find("carbide"), std::string::npos);
}

// A right triangle with legs 3 and 4: 5 along the slope, 53.13 degrees, and its height 12/5. A bevel of 45
// degrees and 0.8 mm: 0.8 mm in, 1.131 mm along, 0.566 mm square to it.
TEST(CompoundSetting, IsThatOfARightTriangle) {
    const CompoundSetting three = compoundFor(3, 4);
    EXPECT_NEAR(three.angle, 53.1301, 1e-4);
    EXPECT_NEAR(three.travel, 5, 1e-12);
    EXPECT_NEAR(three.square, 2.4, 1e-12);
    EXPECT_EQ(three.axial, 3);
    EXPECT_EQ(three.radial, 4);
    const CompoundSetting bevel = compoundFor(0.8, 0.8);
    EXPECT_NEAR(bevel.angle, 45, 1e-12);
    EXPECT_NEAR(bevel.travel, 1.131, 5e-4);
    EXPECT_NEAR(bevel.square, 0.566, 5e-4);
}

}  // namespace
}  // namespace bandwright::route
