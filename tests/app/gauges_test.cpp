#include "app/gauges.hpp"

#include <gtest/gtest.h>

#include <chrono>
#include <cmath>
#include <stdexcept>
#include <thread>

#include "check/tolerance_stack.hpp"
#include "headless.hpp"
#include "program.hpp"
#include "trade/workshop.hpp"

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
    while (std::isfinite(desk.bench().rest())) {
        std::this_thread::sleep_for(std::chrono::duration<double>(desk.bench().rest()));
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

/// The harbour ring with all gauges in sight: 1.4 mm of metal under the channel, 0.6 asked for by the book.
class OwnLimits : public testing::Test {
  protected:
    OwnLimits() : desk(harbour()) {
        ImGui::GetIO().DisplaySize.y = 9000;
        desk.frames(2);
        desk.clickAt(desk.bench().gauges().foldPlace());
    }
    const Gauges& gauges() { return desk.bench().gauges(); }
    const check::Finding& floor() {
        for (const check::Finding& finding : desk.bench().session().derived().report.findings)
            if (finding.rule == "floor-wall") return finding;
        throw std::out_of_range("no gauge of the floor");
    }
    std::vector<trade::OwnLimit> kept() { return desk.bench().workshopCard().workshop().limits; }
    void press(const std::string& place) {
        ASSERT_TRUE(gauges().limitPlaces().contains(place)) << place;
        desk.clickAt(gauges().limitPlaces().at(place));
    }
    void set(const std::string& text) {
        press(kFloor);
        ASSERT_TRUE(gauges().limitPlaces().contains("field"));
        desk.press(Key::A, kCtrl);
        desk.type(text);
        desk.press(Key::Enter);
    }
    static constexpr const char* kFloor = "floor-wall floor-wall";
    Headless desk;
};

TEST_F(OwnLimits, AreTypedAtTheGaugeKeptAndTakenBack) {
    const double book = floor().limit, margin = floor().comfortable - floor().limit;
    ASSERT_EQ(floor().verdict, check::Verdict::Go);
    set("1.5");
    EXPECT_EQ(floor().limit, 1.5);
    EXPECT_NEAR(floor().comfortable, 1.5 + margin, 1e-12);
    EXPECT_EQ(floor().verdict, check::Verdict::NoGo);
    EXPECT_EQ(floor().source, "the maker's own: the workshop file");
    ASSERT_EQ(kept().size(), 1U);
    EXPECT_EQ(kept()[0].metal, "titanium-grade-5") << "the book's depends on the metal";
    press(std::string("book ") + kFloor);
    EXPECT_EQ(floor().limit, book);
    EXPECT_TRUE(kept().empty());
}

TEST_F(OwnLimits, AreUndoneInTheirPlaceAmongTheChangesOfTheRing) {
    const double book = floor().limit;
    desk.enter("band.width", "8.5");
    set("0.7");
    EXPECT_EQ(floor().limit, 0.7);
    desk.enter("band.width", "9");
    EXPECT_EQ(floor().limit, 0.7);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design().band.width, 8.5);
    EXPECT_EQ(floor().limit, 0.7);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design().band.width, 8.5);
    EXPECT_EQ(floor().limit, book);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design().band.width, 8);
    for (int i = 0; i < 3; ++i)
        desk.press(Key::Z, kCtrl | kShift);
    EXPECT_EQ(desk.design().band.width, 9);
    EXPECT_EQ(floor().limit, 0.7);
}

TEST_F(OwnLimits, WhatIsNoLimitIsRefusedInPlaceAndEscapeLeavesAll) {
    const double book = floor().limit;
    set("thin");
    EXPECT_FALSE(gauges().limitRefusal().empty());
    EXPECT_EQ(floor().limit, book);
    press("field");
    desk.press(Key::A, kCtrl);
    desk.type("0.7");
    desk.press(Key::Enter);
    EXPECT_EQ(floor().limit, 0.7);
    press(kFloor);
    desk.press(Key::A, kCtrl);
    desk.type("0.9");
    desk.press(Key::Escape);
    EXPECT_EQ(floor().limit, 0.7);
}

TEST_F(OwnLimits, GoIntoTheWorkshopsFileAtOnceAndAreReadFromIt) {
    const ScratchFolder folder;
    desk.press(Key::W, kCtrl);
    desk.clickAt(desk.bench().workshopCard().places().at("save-as"));
    desk.press(Key::A, kCtrl);
    desk.type(folder / "shop.json");
    desk.press(Key::Enter);
    desk.press(Key::Escape);
    set("0.7");
    const trade::Workshop shop = trade::readWorkshop(folder / "shop.json", trade::builtInCatalogue());
    EXPECT_EQ(shop.limits, kept());
    EXPECT_EQ(shop.limits.at(0).limit, 0.7);
    EXPECT_FALSE(desk.bench().workshopCard().unsaved());
}

}  // namespace
}  // namespace bandwright::app
