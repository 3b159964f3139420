#include <gtest/gtest.h>

#include <algorithm>
#include <functional>
#include <ostream>
#include <string>

#include "plain_ring.hpp"

namespace bandwright {
namespace {

/// A ring in which one wall is as thick as asked for, by subtraction from the plain ring's own numbers.
struct Case {
    const char* id;
    double limit, comfortable;  ///< of titanium
    std::function<Design(double)> withWall;
};

std::ostream& operator<<(std::ostream& out, const Case& c) {
    return out << c.id;
}

/// A stone with a flat base, which lies on the ledge: 0.1 mm above the bottom of the tube.
Design withStone(double baseAboveBore) {
    Design design = plainRing();
    Setting setting;
    setting.stone->cut = StoneCut::Cabochon;
    setting.tube->seatDepth = 0.8;
    setting.tube->height = 0.9;
    setting.hole.steps = {{4.5, design.band.thickness + 0.1 - baseAboveBore}};
    design.settings = {setting};
    return design;
}

class EachRule : public testing::TestWithParam<Case> {};

TEST_P(EachRule, TurnsFromNoGoToMarginalToGoAtItsLimits) {
    const auto verdict = [&](double wall) {
        const Report report = checked(GetParam().withWall(wall));
        const Finding* finding = findingOf(report, GetParam().id);
        EXPECT_NE(finding, nullptr);
        if (finding == nullptr) return Verdict::Go;
        EXPECT_NEAR(report.measures[finding->measure].value, wall, 1e-6);
        EXPECT_EQ(finding->limit, GetParam().limit);
        EXPECT_NEAR(finding->comfortable, GetParam().comfortable, 1e-12);
        EXPECT_FALSE(finding->source.empty());
        EXPECT_FALSE(finding->why.empty());
        return finding->verdict;
    };
    constexpr double kHair = 1e-5;
    EXPECT_EQ(verdict(GetParam().limit - kHair), Verdict::NoGo);
    EXPECT_EQ(verdict(GetParam().limit + kHair), Verdict::Marginal);
    EXPECT_EQ(verdict(GetParam().comfortable - kHair), Verdict::Marginal);
    EXPECT_EQ(verdict(GetParam().comfortable + kHair), Verdict::Go);
}

const Case kCases[] = {
    {"floor-wall", 0.5, 0.6,
     [](double wall) {
         Design design = plainRing();
         design.channels = {channel(0, 4, 2.4 - wall)};
         return design;
     }},
    {"rim-left", 0.75, 0.9,
     [](double wall) {
         Design design = plainRing();
         design.channels = {channel(wall - 2, 4, 1)};
         return design;
     }},
    {"rim-right", 0.75, 0.9,
     [](double wall) {
         Design design = plainRing();
         design.channels = {channel(2 - wall, 4, 1)};
         return design;
     }},
    {"land", 0.5, 0.6,
     [](double wall) {
         Design design = plainRing();
         design.channels = {channel(1, 1.5, 1), channel(-0.5 - wall, 1.5, 1)};
         return design;
     }},
    {"thinnest-wall", 0.5, 0.6,
     [](double wall) {
         Design design = plainRing();
         design.band.thickness = wall;
         return design;
     }},
    {"hole-to-edge", 0.75, 0.9,
     [](double wall) {
         Design design = plainRing();
         design.settings = {bareHole(2.5 - wall, 1.5, 3, 1)};
         return design;
     }},
    {"seat-to-channel", 0.75, 0.9,
     [](double wall) {
         Design design = plainRing();
         design.channels = {channel(-2.5, 1, 1.5)};
         design.settings = {bareHole(-1 + wall, 1.2, 2, 1)};
         return design;
     }},
    {"seat-floor", 0.5, 0.6,
     [](double wall) {
         Design design = plainRing();
         design.settings = {bareHole(0, 1.5, 3, 2.4 - wall)};
         return design;
     }},
    {"culet-to-finger", 0.2, 0.3, withStone},
};

INSTANTIATE_TEST_SUITE_P(Rules, EachRule, testing::ValuesIn(kCases), [](const auto& test) {
    std::string name = test.param.id;
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
});

TEST(Rules, TakeTheLimitsOfTheMetal) {
    Design design = plainRing();
    design.channels = {channel(0, 4, 1.7)};
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->verdict, Verdict::Go);
    design.band.metal = "silver-sterling-925";
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->verdict, Verdict::NoGo);
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->limit, 0.8);
}

