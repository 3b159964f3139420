#include "app/bench.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <chrono>
#include <thread>

#include "app/mender.hpp"
#include "app/route_text.hpp"
#include "base/numbers.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "design/locks.hpp"
#include "design/measured.hpp"
#include "geometry/measured.hpp"
#include "headless.hpp"
#include "program.hpp"
#include "route/shown.hpp"

namespace bandwright::app {
namespace {

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
    desk.press(Key::Escape);  // go on working
    EXPECT_FALSE(desk.bench().done());
    EXPECT_EQ(desk.design().band.width, 7);
}

TEST(Bench, WhatIsStillBeingTypedIsAskedAboutToo) {
    Headless desk(harbour());
    desk.click("band.width");
    desk.type("7");
    desk.press(Key::Q, kCtrl);
    EXPECT_FALSE(desk.bench().done());
    EXPECT_EQ(desk.design().band.width, 7);
}

TEST(Bench, SavedByKeyboardAloneUnderATypedPathThenClosed) {
    const ScratchFolder folder;
    Headless desk(harbour());
    desk.enter("band.width", "7");
    desk.press(Key::S, kCtrl);
    desk.press(Key::A, kCtrl);
    desk.type(folder / "winter");
    desk.press(Key::Enter);
    EXPECT_EQ(design::readDesign(folder / "winter.ring.json").band.width, 7);
    EXPECT_FALSE(desk.bench().session().unsaved());
    desk.press(Key::Q, kCtrl);
    EXPECT_TRUE(desk.bench().done());
}

TEST(Bench, OpensAFileByATypedPath) {
    Headless desk;
    desk.press(Key::O, kCtrl);
    desk.type(sample("lantern"));
    desk.press(Key::Enter);
    EXPECT_EQ(desk.design(), design::readDesign(sample("lantern")));
    EXPECT_EQ(desk.bench().settings().recent.size(), 1U);
}

TEST(Bench, AModelOutsideTheDesignsFolderIsAskedAbout) {
    const ScratchFolder folder;
    std::string text = readFile(sample("honeycomb"));
    const std::string named = "six-sided.obj";
    text.replace(text.find(named), named.size(), std::string(BANDWRIGHT_MODELS) + "/" + named);
    writeFile(folder / "a.ring.json", text);
    Headless desk(harbour());
    desk.bench().open(folder / "a.ring.json");
    desk.settle();
    desk.press(Key::Enter);  // leave it closed
    EXPECT_EQ(desk.design(), harbour());
    desk.bench().open(folder / "a.ring.json");
    desk.settle();
    desk.press(Key::Right);
    desk.press(Key::Enter);
    EXPECT_EQ(desk.bench().session().file(), folder / "a.ring.json");
    EXPECT_TRUE(desk.design().settings.front().stone->solid);
    desk.press(Key::Enter);
    EXPECT_FALSE(desk.bench().session().unsaved());
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
        EXPECT_TRUE(findRecoveries(folder.path()).empty()) << "offered although its program still runs";
    }
    {
        Headless desk({}, folder.path());
        desk.press(Key::Enter);  // take them up again
        EXPECT_EQ(desk.design().band.width, 7);
        EXPECT_TRUE(desk.bench().session().unsaved());
        EXPECT_TRUE(findRecoveries(folder.path()).empty());
    }
    EXPECT_EQ(findRecoveries(folder.path()).size(), 1U) << "it died again and nothing was saved";
}

/// A design with unsaved changes, left behind by a program that died in another folder.
class LeftBehind {
  public:
    explicit LeftBehind(const std::string& model) {
        design::Design design = harbour();
        design.band.width = 7;
        design.settings.at(0).stone->model = model;
        storeRecovery(newRecoveryPlace(folder_.path()), "", design::formatDesign(design));
    }
    const std::filesystem::path& path() const { return folder_.path(); }
    std::string text() const { return findRecoveries(folder_.path()).at(0).text; }

  private:
    ScratchFolder folder_;
};

