#include "app/section_view.hpp"

#include <gtest/gtest.h>

#include <cmath>

#include "design/field_table.hpp"
#include "geometry/vector.hpp"
#include "headless.hpp"

namespace bandwright::app {
namespace {

std::array<float, 4> placeOf(Headless& desk, const std::string& name) {
    const auto& places = desk.bench().section().places();
    const auto found = places.find(name);
    EXPECT_NE(found, places.end()) << name << " is not there";
    return found == places.end() ? std::array<float, 4>{} : found->second;
}

void typeOn(Headless& desk, const std::string& field, const std::string& text) {
    desk.clickAt(placeOf(desk, field));
    EXPECT_EQ(desk.bench().section().typing(), field);
    desk.type(text);
}

TEST(SectionView, ANumberTypedOnItsDimensionChangesTheFieldAndIsUndone) {
    Headless desk(harbour());
    const design::Design before = desk.design();
    typeOn(desk, "band.width", "1/4 in");
    desk.press(Key::Enter);
    EXPECT_NEAR(desk.design().band.width, 6.35, 1e-12);
    EXPECT_EQ(desk.bench().section().typing(), "");
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), before);
}

TEST(SectionView, EscapeLeavesTheNumberAsItWas) {
    Headless desk(harbour());
    const design::Design before = desk.design();
    typeOn(desk, "band.thickness", "2.9");
    desk.press(Key::Escape);
    EXPECT_EQ(desk.bench().section().typing(), "");
    EXPECT_EQ(desk.design(), before);
}

TEST(SectionView, WhatIsNoNumberOrMakesNoRingStaysInTheBox) {
    Headless desk(harbour());
    const design::Design before = desk.design();
    typeOn(desk, "band.thickness", "thick");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.bench().section().typing(), "band.thickness");
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::A, kCtrl);
    desk.type("400");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::A, kCtrl);
    desk.type("2.5");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.thickness, 2.5);
}

TEST(SectionView, KeysGoCloserToTheMiddleAndHomeShowsTheWhole) {
    Headless desk(harbour());
    const SectionView& section = desk.bench().section();
    const geometry::Vec2 whole = section.centre();
    desk.press(Key::Digit3, kCtrl);
    for (int i = 0; i < 5; ++i)
        desk.press(Key::PageUp);
    EXPECT_NEAR(section.zoom(), std::pow(1.15, 5), 1e-9);
    EXPECT_EQ(section.centre(), whole);
    desk.press(Key::Home);
    EXPECT_EQ(section.zoom(), 1);
}

TEST(SectionView, TheWheelGoesCloserToWhatIsUnderThePointer) {
    Headless desk(harbour());
    const SectionView& section = desk.bench().section();
    const std::array<float, 4> width = placeOf(desk, "band.width");
    const geometry::Vec2 whole = section.centre();
    desk.moveTo((width[0] + width[2]) / 2, width[3] + 60);
    desk.wheel(4);
    desk.settle();
    EXPECT_NEAR(section.zoom(), std::pow(1.15, 4), 1e-9);
    // The section is symmetric and the pointer on its middle line: only the radius moves, outwards.
    EXPECT_NEAR(section.centre().z, whole.z, 0.02);
    EXPECT_GT(section.centre().r, whole.r);
    desk.wheel(-20);
    desk.settle();
    EXPECT_EQ(section.zoom(), 1);
    EXPECT_EQ(section.centre(), whole);
}

