#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <string>
#include <vector>

#include "cases.hpp"
#include "findings.hpp"
#include "plain_ring.hpp"
#include "rules.hpp"

namespace bandwright::check {
namespace {

// The cases of EachRule are in cases.cpp.

class EachRule : public testing::TestWithParam<Case> {
  protected:
    static Verdict verdict(double value) {
        const Report report = check(GetParam().with(value), GetParam().catalogue(value), {.remedies = false});
        const auto finding = std::find_if(report.findings.begin(), report.findings.end(),
                                          [](const Finding& f) { return f.rule == GetParam().rule; });
        EXPECT_NE(finding, report.findings.end()) << GetParam().rule;
        if (finding == report.findings.end()) return Verdict::Go;
        const Measure& measure = report.measures[finding->measure];
        EXPECT_NEAR(measure.value, measure.unit == "layers" ? std::ceil(value) : value, 1e-6);
        EXPECT_EQ(finding->limit, GetParam().limit);
        EXPECT_NEAR(finding->comfortable, GetParam().comfortable, 1e-12);
        EXPECT_EQ(finding->sense, GetParam().sense());
        EXPECT_FALSE(finding->source.empty());
        EXPECT_FALSE(finding->why.empty());
        return finding->verdict;
    }
};

TEST_P(EachRule, TurnsFromNoGoToMarginalToGoAtItsLimits) {
    const Case& c = GetParam();
    const double good = c.sense() == Sense::AtLeast ? 1e-5 : -1e-5;
    EXPECT_EQ(verdict(c.limit - good), Verdict::NoGo);
    EXPECT_EQ(verdict(c.comfortable + good), Verdict::Go);
    if (c.limit == c.comfortable) return;
    EXPECT_EQ(verdict(c.limit + good), Verdict::Marginal);
    EXPECT_EQ(verdict(c.comfortable - good), Verdict::Marginal);
}

INSTANTIATE_TEST_SUITE_P(Rules, EachRule, testing::ValuesIn(cases()), [](const auto& test) {
    std::string name = test.param.rule + (test.param.most ? "_most" : "");
    std::replace(name.begin(), name.end(), '-', '_');
    return name;
});

TEST(Rules, EachHaveACase) {
    const std::vector<Case> all = cases();
    for (const Rule& rule : rules()) {
        if (rule.id == "sizing-allowance" || rule.id == "resize-room" || rule.id == "stone-hardness")
            continue;  // below
        if (rule.id == "nickel-known" || rule.id == "skin-stain" || rule.id == "weld-metal")
            continue;  // in trade_test.cpp
        EXPECT_TRUE(std::any_of(all.begin(), all.end(), [&](const Case& c) { return c.rule == rule.id; }))
            << rule.id;
    }
}

TEST(Rules, LetNothingPassThatIsNoNumber) {
    constexpr double kNone = std::numeric_limits<double>::quiet_NaN();
    for (const Sense sense : {Sense::AtLeast, Sense::AtMost}) {
        EXPECT_EQ(judged(kNone, sense, {1, 1, {}}), Verdict::NoGo);
        EXPECT_EQ(judged(1, sense, {kNone, 1, {}}), Verdict::NoGo);
        EXPECT_EQ(judged(1, sense, {1, kNone, {}}), Verdict::Marginal);
        EXPECT_LT(standing(kNone, sense, 1), standing(sense == Sense::AtLeast ? -1e9 : 1e9, sense, 1));
    }
}

TEST(Rules, PutWhatIsNoNumberFirstAndKeepTheOrderOfTheRest) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 2.2)};
    const Report before = checked(design);
    for (const Finding& finding : before.findings) {
        SCOPED_TRACE(finding.rule);
        Report report = before;
        report.measures.at(finding.measure).value = std::numeric_limits<double>::quiet_NaN();
        for (Finding& f : report.findings)
            f.verdict = judged(report.measures.at(f.measure).value, f.sense, {f.limit, f.comfortable, {}});
        sortWorstFirst(report);
        EXPECT_EQ(report.verdict, Verdict::NoGo);
        std::vector<std::string> expected{finding.rule}, found;
        for (const Finding& f : before.findings)
            if (f.rule != finding.rule && f.measure != finding.measure) expected.push_back(f.rule);
        for (const Finding& f : report.findings)
            if (f.rule == finding.rule || f.measure != finding.measure) found.push_back(f.rule);
        EXPECT_EQ(found, expected);
    }
}

TEST(Rules, FindABoreWithoutAllowanceMarginalAndNeverWorse) {
    design::Design design = plainRing();
    design.allowances.sizing = 0;
    EXPECT_EQ(findingOf(checked(design), "sizing-allowance")->verdict, Verdict::Marginal);
    design.allowances.sizing = 0.05;
    EXPECT_EQ(findingOf(checked(design), "sizing-allowance")->verdict, Verdict::Go);
}