TEST(Bench, UnsavedWorkThatCannotBeTakenUpIsKept) {
    const LeftBehind left("no-such-stone.obj");
    const std::string before = left.text();
    {
        Headless desk({}, left.path());
        desk.press(Key::Enter);  // take them up again
        EXPECT_EQ(desk.design(), design::Design{});
        EXPECT_NE(desk.bench().refusal().find("no-such-stone.obj"), std::string::npos)
            << desk.bench().refusal();
        desk.press(Key::Enter);  // once more
        EXPECT_NE(desk.bench().refusal(), "") << "the question is still there";
        desk.press(Key::Escape);  // keep them
        EXPECT_EQ(desk.bench().refusal(), "");
        desk.enter("band.width", "9");
        desk.bench().keepSafe();
        EXPECT_EQ(desk.design().band.width, 9);
    }
    ASSERT_EQ(findRecoveries(left.path()).size(), 2U);
    EXPECT_EQ(left.text(), before);
}

TEST(Bench, UnsavedWorkThatCannotBeTakenUpGoesWhenThePersonSaysSo) {
    const LeftBehind left("no-such-stone.obj");
    Headless desk({}, left.path());
    desk.press(Key::Enter);
    desk.press(Key::Right);
    desk.press(Key::Right);
    desk.press(Key::Enter);  // let them go
    EXPECT_EQ(desk.bench().refusal(), "");
    EXPECT_TRUE(std::filesystem::is_empty(left.path()));
}

TEST(Bench, TakingUpOneOfSeveralLosesNoneOfTheOthers) {
    const ScratchFolder folder;
    for (const double width : {6.5, 7.0}) {
        design::Design design = harbour();
        design.band.width = width;
        storeRecovery(newRecoveryPlace(folder.path()), "", design::formatDesign(design));
    }
    {
        Headless desk({}, folder.path());
        desk.press(Key::Enter);
        desk.enter("band.width", "8");
        desk.bench().keepSafe();
    }
    std::vector<double> widths;
    for (const Recovery& recovery : findRecoveries(folder.path()))
        widths.push_back(design::parseDesign(recovery.text, "").band.width);
    std::ranges::sort(widths);
    ASSERT_EQ(widths.size(), 2U);
    EXPECT_EQ(widths.at(1), 8);
    EXPECT_LT(widths.at(0), 7.5);
}

/// Changes the current folder while this object lives.
class Within {
  public:
    explicit Within(const std::filesystem::path& folder) : before_(std::filesystem::current_path()) {
        std::filesystem::current_path(folder);
    }
    ~Within() { std::filesystem::current_path(before_); }
    Within(const Within&) = delete;
    Within& operator=(const Within&) = delete;

  private:
    std::filesystem::path before_;
};

/// A tetrahedron.
void writeStone(const std::filesystem::path& file) {
    writeFile(file, "v 0 0 -1\nv 1 0 1\nv -1 1 1\nv -1 -1 1\nf 1 3 2\nf 1 4 3\nf 1 2 4\nf 2 3 4\n");
}

TEST(Bench, UnsavedWorkIsTakenUpFromAnyFolder) {
    const ScratchFolder home, away;
    std::filesystem::create_directories(home / "state");
    design::Design design = harbour();
    design.settings.at(0).stone->model = "stone.obj";
    writeStone(home / "stone.obj");
    for (const bool saved : {false, true}) {
        SCOPED_TRACE(saved ? "opened by a relative path" : "in no file yet");
        {
            const Within there(home.path());
            Session session(trade::builtInCatalogue(), {}, false);
            EXPECT_EQ(session.change(design), std::nullopt);
            if (saved) session.save("ring.ring.json");
            if (saved) session.open("ring.ring.json");
            design::Design wider = session.design();
            wider.band.width = 7;
            EXPECT_EQ(session.change(wider), std::nullopt);
            storeRecovery(newRecoveryPlace(home / "state"), session.file(), session.recoverableText());
        }
        const Within elsewhere(away.path());
        Headless desk({}, home / "state");
        desk.press(Key::Enter);
        EXPECT_EQ(desk.bench().refusal(), "");
        EXPECT_EQ(desk.design().band.width, 7);
        ASSERT_EQ(desk.design().settings.size(), 1U);
        EXPECT_TRUE(desk.design().settings.at(0).stone->solid);
        EXPECT_EQ(desk.bench().session().file(), saved ? home / "ring.ring.json" : std::filesystem::path());
        desk.bench().close();
        desk.settle();
        desk.press(Key::Right);
        desk.press(Key::Enter);  // let them go
        EXPECT_TRUE(desk.bench().done());
    }
}

