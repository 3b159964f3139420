#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>

#include "design/design_file.hpp"
#include "findings.hpp"
#include "plain_ring.hpp"
#include "resize.hpp"
#include "sample_names.hpp"

namespace bandwright::check {
namespace {

constexpr double kUsSize = 0.8128;  // mm of diameter, 0.032 in

/// The plain ring, its bore eased, so that nothing of it is no-go.
design::Design goodRing() {
    design::Design design = plainRing();
    design.band.bore.ease = 0.15;
    return design;
}

double roomOf(const design::Design& design) {
    const Report report = check(design, trade::builtInCatalogue(), {.remedies = false, .resizing = true});
    return valueOf(report, "resize-room");
}

/// Whether a gauge that is go in the ring as it is is not go in one opened by so many sizes, or one that is
/// not stands worse.
bool isSpoilt(const design::Design& design, double sizes) {
    const CheckOptions finished{.remedies = false, .stage = design::Stage::Finished};
    const Report before = check(design, trade::builtInCatalogue(), finished);
    const Report after = check(opened(design, sizes * kUsSize / 2), trade::builtInCatalogue(), finished);
    return std::ranges::any_of(after.findings, [&](const Finding& f) {
        const Finding* was = findingAt(before, f.rule, after.measures[f.measure].id);
        if (was == nullptr || was->verdict == Verdict::Go) return f.verdict > Verdict::Go;
        return goodDirection(f.sense) * (valueOf(after, f) - valueOf(before, *was)) < -1e-5;
    });
}

class Opened : public testing::TestWithParam<const char*> {};

TEST_P(Opened, KeepsWhatEveryGaugeSaidAndNoMoreCanBeTaken) {
    const design::Design design = design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) /
                                                     (std::string(GetParam()) + ".ring.json"));
    const double room = roomOf(design);
    EXPECT_FALSE(isSpoilt(design, room)) << room;
    EXPECT_TRUE(isSpoilt(design, room + 0.02)) << room;  // it is told in hundredths, rounded down
}

INSTANTIATE_TEST_SUITE_P(Samples, Opened, samplesThatCanBeMade(), asTestName);

TEST(OpenedBore, TakesMetalFromInsideAlone) {
    design::Design design = plainRing();
    design.finger.widthCorrection = 0.3;
    design.band.liner = design::Liner{.thickness = 0.6};
    const design::Design now = opened(design, 0.25);
    EXPECT_NEAR(design::boreRadius(now), design::boreRadius(design) + 0.25, 1e-12);
    EXPECT_NEAR(design::outsideRadius(now), design::outsideRadius(design), 1e-12);
    EXPECT_NEAR(design::linerRadius(now), design::linerRadius(design), 1e-12);
}

// By subtraction: the floor under the channel, 1.4 mm, is comfortable from 0.6 mm on; the stone that lies
// nearest to the finger is 0.9 mm from it and comfortable from 0.3 mm on.
TEST(ResizeRoom, EndsAtTheFirstGaugeWhateverItMeasures) {
    design::Design design = goodRing();
    design.channels = {channel(-2.5, 1, 1)};
    EXPECT_NEAR(roomOf(design), std::floor(100 * 2 * 0.8 / kUsSize) / 100, 1e-9);
    design.channels.clear();
    design.settings = {bareHole(0, 1, 3, 1)};
    design.settings[0].hole.bottom = design::HoleBottom::Flat;
    design.settings[0].hole.pilotDepth = 1.3;  // 1.1 mm to the bore
    EXPECT_NEAR(roomOf(design), std::floor(100 * 2 * 0.5 / kUsSize) / 100, 1e-9);
}

// The land, 0.6 mm, is the thinnest wall and just comfortable until the floor, 1.4 mm, is thinner.
TEST(ResizeRoom, GoesOnWhereAGaugeStandsAtItsLimitAndStays) {
    design::Design design = goodRing();
    design.channels = {channel(1, 1.5, 1), channel(-1.1, 1.5, 1)};
    EXPECT_NEAR(roomOf(design), std::floor(100 * 2 * 0.8 / kUsSize) / 100, 1e-9);
}

TEST(ResizeRoom, IsNotToldOfARingThatIsANoGo) {
    EXPECT_EQ(measureOf(check(plainRing(), trade::builtInCatalogue()), "resize-room"), nullptr);
}

TEST(ResizeRoom, IsLeftOutWhileANumberIsDragged) {
    EXPECT_EQ(measureOf(checked(goodRing()), "resize-room"), nullptr);
    EXPECT_NE(measureOf(check(goodRing(), trade::builtInCatalogue()), "resize-room"), nullptr);
}

}  // namespace
}  // namespace bandwright::check
