#include "app/bench.hpp"

#include <gtest/gtest.h>
#include <sys/wait.h>
#include <unistd.h>

#include "design/design_file.hpp"
#include "headless.hpp"
#include "program.hpp"

namespace bandwright {
namespace {

Design harbour() {
    return readDesign(sample("harbour"));
}

/// The number of a process that has ended.
pid_t endedProcess() {
    const pid_t child = fork();
    if (child == 0) _exit(0);
    waitpid(child, nullptr, 0);
    return child;
}

TEST(Bench, WithoutChangesItClosesAtOnce) {
    Headless desk(harbour());
    desk.bench().close();
    desk.settle();
    EXPECT_TRUE(desk.bench().done());
}

TEST(Bench, ChangesAreAskedAboutBeforeItCloses) {
    Headless desk(harbour());
    desk.enter("band.width", "7");
    desk.bench().close();
    desk.settle();
    EXPECT_FALSE(desk.bench().done());
    desk.press(GLFW_KEY_ESCAPE);  // go on working
    EXPECT_FALSE(desk.bench().done());
    EXPECT_EQ(desk.design().band.width, 7);
}

TEST(Bench, WhatIsStillBeingTypedIsAskedAboutToo) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("7");
    desk.press(GLFW_KEY_Q, GLFW_MOD_CONTROL);
    EXPECT_FALSE(desk.bench().done());
    EXPECT_EQ(desk.design().band.width, 7);
}

TEST(Bench, SavedByKeyboardAloneUnderATypedPathThenClosed) {
    const ScratchFolder folder;
    Headless desk(harbour());
    desk.enter("band.width", "7");
    desk.press(GLFW_KEY_S, GLFW_MOD_CONTROL);
    desk.press(GLFW_KEY_A, GLFW_MOD_CONTROL);
    desk.type(folder / "winter");
    desk.press(GLFW_KEY_ENTER);
    EXPECT_EQ(readDesign(folder / "winter.ring.json").band.width, 7);
    EXPECT_FALSE(desk.bench().session().unsaved());
    desk.press(GLFW_KEY_Q, GLFW_MOD_CONTROL);
    EXPECT_TRUE(desk.bench().done());
}

TEST(Bench, OpensAFileByATypedPath) {
    Headless desk;
    desk.press(GLFW_KEY_O, GLFW_MOD_CONTROL);
    desk.type(sample("lantern"));
    desk.press(GLFW_KEY_ENTER);
    EXPECT_EQ(desk.design(), readDesign(sample("lantern")));
    EXPECT_EQ(desk.bench().settings().recent.size(), 1U);
}

TEST(Bench, AFileThatIsWrongLeavesTheDesignAsItWas) {
    const ScratchFolder folder;
    writeFile(folder / "bad.ring.json", "{\"bandwright\": 1, \"bend\": {}}");
    Headless desk(harbour());
    desk.bench().open(folder / "bad.ring.json");
    desk.settle();
    EXPECT_EQ(desk.design(), harbour());
}

TEST(Bench, UnsavedWorkOfAProgramThatDiedIsOfferedAndTakenUp) {
    const ScratchFolder folder;
    {
        Headless desk(harbour(), folder.path());
        desk.enter("band.width", "7");
        EXPECT_TRUE(desk.bench().hasUnkeptWork());
        desk.bench().keepSafe();
        EXPECT_FALSE(desk.bench().hasUnkeptWork());
    }
    EXPECT_TRUE(findRecoveries(folder.path()).empty()) << "offered although its program still runs";
    std::filesystem::rename(folder / ("recovery-" + std::to_string(getpid()) + ".json"),
                            folder / ("recovery-" + std::to_string(endedProcess()) + ".json"));
    Headless desk({}, folder.path());
    desk.press(GLFW_KEY_ENTER);  // take them up again
    EXPECT_EQ(desk.design().band.width, 7);
    EXPECT_TRUE(desk.bench().session().unsaved());
    EXPECT_TRUE(findRecoveries(folder.path()).empty());
}

TEST(Bench, ClosingTakesTheKeptWorkAway) {
    const ScratchFolder folder;
    Headless desk(harbour(), folder.path());
    desk.enter("band.width", "7");
    desk.bench().keepSafe();
    desk.press(GLFW_KEY_Z, GLFW_MOD_CONTROL);
    desk.bench().close();
    desk.settle();
    EXPECT_TRUE(desk.bench().done());
    EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

/// Harbour with a floor of 0.4 mm under its channel.
Design thinFloor() {
    Design design = harbour();
    design.channels.at(0).depth = 2.0;
    return design;
}

Verdict verdictOf(const Report& report, const std::string& measure) {
    for (const Finding& finding : report.findings) {
        if (report.measures[finding.measure].id == measure) return finding.verdict;
    }
    ADD_FAILURE() << measure << " is not judged";
    return Verdict::NoGo;
}

TEST(Bench, TheButtonOfARemedyCarriesItOutAsOneStepOfUndo) {
    Headless desk(thinFloor());
    EXPECT_EQ(verdictOf(desk.bench().session().derived().report, "floor-wall"), Verdict::NoGo);
    const auto places = desk.bench().gauges().remedyPlaces();
    ASSERT_TRUE(places.contains("floor-wall floor-wall"));
    const auto& box = places.at("floor-wall floor-wall");
    desk.moveTo((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    desk.button(true);
    desk.button(false);
    desk.settle();
    EXPECT_NE(verdictOf(desk.bench().session().derived().report, "floor-wall"), Verdict::NoGo);
    desk.press(GLFW_KEY_Z, GLFW_MOD_CONTROL);
    EXPECT_EQ(desk.design(), thinFloor());
}

TEST(Bench, GaugesThatAreGoFoldIntoOneLineThatOpens) {
    Headless desk(thinFloor());
    EXPECT_FALSE(desk.bench().gauges().showsGo());
    for (const bool open : {true, false}) {
        const auto box = desk.bench().gauges().foldPlace();
        ASSERT_GT(box[2], box[0]);
        desk.moveTo((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
        desk.button(true);
        desk.button(false);
        desk.settle();
        EXPECT_EQ(desk.bench().gauges().showsGo(), open);
    }
}

TEST(Bench, RemediesLeftOutWhileANumberIsDraggedAreThereAfterwards) {
    Headless desk(harbour());
    desk.drag("channels[0].depth#thimble", 400);  // 4 pixels a step of 0.01 mm
    EXPECT_NEAR(desk.design().channels.at(0).depth, 2.0, 1e-9);
    for (const Finding& finding : desk.bench().session().derived().report.findings)
        EXPECT_EQ(finding.remedy.empty(), finding.verdict == Verdict::Go) << finding.rule;
}

TEST(Bench, AnIdleWindowAsksForNoFurtherFrame) {
    Headless desk(harbour());
    desk.frames(4);
    EXPECT_FALSE(desk.bench().busy());
}

TEST(Bench, ShowsTheRingAtEachStepOfItsRoute) {
    Headless desk(readDesign(sample("harbour")));
    const auto parts = [&] { return desk.bench().session().derived().parts.size(); };
    EXPECT_EQ(desk.bench().session().stage(), Stage::Finished);
    EXPECT_EQ(parts(), 4U) << "band, fill, tube and stone";
    desk.press(GLFW_KEY_2, GLFW_MOD_CONTROL);
    desk.press(GLFW_KEY_COMMA);
    EXPECT_EQ(desk.bench().session().stage(), Stage::Set);
    desk.press(GLFW_KEY_COMMA);
    EXPECT_EQ(desk.bench().session().stage(), Stage::Joined);
    EXPECT_EQ(parts(), 3U);
    for (int i = 0; i < 20; ++i)
        desk.press(GLFW_KEY_COMMA);
    EXPECT_EQ(desk.bench().session().stage(), Stage::Blank);
    EXPECT_EQ(parts(), 1U);
    desk.press(GLFW_KEY_PERIOD);
    EXPECT_EQ(desk.bench().session().stage(), Stage::Bored);
}

TEST(Bench, ShowsTheFinishedRingWhereTheStageShownIsGone) {
    Session session(builtInCatalogue(), readDesign(sample("harbour")));
    EXPECT_EQ(session.show(Stage::Filled), std::nullopt);
    const Report before = session.derived().report;
    EXPECT_EQ(before.findings.size(), session.derived().report.findings.size());
    Design open = session.design();
    open.channels.front().fill.reset();
    EXPECT_EQ(session.change(open), std::nullopt);
    EXPECT_EQ(session.stage(), Stage::Finished);
    EXPECT_EQ(session.show(Stage::Channelled), std::nullopt);
    session.undo();
    EXPECT_EQ(session.stage(), Stage::Channelled);
}

TEST(Bench, ShowsSurfacesAsTurnedUntilTheyArePolished) {
    Design design = harbour();
    design.band.surface.outside = Finish::Satin;
    EXPECT_EQ(asLeftBy(design, Stage::Bevelled).band.surface.outside, Finish::Turned);
    EXPECT_EQ(asLeftBy(design, Stage::Polished), design);
    EXPECT_EQ(asLeftBy(design, Stage::Finished), design);
}

}  // namespace
}  // namespace bandwright