TEST(Bench, GoesOnWhereTheFolderItWasStartedInIsGone) {
    const ScratchFolder home;
    std::filesystem::create_directories(home / "gone");
    const Within there(home / "gone");
    std::filesystem::remove(home / "gone");
    Headless desk(harbour());
    desk.enter("band.width", "7");
    desk.bench().open("ring.ring.json");
    desk.settle();
    desk.press(Key::Escape);    // go on working
    desk.press(Key::S, kCtrl);  // asks where to
    desk.press(Key::A, kCtrl);
    desk.type(home / "winter");
    desk.press(Key::Enter);
    EXPECT_EQ(design::readDesign(home / "winter.ring.json").band.width, 7);
    EXPECT_EQ(desk.bench().session().file(), home / "winter.ring.json");
}

TEST(Bench, ClosingTakesTheKeptWorkAway) {
    const ScratchFolder folder;
    Headless desk(harbour(), folder.path());
    desk.enter("band.width", "7");
    desk.bench().keepSafe();
    desk.press(Key::Z, kCtrl);
    desk.bench().close();
    desk.settle();
    EXPECT_TRUE(desk.bench().done());
    EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

TEST(Bench, WhatWasUndoneIsNotOfferedAgain) {
    const ScratchFolder folder;
    Headless desk(harbour(), folder.path());
    desk.enter("band.width", "7");
    desk.bench().keepSafe();
    desk.press(Key::Z, kCtrl);
    EXPECT_TRUE(desk.bench().hasUnkeptWork());
    desk.bench().keepSafe();
    EXPECT_TRUE(std::filesystem::is_empty(folder.path()));
}

/// Harbour with a floor of 0.4 mm under its channel.
design::Design thinFloor() {
    design::Design design = harbour();
    design.channels.at(0).depth = 2.0;
    return design;
}

check::Verdict verdictOf(const check::Report& report, const std::string& measure) {
    for (const check::Finding& finding : report.findings) {
        if (report.measures[finding.measure].id == measure) return finding.verdict;
    }
    ADD_FAILURE() << measure << " is not judged";
    return check::Verdict::NoGo;
}

TEST(Bench, TheButtonOfARemedyCarriesItOutAsOneStepOfUndo) {
    design::Design plain = thinFloor();
    plain.settings.clear();  // holes that cross channels make remedies slow
    Headless desk(plain, {}, Remedies::Sought);
    EXPECT_EQ(verdictOf(desk.bench().session().derived().report, "floor-wall"), check::Verdict::NoGo);
    const auto places = desk.bench().gauges().remedyPlaces();
    ASSERT_TRUE(places.contains("floor-wall floor-wall"));
    const auto& box = places.at("floor-wall floor-wall");
    desk.moveTo((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    desk.button(true);
    desk.button(false);
    desk.settle();
    EXPECT_NE(verdictOf(desk.bench().session().derived().report, "floor-wall"), check::Verdict::NoGo);
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), plain);
}

TEST(Bench, GaugesCanBeThoseOfTheStageOnTheStrip) {
    Headless desk(thinFloor());
    const Gauges& gauges = desk.bench().gauges();
    EXPECT_TRUE(gauges.isShown(desk.bench().session().derived().report.findings.front()));
    desk.clickAt(gauges.stagePlace());
    const design::Stage stage = desk.bench().session().stage();
    int others = 0;
    for (const check::Finding& finding : desk.bench().session().derived().report.findings) {
        EXPECT_EQ(gauges.isShown(finding), finding.stage == stage) << finding.rule;
        others += finding.stage != stage;
    }
    EXPECT_GT(others, 0);
    desk.clickAt(gauges.allPlace());
    for (const check::Finding& finding : desk.bench().session().derived().report.findings)
        EXPECT_TRUE(gauges.isShown(finding)) << finding.rule;
}

TEST(Bench, MendingTheRestShowsItsChangesFirstAndIsOneStepOfUndo) {
    design::Design plain = thinFloor();
    plain.settings.clear();  // holes that cross channels make it slow
    Headless desk(plain);
    const Gauges& gauges = desk.bench().gauges();
    ASSERT_GT(gauges.mendPlace()[2], 0);
    desk.clickAt(gauges.mendPlace());
    while (desk.bench().gauges().busy()) {
        desk.frames(1);
        std::this_thread::yield();
    }
    desk.frames(1);
    EXPECT_EQ(desk.design(), plain) << "nothing is changed unasked";
    ASSERT_GT(gauges.makePlace()[2], 0);
    desk.clickAt(gauges.makePlace());
    EXPECT_NE(desk.bench().session().derived().report.verdict, check::Verdict::NoGo);
    EXPECT_EQ(gauges.mendPlace()[2], 0) << "nothing is left to mend";
    desk.press(Key::Z, kCtrl);
    EXPECT_EQ(desk.design(), plain);
}

TEST(Mender, NamesWhatIsLockedWhereNoRingIsFound) {
    design::Design design = thinFloor();
    design.settings.clear();
    for (const design::Field& field : design::fieldsIn(design))
        design::setLocked(design, field.path, true);
    Mender mender;
    const Session session(trade::builtInCatalogue(), design, false);
    mender.seek(session);
    for (int i = 0; mender.busy() && i < 100'000; ++i) {
        mender.follow(session);
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    ASSERT_TRUE(mender.offer());
    EXPECT_FALSE(mender.offer()->design);
    ASSERT_EQ(mender.offer()->sentences.size(), 1U);
    const std::string& sentence = mender.offer()->sentences[0];
    EXPECT_NE(sentence.find("locked: the job, "), std::string::npos) << sentence;
    EXPECT_NE(sentence.find(", the depth of the channel, "), std::string::npos) << sentence;
}

TEST(Bench, TheRingIsCutOpenWhereASelectedWallLiesInside) {
    Headless desk(thinFloor());
    EXPECT_FALSE(desk.bench().stand().isCut());
    const auto& remedies = desk.bench().gauges().gaugePlaces();
    ASSERT_TRUE(remedies.contains("floor-wall floor-wall"));
    desk.clickAt(remedies.at("floor-wall floor-wall"));
    EXPECT_TRUE(desk.bench().stand().isCut());
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
    Headless desk(harbour(), {}, Remedies::Sought);
    desk.drag("channels[0].depth#thimble", 400);  // 4 pixels a step of 0.01 mm
    EXPECT_NEAR(desk.design().channels.at(0).depth, 2.0, 1e-9);
    for (const check::Finding& finding : desk.bench().session().derived().report.findings)
        EXPECT_EQ(finding.remedy.empty(), finding.verdict == check::Verdict::Go) << finding.rule;
}

TEST(Bench, AnIdleWindowAsksForNoFurtherFrame) {
    Headless desk(harbour());
    desk.frames(4);
    EXPECT_FALSE(desk.bench().busy());
}

TEST(Bench, ShowsTheRingAtEachStepOfItsRoute) {
    Headless desk(design::readDesign(sample("harbour")));
    const auto parts = [&] { return desk.bench().session().derived().parts.size(); };
    EXPECT_EQ(desk.bench().session().stage(), design::Stage::Finished);
    EXPECT_EQ(parts(), 4U) << "band, fill, tube and stone";
    desk.press(Key::Digit2, kCtrl);
    desk.press(Key::Comma);
    EXPECT_EQ(desk.bench().session().stage(), design::Stage::Set);
    desk.press(Key::Comma);
    EXPECT_EQ(desk.bench().session().stage(), design::Stage::Joined);
    EXPECT_EQ(parts(), 3U);
    for (int i = 0; i < 20; ++i)
        desk.press(Key::Comma);
    EXPECT_EQ(desk.bench().session().stage(), design::Stage::Blank);
    EXPECT_EQ(parts(), 1U);
    desk.press(Key::Period);
    EXPECT_EQ(desk.bench().session().stage(), design::Stage::Bored);
}

TEST(Bench, ShowsTheFinishedRingWhereTheStageShownIsGone) {
    Session session(trade::builtInCatalogue(), design::readDesign(sample("harbour")));
    EXPECT_EQ(session.show(design::Stage::Filled), std::nullopt);
    const check::Report before = session.derived().report;
    EXPECT_EQ(before.findings.size(), session.derived().report.findings.size());
    design::Design open = session.design();
    open.channels.front().fill.reset();
    EXPECT_EQ(session.change(open), std::nullopt);
    EXPECT_EQ(session.stage(), design::Stage::Finished);
    EXPECT_EQ(session.show(design::Stage::Channelled), std::nullopt);
    session.undo();
    EXPECT_EQ(session.stage(), design::Stage::Channelled);
}

TEST(Bench, ShowsSurfacesAsTurnedUntilTheyArePolished) {
    design::Design design = harbour();
    design.band.surface.outside = design::Finish::Satin;
    EXPECT_EQ(asLeftBy(design, design::Stage::Bevelled).band.surface.outside, design::Finish::Turned);
    EXPECT_EQ(asLeftBy(design, design::Stage::Polished), design);
    EXPECT_EQ(asLeftBy(design, design::Stage::Finished), design);
}

TEST(Bench, TheWorkOfTheStepIsPlannedBesideTheFramesAndAnewAfterAChange) {
    Headless desk(harbour());
    EXPECT_EQ(desk.bench().planner().plan(), nullptr) << "nobody looks";
    desk.clickAt(desk.bench().stand().workButton());
    desk.awaitPlan();
    ASSERT_NE(desk.bench().planner().plan(), nullptr) << desk.bench().planner().problem();
    const auto json = [](const design::Design& design) {
        const trade::Catalogue catalogue = trade::builtInCatalogue();
        const check::Report report = check::check(design, catalogue, {.remedies = false});
        return routeJson(design, route::plan(design, catalogue, {}, report));
    };
    EXPECT_EQ(routeJson(desk.design(), *desk.bench().planner().plan()), json(harbour()))
        << "as `route` prints";
    desk.enter("band.width", "7");
    desk.awaitPlan();
    EXPECT_EQ(desk.bench().planner().planned(), desk.design());
    EXPECT_EQ(routeJson(desk.design(), *desk.bench().planner().plan()), json(desk.design()));
    desk.press(Key::Digit5, kCtrl);  // folded away
    desk.enter("band.width", "6");
    EXPECT_FALSE(desk.bench().planner().busy());
    EXPECT_EQ(desk.bench().planner().planned().band.width, 7);
}

/// The route as far as this operation's stage, read exactly as planned.
void expectUnmoved(const design::Design& plan, const design::Measured& reading, const std::string& what) {
    design::Design read = plan;
    read.measured = {reading};
    const design::Design made = geometry::asMeasured(read);
    const double kDigits = 0.006;  // half of the last digit that a reading shows, mm
    EXPECT_NEAR(design::outsideRadius(made), design::outsideRadius(plan), kDigits) << what;
    EXPECT_NEAR(design::boreRadius(made), design::boreRadius(plan), kDigits) << what;
    EXPECT_NEAR(made.band.width, plan.band.width, kDigits) << what;
    EXPECT_NEAR(made.band.left.width, plan.band.left.width, kDigits) << what;
    EXPECT_NEAR(made.band.right.width, plan.band.right.width, kDigits) << what;
    EXPECT_NEAR(made.allowances.truing, plan.allowances.truing, kDigits) << what;
    EXPECT_NEAR(made.allowances.sizing, plan.allowances.sizing, kDigits) << what;
    for (std::size_t i = 0; i < plan.channels.size(); ++i) {
        EXPECT_NEAR(made.channels[i].depth, plan.channels[i].depth, kDigits) << what;
        EXPECT_NEAR(made.channels[i].width, plan.channels[i].width, kDigits) << what;
    }
    for (std::size_t i = 0; i < plan.settings.size(); ++i) {
        const design::Hole &hole = made.settings[i].hole, &planned = plan.settings[i].hole;
        EXPECT_NEAR(hole.pilotDiameter, planned.pilotDiameter, kDigits) << what;
        for (std::size_t k = 0; k < planned.steps.size(); ++k) {
            EXPECT_NEAR(hole.steps[k].diameter, planned.steps[k].diameter, kDigits) << what;
            EXPECT_NEAR(hole.steps[k].depth, planned.steps[k].depth, kDigits) << what;
        }
    }
}

TEST(BenchCard, AReadingAsPlannedLeavesTheRingAsPlanned) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    int seen = 0;
    for (const char* name : {"harbour", "lantern", "anvil-road", "orchard-gate"}) {
        const design::Design design = design::readDesign(sample(name));
        const check::Report report = check::check(design, catalogue, {.remedies = false});
        for (const route::StageWork& work : route::plan(design, catalogue, {}, report).stages) {
            for (const route::Operation& operation : work.operations) {
                for (const route::Reading& reading : operation.readings) {
                    std::optional<design::Measured> measured = measuredBy(reading, work.stage, design);
                    if (!measured) continue;
                    measured->value = reading.value;
                    ++seen;
                    expectUnmoved(design, *measured,
                                  std::string(name) + ", " + operation.name + ": " + reading.what);
                }
            }
        }
    }
    EXPECT_GT(seen, 20);
}

TEST(BenchCard, AReadingTypedWithLargeKeysIsKeptInTheDesignAndCanBeUndone) {
    Headless desk(harbour());
    const BenchCard& card = desk.bench().benchCard();
    desk.press(Key::B, kCtrl);
    desk.awaitPlan();
    ASSERT_TRUE(card.shown());
    for (int i = 0; i < 40 && !card.places().contains("keep"); ++i)
        desk.clickAt(card.places().at("next"));
    ASSERT_TRUE(card.places().contains("keep"));
    desk.type("900");
    desk.clickAt(card.places().at("keep"));
    EXPECT_NE(card.refusal(), "") << "no such metal is there";
    EXPECT_TRUE(desk.design().measured.empty());
    const route::Operation* asked = nullptr;
    std::size_t place = 0;
    for (const route::StageWork& work : desk.bench().planner().plan()->stages)
        for (const route::Operation& operation : work.operations)
            if (place++ == card.position()) asked = &operation;
    ASSERT_NE(asked, nullptr);
    std::optional<design::Measured> expected;
    for (const route::Reading& reading : asked->readings) {
        if (expected) break;
        expected = measuredBy(reading, asked->stage, desk.design());
        if (expected) expected->value = std::stod(route::shown(reading).value);
    }
    ASSERT_TRUE(expected);
    for (int i = 0; i < 4; ++i)
        desk.press(Key::Backspace);
    for (const char c : base::shortestNumber(expected->value))
        desk.clickAt(card.places().at(std::string(1, c)));
    desk.press(Key::Enter);
    ASSERT_EQ(desk.design().measured.size(), 1U) << card.refusal();
    EXPECT_EQ(desk.design().measured[0].value, expected->value);
    EXPECT_EQ(desk.design().measured[0].what, expected->what);
    EXPECT_EQ(desk.design().measured[0].stage, expected->stage);
    desk.press(Key::Escape);
    EXPECT_FALSE(card.shown());
    desk.press(Key::Z, kCtrl);
    EXPECT_TRUE(desk.design().measured.empty());
}

TEST(BenchCard, ATickTravelsInTheDesignAndCanBeUndoneThere) {
    const ScratchFolder folder;
    const std::filesystem::path file = folder / "harbour.ring.json";
    writeFile(file, readFile(sample("harbour")));
    {
        Headless desk;
        desk.bench().open(file);
        desk.settle();
        desk.press(Key::B, kCtrl);
        desk.awaitPlan();
        EXPECT_EQ(desk.bench().benchCard().position(), 0U);
        desk.press(Key::Space);
        ASSERT_EQ(desk.design().done.size(), 1U);
        EXPECT_EQ(desk.design().done[0].stage, design::Stage::Blank);
        EXPECT_EQ(desk.design().done[0].date.size(), std::string("2026-11-28").size());
        EXPECT_EQ(desk.bench().benchCard().position(), 1U);
        desk.press(Key::Space);
        ASSERT_EQ(desk.design().done.size(), 2U);
        desk.clickAt(desk.bench().benchCard().places().at("undo"));
        ASSERT_EQ(desk.design().done.size(), 1U);
        desk.press(Key::Z, kCtrl);
        EXPECT_TRUE(desk.design().done.empty());
        desk.press(Key::Y, kCtrl);
        desk.press(Key::S, kCtrl);
        EXPECT_FALSE(desk.bench().session().unsaved());
        EXPECT_TRUE(desk.bench().benchCard().shown());
    }
    const design::Design saved = design::readDesign(file);
    ASSERT_EQ(saved.done.size(), 1U);
    EXPECT_EQ(design::parseDesign(design::formatDesign(saved), "it"), saved);
    Headless desk(saved);
    desk.press(Key::B, kCtrl);
    desk.awaitPlan();
    EXPECT_EQ(desk.bench().benchCard().position(), 1U) << "the first that is not done";
    // The ring is the same: nothing is worked out anew.
    EXPECT_TRUE(design::differInTicksAlone(saved, harbour()));
}

bool areApart(const std::array<float, 4>& a, const std::array<float, 4>& b) {
    return a[0] >= b[2] || b[0] >= a[2] || a[1] >= b[3] || b[1] >= a[3];
}

/// Windows down to the least, at every size of text.
TEST(Bench, WhatLiesOverThePictureLiesApartAndLeavesTheRingInSight) {
    for (const float scale : {0.8F, 1.0F, 1.5F, 2.0F, 3.0F}) {
        for (const ImVec2 screen : {ImVec2{1024, 640}, ImVec2{1280, 800}, ImVec2{1920, 1080}}) {
            if (screen.x < 500 * scale) continue;  // too small for three columns of text
            Headless desk(harbour());
            ImGui::GetIO().DisplaySize = screen;
            desk.setScale(scale);
            desk.frames(4);
            const std::string here = std::to_string(scale) + " at " + std::to_string(screen.x);
            const Stand& stand = desk.bench().stand();
            const auto& places = stand.places();
            const float top = stand.picture()[1] + stand.ringTop();
            if (screen.x >= 1280 && scale <= 1) {
                EXPECT_TRUE(places.contains("Wall map")) << here;
            }
            EXPECT_TRUE(places.contains("Wall map") || places.contains("View")) << here;
            if (scale <= 2) {
                EXPECT_TRUE(places.contains("left") && places.contains("right")) << here;
            }
            for (const auto& [name, box] : places) {
                EXPECT_LE(box[2], screen.x);
                if (places.contains("Wall map") && name != "left" && name != "right") {
                    EXPECT_LE(box[3], top) << name << " at " << here;
                }
                for (const auto& [other, otherBox] : places)
                    EXPECT_TRUE(name == other || areApart(box, otherBox))
                        << here << ": " << name << ", " << other;
            }
        }
    }
}

/// The outside of a flat band: its wall to a straight bore is the thickness everywhere but near the edges.
TEST(Bench, ThePointerOnTheRingReadsTheFeatureItsNumberAndTheWall) {
    design::Design plain = harbour();
    plain.settings.clear();
    plain.channels.clear();
    plain.band.bore = {.shape = design::BoreShape::Straight, .rise = 0, .flat = 0, .ease = 0};
    Headless desk(plain);
    ImGui::GetIO().DisplaySize = {1280, 800};
    desk.press(Key::Digit2, kCtrl);  // to the stand
    desk.press(Key::Digit3);         // from outside, its middle in the middle
    desk.frames(120);
    const Stand& stand = desk.bench().stand();
    const auto& [x0, y0, x1, y1] = stand.picture();
    desk.moveTo((x0 + x1) / 2, (y0 + y1) / 2);
    desk.settle();
    EXPECT_EQ(stand.readout(), "Outside\nThe thickness of the band 2.40 mm\nWall here 2.40 mm");
    desk.button(true);
    desk.settle();
    EXPECT_EQ(stand.readout(), "") << "while it is turned";
    desk.button(false);
    desk.moveTo(x0 + 4, (y0 + y1) / 2);
    desk.settle();
    EXPECT_EQ(stand.readout(), "") << "beside the ring";
}

TEST(Bench, TheRingIsShownOnAFingerOfItsSize) {
    Headless desk(harbour());
    ImGui::GetIO().DisplaySize = {1280, 800};
    desk.frames(4);
    const Stand& stand = desk.bench().stand();
    const auto fingers = [&] {
        return std::ranges::count_if(stand.scene().bodies,
                                     [](const scene::Body& body) { return !body.isPart; });
    };
    EXPECT_EQ(fingers(), 0);
    desk.clickAt(stand.places().at("Finger"));
    desk.frames(120);
    EXPECT_EQ(fingers(), 1);
    EXPECT_LT(stand.camera().zoom, 1) << "the whole finger is in the picture";
    desk.press(Key::Digit2, kCtrl);
    desk.press(Key::F);
    desk.frames(120);
    EXPECT_EQ(fingers(), 0);
    EXPECT_EQ(stand.camera().zoom, 1);
}

TEST(Bench, TheLightIsChosenInAList) {
    Headless desk(harbour());
    ImGui::GetIO().DisplaySize = {1280, 800};
    desk.frames(4);
    desk.clickAt(desk.bench().stand().places().at("Light"));
    EXPECT_FALSE(desk.bench().stand().isDark());
    desk.clickAt(desk.bench().stand().places().at("Lights out"));
    EXPECT_TRUE(desk.bench().stand().isDark());
}

}  // namespace
}  // namespace bandwright::app