TEST(SectionView, TheButtonGoesToWhatTheChosenGaugeMeasuresAndBack) {
    Headless desk(harbour());
    const auto& gauges = desk.bench().gauges();
    desk.clickAt(gauges.foldPlace());
    const check::Report& report = desk.bench().session().derived().report;
    bool found = false;
    for (const check::Finding& finding : report.findings) {
        const check::Measure& measure = report.measures[finding.measure];
        const auto place = gauges.gaugePlaces().find(finding.rule + " " + measure.id);
        if (!measure.hasPlace || finding.stage != design::Stage::Finished ||
            place == gauges.gaugePlaces().end())
            continue;
        found = true;
        const geometry::Vec2 from{measure.from.z, std::hypot(measure.from.x, measure.from.y)},
            to{measure.to.z, std::hypot(measure.to.x, measure.to.y)};
        desk.clickAt(place->second);
        desk.clickAt(placeOf(desk, "#closer"));
        EXPECT_GE(desk.bench().section().zoom(), 2) << measure.id;
        EXPECT_LT(geometry::length(desk.bench().section().centre() - 0.5 * (from + to)), 1e-9);
        desk.clickAt(placeOf(desk, "#whole"));
        EXPECT_EQ(desk.bench().section().zoom(), 1);
        break;
    }
    EXPECT_TRUE(found);
}

/// Presses on a place of the ring's half-plane, moves by so many mm of it and lets go.
void pull(Headless& desk, geometry::Vec2 place, geometry::Vec2 by) {
    const SectionView& section = desk.bench().section();
    const auto [x0, y0] = section.at(place);
    const auto [x1, y1] = section.at(place + by);
    desk.moveTo(x0, y0);
    desk.settle();
    desk.button(true);
    desk.settle();
    for (const float share : {0.3F, 0.7F, 1.0F}) {
        desk.moveTo(x0 + share * (x1 - x0), y0 + share * (y1 - y0));
        desk.frames(2);
    }
    desk.settle();
    desk.button(false);
    desk.settle();
}

// By how much follows from the geometry: the floor as deep as the channel, each side half of its width.
TEST(SectionView, ALineThatIsPulledTakesItsNumberAlongInSteps) {
    Headless desk(harbour());
    const design::Design before = desk.design();
    const double outside = design::outsideRadius(before), depth = before.channels[0].depth,
                 width = before.channels[0].width;
    pull(desk, {-1, outside - depth}, {0, -0.327});
    const double pulled = desk.design().channels[0].depth;
    const double step = design::fieldAt(before, "channels[0].depth")->number.step;
    EXPECT_NEAR(pulled, depth + 0.327, step / 2 + 0.02) << "the pointer stands on whole pixels";
    EXPECT_NEAR(std::remainder(pulled, step), 0, 1e-9);
    EXPECT_FALSE(desk.bench().section().grip());
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), before) << "one step of undo";
    pull(desk, {width / 2, outside - depth / 2}, {0.26, 0.4});
    EXPECT_NEAR(desk.design().channels[0].width, width + 0.5, 1e-9);
    desk.press(Key::Z, kCtrl);
    pull(desk, {3, outside - before.band.thickness - 0.3}, {0, 0});
    EXPECT_EQ(desk.design(), before);
}

TEST(SectionView, ALineIsNotPulledPastTheBoundsOfItsNumber) {
    Headless desk(harbour());
    const design::Design before = desk.design();
    const double most = design::fieldAt(before, "channels[0].depth")->number.most;
    pull(desk, {-1, design::outsideRadius(before) - before.channels[0].depth}, {0, -2 * most});
    EXPECT_LE(desk.design().channels[0].depth, most);
    EXPECT_GT(desk.design().channels[0].depth, before.channels[0].depth);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), before);
}

TEST(SectionView, ManySettingsAreChosenFromAList) {
    design::Design many = harbour();
    const design::Setting setting = many.settings.front();
    for (int i = 1; i < 7; ++i) {
        many.settings.push_back(setting);
        many.settings.back().placement.angles = {90.0 + 40 * i};
    }
    Headless desk(many);
    desk.clickAt(placeOf(desk, "#through"));
    desk.clickAt(placeOf(desk, "#6"));
    EXPECT_EQ(desk.bench().section().shown(), 6);
    EXPECT_FALSE(desk.bench().section().places().contains("#6")) << "the list has closed";
}

}  // namespace
}  // namespace bandwright::app
