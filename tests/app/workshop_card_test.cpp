#include "app/workshop_card.hpp"

#include <gtest/gtest.h>

#include "headless.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

/// The workshop's card, opened by the keyboard, with its file in a folder of its own.
class WorkshopCards : public testing::Test {
  protected:
    WorkshopCards() { desk.press(Key::W, kCtrl); }
    const WorkshopCard& card() { return desk.bench().workshopCard(); }
    void enter(const std::string& place, const std::string& text) {
        desk.clickAt(card().places().at(place));
        desk.press(Key::A, kCtrl);
        desk.press(Key::Delete);
        desk.type(text);
        desk.press(Key::Enter);
    }
    Headless desk;
};

TEST_F(WorkshopCards, ATypedToolIsTakenUndoneAndUsedByTheChecks) {
    EXPECT_TRUE(card().shown());
    enter("boring-bars[0]", "8 reach 32");
    enter("boring-bars[1]", "10 carbide");
    EXPECT_EQ(card().workshop().boringBars, (std::vector<trade::BoringBar>{{8, 32, false}, {10, 0, true}}));
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(card().workshop().boringBars.size(), 1U);
    desk.press(Key::Y, kCtrl);
    EXPECT_EQ(card().workshop().boringBars.size(), 2U);
    enter("boring-bars[0]", "");
    EXPECT_EQ(card().workshop().boringBars, (std::vector<trade::BoringBar>{{10, 0, true}}));
    desk.press(Key::Escape);
    EXPECT_FALSE(card().shown());
    EXPECT_EQ(desk.bench().planner().workshop(), card().workshop());
    EXPECT_EQ(desk.bench().session().catalogue().tools.boringBars, std::vector<double>{10});
}

TEST_F(WorkshopCards, WhatIsRefusedStaysWithItsSentenceUntilItIsMended) {
    enter("hourly-rate", "much");
    EXPECT_FALSE(card().workshop().hourlyRate);
    EXPECT_NE(card().refusal("hourly-rate").find("Hourly rate"), std::string::npos);
    enter("hours", "sawn 2");
    EXPECT_NE(card().refusal("hours").find("sawn"), std::string::npos);
    enter("hourly-rate", "45");
    EXPECT_EQ(card().workshop().hourlyRate, 45);
    EXPECT_EQ(card().refusal("hourly-rate"), "");
}

TEST_F(WorkshopCards, IsSavedUnderATypedPathAndAskedAboutWhenThePersonLeaves) {
    const ScratchFolder folder;
    enter("currency", "EUR");
    EXPECT_TRUE(card().unsaved());
    desk.press(Key::Escape);
    desk.press(Key::Q, kCtrl);
    EXPECT_FALSE(desk.bench().done());
    desk.press(Key::Escape);  // go on working
    desk.press(Key::W, kCtrl);
    desk.press(Key::S, kCtrl);
    desk.press(Key::A, kCtrl);
    desk.type((folder / "shop").string());
    desk.press(Key::Enter);
    EXPECT_FALSE(card().unsaved());
    EXPECT_EQ(trade::readWorkshop(folder / "shop.json", trade::builtInCatalogue()).currency, "EUR");
    desk.press(Key::Escape);
    desk.press(Key::Q, kCtrl);
    EXPECT_TRUE(desk.bench().done());
}

}  // namespace
}  // namespace bandwright::app
