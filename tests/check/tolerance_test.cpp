#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "check/tolerance_stack.hpp"
#include "design/field_table.hpp"
#include "plain_ring.hpp"

namespace bandwright::check {
namespace {

TEST(Tolerance, IsThatOfTheStandard) {
    // ISO 2768-1, tables 1 to 3.
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Fine, 6), 0.05);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Fine, 6.1), 0.1);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Medium, 1), 0.1);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Medium, 18.95), 0.2);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Medium, 31), 0.3);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::Coarse, 5), 0.3);
    EXPECT_EQ(trade::lengthTolerance(trade::ToleranceClass::VeryCoarse, 5), 0.5);
    EXPECT_EQ(trade::edgeTolerance(trade::ToleranceClass::Medium, 0.8), 0.2);
    EXPECT_EQ(trade::edgeTolerance(trade::ToleranceClass::Fine, 4), 0.5);
    EXPECT_EQ(trade::angleTolerance(trade::ToleranceClass::Medium), 1);
    EXPECT_EQ(trade::angleTolerance(trade::ToleranceClass::Coarse), 1.5);
}

/// A floor of thickness less depth: both lengths come in with the slope of one.
design::Design flatFloor(double floor) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 2.4 - floor)};
    return design;
}

const Finding& floorOf(const Report& report) {
    return *std::find_if(report.findings.begin(), report.findings.end(),
                         [](const Finding& f) { return f.rule == "floor-wall"; });
}

trade::Catalogue measured(double thickness, double depth) {
    trade::Catalogue catalogue = trade::builtInCatalogue();
    catalogue.tolerances = {{"band", 0, "", ""},
                            {"channels", 0, "", ""},
                            {"finger.size", 0, "", ""},
                            {"allowances", 0, "", ""},
                            {"band.thickness", thickness, "", ""},
                            {"channels[#].depth", depth, "", ""}};
    return catalogue;
}

TEST(Tolerance, OfTheMakerGoesBeforeTheStandard) {
    const design::Design design = flatFloor(1);
    const std::vector<Tolerance> all = tolerances(design, measured(0.03, 0.04));
    ASSERT_EQ(all.size(), 2U);
    EXPECT_EQ(all[0].field, "band.thickness");
    EXPECT_EQ(all[0].plusMinus, 0.03);
    EXPECT_EQ(all[1].field, "channels[0].depth");
    for (const Tolerance& t : tolerances(design, trade::builtInCatalogue())) {
        EXPECT_GT(t.plusMinus, 0);
        EXPECT_FALSE(t.source.empty());
        if (t.field == "finger.size") continue;
        EXPECT_NE(design::numberAt(design, t.field), nullptr) << t.field;
    }
}

TEST(Stack, OfTwoLengthsIsThatOfTheSchoolbook) {
    const trade::Catalogue catalogue = measured(0.06, 0.08);
    const design::Design design = flatFloor(0.53);  // 0.5 at least in titanium
    Report report = check(design, catalogue, {.remedies = false});
    const StackSummary summary = addSpreads(design, catalogue, report, {.rings = 4000});
    const Spread& spread = *floorOf(report).spread;
    EXPECT_NEAR(spread.worst, 0.53 - 0.14, 1e-6);
    EXPECT_EQ(spread.atWorst, Verdict::NoGo);
    // sigma = sqrt(0.06^2 + 0.08^2) / 3 = 0.0333 mm; 0.03 mm are 0.9 of it: 1 - Phi(0.9) = 0.18406 in any
    // table.
    EXPECT_NEAR(spread.noGoBySquares, 0.18406, 1e-4);
    // The cut-off tails hardly count; four standard errors of 4000 rings.
    const double error = std::sqrt(0.184 * 0.816 / 4000);
    EXPECT_EQ(summary.rings, 4000U);
    EXPECT_NEAR(spread.noGoByLot.value(), 0.184, 4 * error);
}