TEST(Rules, FindABandThatCannotBeOpenedMarginalAndNeverWorse) {
    const auto resize = [](double sizes) {
        design::Design design = plainRing();
        design.band.bore.ease = 0.15;
        // Where the floor is comfortable, 0.6 mm.
        design.channels = {channel(0, 4, 2.4 - 0.6 - sizes * 0.8128 / 2)};
        return *findingOf(check(design, trade::builtInCatalogue(), {.remedies = false, .resizing = true}),
                          "resize-room");
    };
    EXPECT_EQ(resize(0.005).verdict, Verdict::Marginal);
    EXPECT_EQ(resize(0.25 - 1e-5).verdict, Verdict::Marginal);
    EXPECT_EQ(resize(0.25 + 1e-5).verdict, Verdict::Go);
}

TEST(Rules, JudgeTheHardnessOfTheStone) {
    const auto verdict = [](double mohs) {
        trade::Catalogue catalogue = trade::builtInCatalogue();
        catalogue.gems.front().mohs.value = mohs;
        design::Design design = plainRing();
        design.settings = {design::Setting{}};
        design.settings[0].stone->gem = catalogue.gems.front().id;
        return findingOf(check(design, catalogue), "stone-hardness")->verdict;
    };
    EXPECT_EQ(verdict(4.9), Verdict::NoGo);
    EXPECT_EQ(verdict(5), Verdict::Marginal);
    EXPECT_EQ(verdict(7), Verdict::Go);
}

TEST(Rules, TakeTheLimitsOfTheMetal) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 1.7)};
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->verdict, Verdict::Go);
    design.band.metal = "silver-sterling-925";
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->verdict, Verdict::NoGo);
    EXPECT_EQ(findingOf(checked(design), "floor-wall")->limit, 0.8);
}

TEST(Rules, TakeTheLimitsOfTheMaker) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 1.7)};  // leaves 0.7 mm
    trade::Catalogue catalogue = trade::builtInCatalogue();
    const auto verdict = [&] {
        return findingOf(check(design, catalogue, {.remedies = false}), "floor-wall")->verdict;
    };
    EXPECT_EQ(verdict(), Verdict::Go);
    catalogue.limits = {{"floor-wall", "", 0.8, 0.9, "the maker's own: bent strips", ""}};
    EXPECT_EQ(verdict(), Verdict::NoGo);
    // A limit for the metal overrides one for all metals; one for another metal does not count.
    catalogue.limits.insert(catalogue.limits.begin(), {"floor-wall", "titanium-grade-5", 0.6, 0.75, "", ""});
    catalogue.limits.push_back({"floor-wall", "brass", 0.1, 0.1, "", ""});
    EXPECT_EQ(verdict(), Verdict::Marginal);
}

// Common practice, no source: a 4 mm round stone goes in a seat bore of 4.5 mm or a little more, over a 2 mm
// pilot; half a US
// size, 0.2032 mm on the radius, is left in the bore for sanding.
TEST(Rules, LetTheUsualStoneInItsUsualSeatGo) {
    design::Design design = plainRing();
    design.band.bore = {};
    design.band.left = design.band.right = {};
    design::Setting setting;
    setting.hole.pilotDiameter = 2;
    setting.hole.steps = {{4.55, 1.5}};
    setting.tube->outerDiameter = 4.52;
    setting.tube->seatDiameter = 4.02;
    setting.stone->diameter = 4;
    design.settings = {setting};
    design.allowances.sizing = 0.2032;
    const Report report = checked(design);
    for (const Finding& f : report.findings)
        EXPECT_EQ(f.verdict, Verdict::Go) << report.measures[f.measure].id;
    EXPECT_EQ(report.verdict, Verdict::Go);
}

// As above; a new setting begins so.
TEST(Rules, LetANewSettingGoAsItIs) {
    design::Design design = plainRing();
    design.band.bore = {};
    design.band.left = design.band.right = {};
    design.settings = {design::Setting{}};
    const Report report = checked(design);
    for (const Finding& f : report.findings) {
        if (f.group != Group::Setting) continue;
        EXPECT_EQ(f.verdict, Verdict::Go) << report.measures[f.measure].label;
    }
}

TEST(Rules, SayThatNothingIsLeftWhereAFeatureRunsOutOfTheMetal) {
    design::Design design = plainRing();
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
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 1)};
    design.settings = {bareHole(0, 2, 4.5, 1.5)};
    EXPECT_EQ(measureOf(checked(design), "seat-to-channel"), nullptr);
    design.settings = {bareHole(1.5, 1, 2, 1.5)};
    EXPECT_EQ(measureOf(checked(design), "seat-to-channel"), nullptr);
}

TEST(Rules, CallAScreenedSideLandAndNotRim) {
    design::Design design = plainRing();
    design.channels = {channel(-1.5, 1, 1), channel(1.5, 1, 1)};
    const Report report = checked(design);
    EXPECT_NE(measureOf(report, "rim-left"), nullptr);
    EXPECT_EQ(measureOf(report, "rim-right"), nullptr);
    EXPECT_EQ(measureOf(report, "rim-left@2"), nullptr);
    EXPECT_NE(measureOf(report, "rim-right@2"), nullptr);
    EXPECT_NEAR(valueOf(report, "land"), 2, 1e-6);
}

}  // namespace
}  // namespace bandwright::check
