#include "check/addition.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/input_error.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"

namespace bandwright::check {
namespace {

/// Whether some finding is worse than go and was not so bad before.
bool isAnyWorse(const Report& before, const Report& after) {
    return std::ranges::any_of(after.findings, [&](const Finding& now) {
        const std::string& id = after.measures[now.measure].id;
        return now.verdict != Verdict::Go && std::ranges::none_of(before.findings, [&](const Finding& was) {
                   return was.rule == now.rule && before.measures[was.measure].id == id &&
                          was.verdict >= now.verdict;
               });
    });
}

/// A ring with nothing in it, as wide and thick as the lot says.
design::Design bandByLot(std::uint64_t seed) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    const design::Design drawn = geometry::randomDesign(seed);
    design::Design design;
    design.band.metal = catalogue.metals[seed % catalogue.metals.size()].id;
    design.band.width = drawn.band.width;
    design.band.thickness = std::clamp(drawn.band.thickness, 1.4, 3.0);
    design.band.left.width = design.band.right.width = std::min(0.8, drawn.band.width / 10);
    return design;
}

TEST(Addition, WhatIsSaidToBeGoIsGoAndStandsInTheMiddle) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    int go = 0, rings = 0;
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(60); ++seed) {
        const design::Design plain = bandByLot(seed);
        const Report before = checked(plain);
        for (const auto add : {withChannel, withSetting}) {
            const Added added = add(plain, catalogue);
            EXPECT_EQ(added.isGo, !isAnyWorse(before, checked(added.design))) << seed;
            for (const design::Channel& channel : added.design.channels)
                EXPECT_EQ(channel.offset, 0) << seed;
            for (const design::Setting& setting : added.design.settings)
                EXPECT_EQ(setting.placement.offset, 0) << seed;
            design::Design rest = added.design;
            rest.channels.clear();
            rest.settings.clear();
            EXPECT_EQ(rest, plain) << seed;  // all else is as it was
            ++rings;
            if (added.isGo) ++go;
        }
    }
    EXPECT_GT(go, rings / 2);
}

TEST(Addition, InAnOrdinaryRingItIsGoInEachMetalThatIsGo) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    int metals = 0;
    for (const trade::Metal& metal : catalogue.metals) {
        design::Design plain;
        plain.band.metal = metal.id;
        plain.band.width = 9;
        plain.band.thickness = 2.4;
        plain.band.left.width = plain.band.right.width = 0.4;
        if (checked(plain).verdict != Verdict::Go) continue;
        ++metals;
        EXPECT_TRUE(withChannel(plain, catalogue).isGo) << metal.id;
        EXPECT_TRUE(withSetting(plain, catalogue).isGo) << metal.id;
    }
    EXPECT_GE(metals, 10);
}

TEST(Addition, TheSecondChannelMirrorsTheFirstAndStonesShareTheRound) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    design::Design design = plainRing();
    design.channels = {channel(-2.2, 1.5, 1)};
    design.channels[0].fill->grainMost = 0.3;
    const Added twin = withChannel(design, catalogue);
    EXPECT_TRUE(twin.isGo);
    EXPECT_EQ(twin.design.channels[1].offset, 2.2);
    EXPECT_EQ(twin.design.channels[1].width, 1.5);
    design.channels.clear();
    for (const double angle : {0., 180., 90., 270.}) {
        const Added added = withSetting(design, catalogue);
        EXPECT_TRUE(added.isGo) << angle;
        design = added.design;
        EXPECT_EQ(design.settings.back().placement.start, angle);
    }
}

TEST(Addition, AStepIsWiderThanTheLast) {
    design::Design design = plainRing();
    design.settings = {bareHole(0, 2, 3, 1)};
    const Added added = withStep(design, 0, trade::builtInCatalogue());
    EXPECT_TRUE(added.isGo);
    EXPECT_GT(added.design.settings[0].hole.steps.at(1).diameter, 3);
    EXPECT_LT(added.design.settings[0].hole.steps.at(1).depth, 1);
}

/// Whatever tube and hole a maker has chosen, the gaps round the stone stay as they were.
TEST(Addition, TubeAndHoleFollowTheStone) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    int followed = 0;
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(300); ++seed) {
        const design::Design before = geometry::randomDesign(seed);
        for (std::size_t i = 0; i < before.settings.size(); ++i) {
            const design::Setting& was = before.settings[i];
            if (!was.stone || !was.tube || was.hole.steps.empty() || was.tube->innerDiameter < 1 ||
                was.hole.pilotDiameter < 1 || was.stone->solid || was.stone->length != 0)
                continue;
            design::Design after = before;
            after.settings[i].stone->diameter += 0.4;
            const design::Setting now = following(before, after, catalogue).settings[i];
            EXPECT_NEAR(now.tube->seatDiameter, was.tube->seatDiameter + 0.4, 1.1e-4) << seed;
            EXPECT_NEAR(now.tube->outerDiameter, was.tube->outerDiameter + 0.4, 1.1e-4) << seed;
            EXPECT_NEAR(now.hole.steps.back().diameter, was.hole.steps.back().diameter + 0.4, 1.1e-4) << seed;
            EXPECT_EQ(now.placement, was.placement) << seed;
            ++followed;
        }
    }
    EXPECT_GT(followed, 10);
}

TEST(Addition, AStoneIsAsLargeAsItsSeatAndATubeAsItsHole) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    design::Design before = plainRing(), after = before;
    before.settings = {bareHole(0, 2, 4, 1.2)};
    after = before;
    after.settings[0].tube.emplace();
    after = following(before, after, catalogue);
    EXPECT_NEAR(after.settings[0].tube->outerDiameter, 3.97, 1e-9);
    EXPECT_EQ(after.settings[0].hole, before.settings[0].hole);
    before = after;
    after.settings[0].stone.emplace();
    after = following(before, after, catalogue);
    const Report report = checked(after);
    EXPECT_GT(valueOf(report, "stone-clearance", design::Stage::Finished), 0);
    EXPECT_EQ(following(after, after, catalogue), after);
}

}  // namespace
}  // namespace bandwright::check
