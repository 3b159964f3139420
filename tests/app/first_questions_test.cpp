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
    } while (desk.bench().start().busy());
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
        desk.clickAt(desk.bench().start().questions().rows().places().at(place));
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
    ASSERT_TRUE(desk.bench().start().questions().answer());
    press("begin");
    EXPECT_FALSE(desk.bench().start().shown());
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
    EXPECT_FALSE(desk.bench().start().shown());
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
    ASSERT_TRUE(desk.bench().start().shown()) << "changes are asked about only once they would go";
    desk.press(Key::Escape);
    EXPECT_FALSE(desk.bench().start().shown());
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
    desk.clickAt(desk.bench().start().questions().rows().places().at("plain"));
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::Escape);  // go on working
    EXPECT_EQ(desk.design(), before);
    desk.press(Key::N, kCtrl);
    await(desk);
    desk.clickAt(desk.bench().start().questions().rows().places().at("plain"));
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
    ASSERT_TRUE(desk.bench().start().questions().answer());
    EXPECT_EQ(desk.bench().start().questions().answer()->design.band.width, 2);
    EXPECT_EQ(desk.bench().start().questions().answer()->design.settings.size(), 1U);
    EXPECT_FALSE(desk.bench().start().questions().answer()->isGo);
    press("begin");
    EXPECT_TRUE(desk.bench().start().shown());
}

TEST(Start, ASampleIsBegunWithAsARingOfItsOwn) {
    Headless desk;
    desk.press(Key::N, kCtrl);
    await(desk);
    const StartScreen& start = desk.bench().start();
    for (const RingPictures::Ring& ring : start.pictures().rings())
        EXPECT_EQ(ring.problem, "") << ring.file;
    desk.clickAt(start.places().at("sample=shallows"));
    EXPECT_FALSE(start.shown());
    EXPECT_EQ(desk.design(), design::readDesign(sample("shallows")));
    EXPECT_TRUE(desk.bench().session().file().empty()) << "saving must not write over the sample";
    EXPECT_FALSE(desk.bench().session().unsaved());
}

TEST(Start, ARingWorkedOnLatelyIsOpened) {
    const ScratchFolder folder;
    const std::string file = changedSample(folder, "harbour", "2.4", "2.5");
    writeFile(folder / "torn.ring.json", "{");
    Headless desk;
    desk.bench().open(file);
    desk.frames(4);
    remember(desk.bench().settings(), folder / "torn.ring.json");
    remember(desk.bench().settings(), folder / "gone.ring.json");
    desk.press(Key::N, kCtrl);
    await(desk);
    const StartScreen& start = desk.bench().start();
    EXPECT_FALSE(desk.bench().busy()) << "what lies under it is not painted";
    EXPECT_EQ(start.pictures().rings().at(0).title, "torn");
    EXPECT_NE(start.pictures().rings().at(0).problem, "");
    EXPECT_EQ(start.pictures().rings().at(1).title, desk.design().title);
    EXPECT_FALSE(start.places().contains("lately=2")) << "what is gone is not offered";
    const std::string key = start.pictures().rings().at(1).key;
    EXPECT_NE(key, "");
    desk.clickAt(start.places().at("lately=1"));
    EXPECT_EQ(desk.bench().session().file(), file);
    desk.press(Key::N, kCtrl);
    await(desk);
    EXPECT_EQ(start.pictures().rings().at(0).key, key);
    desk.press(Key::Escape);
    desk.enter("band.width", "8.5");
    desk.press(Key::S, kCtrl);
    desk.press(Key::N, kCtrl);
    await(desk);
    EXPECT_NE(start.pictures().rings().at(0).key, key) << "the kept picture shows an older ring";
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
