#include "app/gauges.hpp"

#include <gtest/gtest.h>

#include <thread>

#include "check/tolerance_stack.hpp"
#include "headless.hpp"

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

void awaitWorst(Headless& desk) {
    desk.frames(30);  // until the ring has rested
    while (desk.bench().gauges().busy()) {
        std::this_thread::yield();
        desk.frames(1);
    }
    desk.frames(1);
}

TEST(Gauges, ABandRunsFromTheNeedleToWhereTolerancesCanTakeIt) {
    Headless desk(harbour(), {}, Remedies::Sought);
    const Gauges& gauges = desk.bench().gauges();
    EXPECT_TRUE(gauges.bandPlaces().empty());
    desk.clickAt(gauges.foldPlace());
    awaitWorst(desk);
    const check::Report& report = desk.bench().session().derived().report;
    check::Report spread = report;
    check::addSpreads(desk.bench().session().derived().made, desk.bench().session().catalogue(), spread,
                      {.rings = 0});
    std::size_t bands = 0;
    for (const check::Finding& finding : spread.findings) {
        if (!finding.spread) continue;
        EXPECT_EQ(gauges.worstCases().of(report, finding), finding.spread->worst) << finding.rule;
        const check::Measure& measure = spread.measures[finding.measure];
        const auto band = gauges.bandPlaces().find(finding.rule + " " + measure.id);
        EXPECT_EQ(band != gauges.bandPlaces().end(), finding.spread->worst != measure.value) << measure.id;
        bands += band != gauges.bandPlaces().end();
    }
    EXPECT_GT(bands, 5U);
    // Of another ring nothing is said before it is known.
    desk.enter("band.thickness", "2.5");
    EXPECT_TRUE(gauges.bandPlaces().empty());
    awaitWorst(desk);
    EXPECT_FALSE(gauges.bandPlaces().empty());
}

}  // namespace
}  // namespace bandwright::app
