#include "app/ghost.hpp"

#include <gtest/gtest.h>

#include "headless.hpp"

namespace bandwright::app {
namespace {

design::Design weakFloor() {
    design::Design design = harbour();
    design.settings.clear();
    design.channels.front().depth = design.band.thickness - 0.2;
    return design;
}

TEST(Ghost, ARemedyIsShownBeforeItIsTakenAndChangesNothing) {
    const design::Design plain = weakFloor();
    Headless desk(plain, {}, Remedies::Sought);
    const Bench& bench = desk.bench();
    EXPECT_FALSE(bench.preview().remedied());
    const auto box = bench.gauges().remedyPlaces().at("floor-wall floor-wall");
    const ImVec2 at = ImVec2((box[0] + box[2]) / 2, (box[1] + box[3]) / 2);
    desk.moveTo(at.x, at.y);
    desk.settle();
    ASSERT_TRUE(bench.preview().remedied());
    EXPECT_FALSE(bench.stand().previewed().empty());
    EXPECT_EQ(desk.design(), plain);
    const geometry::Section shown = bench.preview().remedied()->over(0);
    desk.clickAt(box);
    desk.moveTo(2, 2);
    desk.settle();
    EXPECT_TRUE(
        movedCorners(ghostOf(bench.session().derived().made, bench.session().stage()).over(0), shown).empty())
        << "what was shown is what is made";
    EXPECT_FALSE(bench.preview().remedied());
    EXPECT_TRUE(bench.stand().previewed().empty());
}

TEST(Ghost, TheFinishedOutlineIsLaidOverEarlierStages) {
    Headless desk(harbour());
    EXPECT_FALSE(desk.bench().preview().finished());
    const geometry::Section finished =
        ghostOf(desk.bench().session().derived().made, design::Stage::Finished).over(0);
    desk.press(Key::Digit2, kCtrl);
    desk.press(Key::Comma);
    ASSERT_TRUE(desk.bench().preview().finished());
    EXPECT_TRUE(movedCorners(desk.bench().preview().finished()->over(0), finished).empty());
}

}  // namespace
}  // namespace bandwright::app
