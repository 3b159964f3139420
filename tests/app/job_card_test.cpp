#include "app/job_card.hpp"

#include <gtest/gtest.h>

#include "design/design_file.hpp"
#include "headless.hpp"
#include "program.hpp"

namespace bandwright {
namespace {

Design harbour() {
    return readDesign(sample("harbour"));
}

TEST(JobCard, ATypedNumberMayNameItsUnit) {
    Headless desk(harbour());
    desk.enter("band.width", "3/8 in");
    EXPECT_NEAR(desk.design().band.width, 9.525, 1e-9);  // 25.4 mm an inch: NIST SP 811
}

TEST(JobCard, ATypedNumberMayBeWorkedOut) {
    Headless desk(harbour());
    desk.enter("band.width", "8/2 + 3.5");
    EXPECT_NEAR(desk.design().band.width, 7.5, 1e-9);
}

TEST(JobCard, AFingerMayBeNamedInAnySystem) {
    Headless desk(harbour());
    desk.enter("finger.size", "ISO 54");
    EXPECT_EQ(desk.design().finger.size, (RingSize{SizeSystem::Iso, 54}));
    desk.enter("finger.size", "uk r");
    EXPECT_EQ(desk.design().finger.size, (RingSize{SizeSystem::Uk, 17}));
}

TEST(JobCard, AWrongEntryIsExplainedAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.width", "wide");
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_NE(desk.fields().refusal("band.width"), "");
    desk.enter("band.width", "7.5");
    EXPECT_EQ(desk.design().band.width, 7.5);
    EXPECT_EQ(desk.fields().refusal("band.width"), "");
}

TEST(JobCard, ANumberOutOfItsRangeIsExplainedAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.width", "-4");
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_TRUE(desk.fields().refusal("band.width").starts_with("Width "))
        << desk.fields().refusal("band.width");
}

TEST(JobCard, ARingThatCannotBeMadeIsExplainedInTheWordsOfTheCardAndNotTaken) {
    Headless desk(harbour());
    desk.enter("band.thickness", "0.9");  // the bevels of 0.8 mm at 45 degrees leave no edge face
    EXPECT_EQ(desk.design(), harbour());
    const std::string sentence = desk.fields().refusal("band.thickness");
    EXPECT_TRUE(sentence.starts_with("Bevel width (edges) is 0.8 mm")) << sentence;
    EXPECT_FALSE(desk.bench().session().derived().parts.empty());
}

TEST(JobCard, UndoingTakesAwayWhatWasRefused) {
    Headless desk(harbour());
    desk.enter("band.width", "7.5");
    desk.enter("band.thickness", "0.9");
    EXPECT_NE(desk.fields().refusal("band.thickness"), "");
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.fields().refusal("band.thickness"), "");
    EXPECT_EQ(desk.design(), harbour());
}

TEST(JobCard, EscapeLeavesTheNumberAsItWas) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("5");
    desk.press(Key::Escape);
    EXPECT_EQ(desk.design(), harbour());
    EXPECT_EQ(desk.fields().refusal("band.width"), "");
}

TEST(JobCard, TabGoesFromNumberToNumber) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("7");
    desk.press(Key::Tab);
    desk.type("2.2");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.width, 7);
    EXPECT_EQ(desk.design().band.thickness, 2.2);
}

TEST(JobCard, TheUpKeyStepsTheNumberAndShiftATenth) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.press(Key::Up);
    desk.press(Key::Up);
    EXPECT_NEAR(desk.design().band.width, 8.1, 1e-9);
    desk.press(Key::Down, kShift);
    EXPECT_NEAR(desk.design().band.width, 8.095, 1e-9);
    desk.press(Key::Enter);
    EXPECT_NEAR(desk.design().band.width, 8.095, 1e-9);
}

TEST(JobCard, ADragOfTheThimbleIsOneStepOfUndo) {
    Headless desk(harbour());
    desk.drag("band.width#thimble", 40);  // four pixels a step of 0.05 mm
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
    desk.drag("band.width#thimble", -20);
    EXPECT_NEAR(desk.design().band.width, 8.25, 1e-9);
    desk.press(Key::Z, kCtrl);
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
    desk.press(Key::Z, kCtrl | kShift);
    EXPECT_NEAR(desk.design().band.width, 8.5, 1e-9);
}

TEST(JobCard, AClickThatBeginsAndEndsWithinOneFrameIsNotLost) {
    Headless desk(harbour());
    const ImVec2 box = desk.middle("band.bore.shape=Straight");
    desk.moveTo(box.x, box.y);
    desk.button(true);
    desk.button(false);
    desk.settle();
    EXPECT_EQ(desk.design().band.bore.shape, BoreShape::Straight);
}

