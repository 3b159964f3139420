#include "app/first_questions.hpp"

#include <gtest/gtest.h>

#include <thread>

#include "headless.hpp"

namespace bandwright::app {
namespace {

void await(Headless& desk) {
    do {
        desk.frames(1);
        std::this_thread::yield();
    } while (desk.bench().firstQuestions().busy());
    desk.frames(2);
}

/// The window at a size where no list runs into its edge.
class Questions : public testing::Test {
  protected:
    Questions() {
        desk.press(Key::N, kCtrl);
        await(desk);
    }
    void press(const std::string& place) {
        desk.clickAt(desk.bench().firstQuestions().rows().places().at(place));
    }
    void choose(const std::string& row, const std::string& id) {
        press(row);
        press(row + "=" + id);
        await(desk);
    }
    Headless desk;
};

TEST_F(Questions, TheAnswerIsARingThatIsGo) {
    choose("metal", "gold-14k-yellow");
    press("width");
    desk.type("7");
    desk.press(Key::Enter);
    await(desk);
    choose("filler", "lapis-lazuli");
    ASSERT_TRUE(desk.bench().firstQuestions().answer());
    press("begin");
    EXPECT_FALSE(desk.bench().firstQuestions().shown());
    EXPECT_EQ(desk.design().band.metal, "gold-14k-yellow");
    EXPECT_EQ(desk.design().band.width, 7);
    ASSERT_EQ(desk.design().channels.size(), 1U);
    EXPECT_EQ(desk.design().channels[0].fill->filler, "lapis-lazuli");
    EXPECT_EQ(desk.bench().session().derived().report.verdict, check::Verdict::Go);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), design::Design{});
}

TEST_F(Questions, APlainRingWithoutAnswers) {
    press("plain");
    EXPECT_FALSE(desk.bench().firstQuestions().shown());
    EXPECT_EQ(desk.design(), design::Design{});
}

TEST(Start, WhoeverGoesBackHasTheRingThatWasOpen) {
    const ScratchFolder folder;
    Headless desk;
    desk.bench().open(changedSample(folder, "harbour", "2.4", "2.5"));
    desk.frames(4);
    desk.enter("band.width", "8.5");
    const design::Design before = desk.design();
    ASSERT_TRUE(desk.bench().session().unsaved());
    desk.press(Key::N, kCtrl);
    await(desk);
    ASSERT_TRUE(desk.bench().firstQuestions().shown()) << "changes are asked about only once they would go";
    desk.press(Key::Escape);
    EXPECT_FALSE(desk.bench().firstQuestions().shown());
    EXPECT_EQ(desk.design(), before);
    EXPECT_FALSE(desk.bench().session().file().empty());
    desk.press(Key::Z, kCtrl);
    EXPECT_FALSE(desk.bench().session().unsaved()) << "its history is there, too";
}

TEST(Start, ChangesAreAskedAboutBeforeAnotherRingTakesTheirPlace) {
    Headless desk(harbour());
    desk.enter("band.width", "8.5");
    const design::Design before = desk.design();
    desk.press(Key::N, kCtrl);
    await(desk);
    desk.clickAt(desk.bench().firstQuestions().rows().places().at("plain"));
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::Escape);  // go on working
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::N, kCtrl);
    await(desk);
    desk.clickAt(desk.bench().firstQuestions().rows().places().at("plain"));
    desk.press(Key::Right);
    desk.press(Key::Enter);  // let them go
    EXPECT_EQ(desk.design(), design::Design{});
}

TEST_F(Questions, WithNoRingNothingIsBegun) {
    press("width");
    desk.type("2");
    desk.press(Key::Enter);
    await(desk);
    choose("gem", "emerald");
    ASSERT_TRUE(desk.bench().firstQuestions().answer());
    EXPECT_EQ(desk.bench().firstQuestions().answer()->design.band.width, 2);
    EXPECT_EQ(desk.bench().firstQuestions().answer()->design.settings.size(), 1U);
    EXPECT_FALSE(desk.bench().firstQuestions().answer()->isGo);
    press("begin");
    EXPECT_TRUE(desk.bench().firstQuestions().shown());
}

TEST(Find, ACommandIsFoundByItsLettersAndRun) {
    Headless desk(harbour());
    desk.press(Key::F, kCtrl);
    desk.type("work");
    desk.press(Key::Enter);
    EXPECT_TRUE(desk.bench().workshopCard().shown());
    EXPECT_FALSE(desk.bench().finder().shown());
}

TEST(Find, ANumberOfTheCardIsFoundAndTyped) {
    Headless desk(harbour());
    desk.press(Key::F, kCtrl);
    desk.type("thick band");
    desk.press(Key::Enter);
    desk.frames(3);
    desk.type("2.6");
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design().band.thickness, 2.6);
}

TEST(Find, WordsInAnyOrderTheBeginningFirst) {
    const std::vector<Command> commands = {
        {"Save as", "", true, {}}, {"As large", "", true, {}}, {"Open", "", true, {}}};
    EXPECT_EQ(matching(commands, "as"), (std::vector<std::size_t>{1, 0}));
    EXPECT_EQ(matching(commands, "AS save"), (std::vector<std::size_t>{0}));
    EXPECT_EQ(matching(commands, "").size(), 3U);
    EXPECT_TRUE(matching(commands, "nothing").empty());
}

}  // namespace
}  // namespace bandwright::app