TEST(Rules, NameTheStageAtWhichTheRingStandsWorst) {
    Design design = plainRing();
    design.channels = {channel(0, 4, 1)};
    const Report report = checked(design);
    EXPECT_EQ(findingOf(report, "floor-wall")->stage, Stage::Finished);
    EXPECT_NEAR(valueOf(report, "floor-wall", Stage::BeforeSizing),
                valueOf(report, "floor-wall") + design.allowances.sizing, 1e-9);
}

// Common practice, no source: a 4 mm round stone goes in a 4.5 mm seat bore over a 2 mm pilot; half a US
// size, 0.2032 mm on the radius, is left in the bore for sanding.
TEST(Rules, LetTheUsualStoneInItsUsualSeatGo) {
    Design design = plainRing();
    design.band.bore = {};
    design.band.left = design.band.right = {};
    Setting setting;
    setting.hole.pilotDiameter = 2;
    setting.hole.steps = {{4.5, 1.5}};
    setting.tube->outerDiameter = 4.5;
    setting.stone->diameter = 4;
    design.settings = {setting};
    design.allowances.sizing = 0.2032;
    const Report report = checked(design);
    for (const Finding& f : report.findings)
        EXPECT_EQ(f.verdict, Verdict::Go) << report.measures[f.measure].id;
    EXPECT_EQ(report.verdict, Verdict::Go);
}

TEST(Rules, SayThatNothingIsLeftWhereAFeatureRunsOutOfTheMetal) {
    Design design = plainRing();
    design.channels = {channel(0, 4, 2.5)};
    Report report = checked(design);
    EXPECT_EQ(valueOf(report, "floor-wall"), 0);
    EXPECT_EQ(report.verdict, Verdict::NoGo);

    design.channels = {channel(3, 4, 1)};
    report = checked(design);
    EXPECT_EQ(valueOf(report, "rim-right"), 0);
    EXPECT_NEAR(valueOf(report, "rim-left"), 5, 1e-6);

    design.channels.clear();
    design.settings = {bareHole(3, 1.5, 3, 1)};
    report = checked(design);
    EXPECT_NEAR(valueOf(report, "hole-to-edge"), 0, 1e-6);

    design.settings = {bareHole(0, 1.5, 3, 2.5)};
    report = checked(design);
    EXPECT_EQ(valueOf(report, "seat-floor"), 0);
}

TEST(Rules, SayNothingOfALandWhereAHoleOpensIntoTheChannel) {
    Design design = plainRing();
    design.channels = {channel(0, 4, 1)};
    design.settings = {bareHole(0, 2, 4.5, 1.5)};
    EXPECT_EQ(measureOf(checked(design), "seat-to-channel"), nullptr);
    design.settings = {bareHole(1.5, 1, 2, 1.5)};
    EXPECT_EQ(measureOf(checked(design), "seat-to-channel"), nullptr);
}

TEST(Rules, CallAScreenedSideLandAndNotRim) {
    Design design = plainRing();
    design.channels = {channel(-1.5, 1, 1), channel(1.5, 1, 1)};
    const Report report = checked(design);
    EXPECT_NE(measureOf(report, "rim-left"), nullptr);
    EXPECT_EQ(measureOf(report, "rim-right"), nullptr);
    EXPECT_EQ(measureOf(report, "rim-left@2"), nullptr);
    EXPECT_NE(measureOf(report, "rim-right@2"), nullptr);
    EXPECT_NEAR(valueOf(report, "land"), 2, 1e-6);
}

}  // namespace
}  // namespace bandwright