TEST(JobCard, AMetalIsChosenByItsName) {
    Headless desk(harbour());
    desk.click("band.metal");
    desk.click("band.metal=tantalum");
    EXPECT_EQ(desk.design().band.metal, "tantalum");
}

TEST(JobCard, EdgesThatAreAlikeChangeTogetherAndApartWhenNot) {
    Headless desk(harbour());
    desk.enter("band.left.width", "0.6");
    EXPECT_EQ(desk.design().band.left.width, 0.6);
    EXPECT_EQ(desk.design().band.right.width, 0.6);
    desk.click("edges-alike");
    desk.enter("band.right.width", "0.4");
    EXPECT_EQ(desk.design().band.left.width, 0.6);
    EXPECT_EQ(desk.design().band.right.width, 0.4);
}

TEST(JobCard, AChannelIsCutFilledAndTakenAway) {
    Design plain;
    Headless desk(plain);
    desk.click("add-channel");
    ASSERT_EQ(desk.design().channels.size(), 1U);
    EXPECT_TRUE(desk.design().channels[0].fill.has_value());
    desk.click("channels[0].fill");
    EXPECT_FALSE(desk.design().channels[0].fill.has_value());
    desk.enter("channels[0].depth", "0.7");
    EXPECT_EQ(desk.design().channels[0].depth, 0.7);
    desk.click("channels[0]#take-away");
    EXPECT_EQ(desk.design(), plain);
}

TEST(JobCard, AStoneIsSetAndTubeAndHoleFollowItsSize) {
    Design plain;
    plain.band.width = 9;
    Headless desk(plain);
    desk.click("add-setting");
    ASSERT_EQ(desk.design().settings.size(), 1U);
    desk.enter("settings[0].stone.diameter", "3.5");
    desk.click("settings[0].tube#fit");
    const Setting& setting = desk.design().settings[0];
    EXPECT_EQ(setting.stone->diameter, 3.5);
    // Workshop texts: the seat is as wide as the stone, the tube at least 0.5 mm wider outside and narrower
    // inside.
    EXPECT_EQ(setting.tube->seatDiameter, 3.5);
    EXPECT_GE(setting.tube->outerDiameter, 4.0);
    EXPECT_LE(setting.tube->innerDiameter, 3.0);
    EXPECT_EQ(setting.hole.steps.at(0).diameter, setting.tube->outerDiameter);
}

TEST(JobCard, EveryRowOfADesignIsKnownByItsPathInTheFile) {
    Headless desk(harbour());
    for (const std::string key : {"title",
                                  "note",
                                  "finger.size",
                                  "finger.width-correction",
                                  "band.metal",
                                  "band.width",
                                  "band.finish.outside",
                                  "band.finish.edges",
                                  "band.finish.bore",
                                  "band.finish.treatment",
                                  "band.thickness",
                                  "band.bore.rise",
                                  "band.bore.ease",
                                  "band.left.width",
                                  "channels[0].width",
                                  "channels[0].fill.filler",
                                  "channels[0].fill.grain-most",
                                  "settings[0].stone.gem",
                                  "settings[0].tube.height",
                                  "settings[0].hole.steps[0].depth",
                                  "settings[0].placement.count",
                                  "allowances.sizing"}) {
        EXPECT_TRUE(desk.fields().places().contains(key)) << key;
    }
}

TEST(JobCard, AStepOfTheRouteMovesAndCanBeUndone) {
    Headless desk(harbour());
    const auto sizedEarly = [&] { return isBefore(desk.design().route, Stage::Sized, Stage::Polished); };
    desk.click("route.sized#earlier");
    EXPECT_TRUE(sizedEarly());
    desk.click("route.sized#later");
    EXPECT_FALSE(sizedEarly());
    desk.press(Key::Z, kCtrl);
    EXPECT_TRUE(sizedEarly());
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), harbour());
}

TEST(JobCard, AStepThatCannotComeEarlierSaysWhy) {
    Headless desk(harbour());
    desk.click("route.filled#earlier");
    EXPECT_TRUE(isBefore(desk.design().route, Stage::Filled, Stage::Drilled));
    const Design taken = desk.design();
    desk.click("route.filled#earlier");
    EXPECT_EQ(desk.design(), taken);
    EXPECT_NE(desk.fields().refusal("route.filled").find("a fill needs its channel"), std::string::npos)
        << desk.fields().refusal("route.filled");
}

}  // namespace
}  // namespace bandwright