TEST(Stack, LeavesTheMeasureAloneWhereNothingVaries) {
    const trade::Catalogue catalogue = measured(0, 0);
    const design::Design design = flatFloor(0.53);
    Report report = check(design, catalogue, {.remedies = false});
    addSpreads(design, catalogue, report, {.rings = 10});
    for (const Finding& f : report.findings) {
        EXPECT_EQ(f.spread->worst, report.measures[f.measure].value) << f.rule;
        EXPECT_EQ(f.spread->atWorst, f.verdict) << f.rule;
        EXPECT_EQ(f.spread->noGoBySquares, f.verdict == Verdict::NoGo ? 1 : 0) << f.rule;
    }
}

TEST(Stack, DrawsTheSameRingsEachTime) {
    const design::Design design = flatFloor(0.6);
    const auto chance = [&](std::uint64_t seed) {
        Report report = check(design, trade::builtInCatalogue(), {.remedies = false});
        addSpreads(design, trade::builtInCatalogue(), report, {.rings = 200, .seed = seed});
        return floorOf(report).spread->noGoByLot.value();
    };
    EXPECT_EQ(chance(7), chance(7));
    EXPECT_NE(chance(7), chance(8));
}

TEST(Stack, NeverMakesARingBetterThanItIsDrawn) {
    design::Design design = flatFloor(1);
    design.settings = {design::Setting{}};
    Report report = check(design, trade::builtInCatalogue(), {.remedies = false});
    addSpreads(design, trade::builtInCatalogue(), report, {.rings = 0});
    for (const Finding& f : report.findings) {
        const double good = f.sense == Sense::AtLeast ? 1 : -1;
        EXPECT_LE(good * f.spread->worst, good * report.measures[f.measure].value + 1e-9) << f.rule;
        EXPECT_GE(f.spread->atWorst, f.verdict) << f.rule;
        EXPECT_FALSE(f.spread->noGoByLot.has_value());
    }
}

TEST(Stack, ARemedyAtWorstLeavesRoomForTheTolerances) {
    const trade::Catalogue catalogue = measured(0.06, 0.08);
    const design::Design design = flatFloor(0.6);
    Report report = check(design, catalogue);
    EXPECT_EQ(floorOf(report).verdict, Verdict::Go);
    addSpreads(design, catalogue, report, {.rings = 0});
    judgeAtWorst(design, catalogue, report);
    const Finding& floor = floorOf(report);
    EXPECT_EQ(floor.verdict, Verdict::NoGo);
    ASSERT_FALSE(floor.remedies.empty()) << floor.remedy;
    const design::Design mended = carriedOut(design, floor.remedies.front());
    Report after = check(mended, catalogue);
    addSpreads(mended, catalogue, after, {.rings = 0});
    EXPECT_EQ(floorOf(after).spread->atWorst, Verdict::Go);
}

TEST(Stack, ARemedyAtWorstIsNotHeldToTheLimitsOfAnotherMetal) {
    trade::Catalogue catalogue = measured(0.06, 0.08);
    design::Design design = flatFloor(0.45);
    design.channels.at(0).fill.emplace();
    const auto remedied = [&]() -> std::string {
        Report report = check(design, catalogue, {.remedies = false, .stage = design::Stage::Channelled});
        addSpreads(design, catalogue, report, {.rings = 0, .stage = design::Stage::Channelled});
        judgeAtWorst(design, catalogue, report);
        const std::vector<Remedy>& remedies = floorOf(report).remedies;
        const bool turnsANumber = !remedies.empty() && !remedies.front().changes.empty();
        return turnsANumber ? remedies.front().changes.front().field : "";
    };
    ASSERT_EQ(remedied(), "channels[0].depth");
    // Where it held, a channel less deep would be no-go; it would still be so of the finished ring alone.
    catalogue.limits = {{"fill-depth", "silver-sterling-925", 1.75, 1.9, "the maker's own: a test", ""}};
    ASSERT_NE(catalogue.metal(catalogue.limits.at(0).metal), nullptr);
    EXPECT_EQ(remedied(), "channels[0].depth");
    catalogue.limits.at(0).metal = design.band.metal;
    EXPECT_NE(remedied(), "channels[0].depth");
}

}  // namespace
}  // namespace bandwright::check
