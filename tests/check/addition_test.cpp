#include "check/addition.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/input_error.hpp"
#include "design/field_table.hpp"
#include "design/locks.hpp"
#include "drawn_design.hpp"
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
        const Report before = check(plain, catalogue, {.remedies = false, .resizing = true});
        for (const bool isChannel : {true, false}) {
            const Added added = isChannel ? withChannel(plain, catalogue) : withSetting(plain, catalogue);
            if (!isChannel && added.design.settings[0].hole.steps[0].diameter >= plain.band.width) {
                EXPECT_FALSE(added.isGo) << seed;
                continue;
            }
            EXPECT_EQ(added.isGo, !isAnyWorse(before, check(added.design, catalogue,
                                                            {.remedies = false, .resizing = true})))
                << seed;
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
    EXPECT_GT(go, rings / 4);
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
    EXPECT_GT(followed, 0);
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

/// How many locked numbers of `design` are others in `other`, or are not there.
int lockedNumbersChanged(const design::Design& design, const design::Design& other) {
    return static_cast<int>(std::ranges::count_if(design.locked, [&](const std::string& path) {
        const double* was = design::numberAt(design, path);
        const double* is = design::numberAt(other, path);
        return was != nullptr && (is == nullptr || *is != *was);
    }));
}

TEST(Addition, NothingThatIsLockedFollows) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    int followed = 0, held = 0;
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(300); ++seed) {
        const design::Design before = withLocks(geometry::randomDesign(seed), seed);
        for (std::size_t i = 0; i < before.settings.size(); ++i) {
            if (!before.settings[i].stone) continue;
            design::Design after = before;
            after.settings[i].stone->diameter += 0.4;
            if (seed % 2 == 0) after.settings[i].stone->cut = design::StoneCut::Cabochon;
            const design::Design now = following(before, after, catalogue);
            followed += now != after;
            design::Design free = after;
            free.locked.clear();
            held += lockedNumbersChanged(after, following(before, free, catalogue)) > 0;
            EXPECT_EQ(lockedNumbersChanged(after, now), 0) << seed;
            EXPECT_EQ(now.locked, before.locked);
            for (const std::string& path : now.locked)
                EXPECT_EQ(design::lockComplaint(now, path), std::nullopt) << seed;
        }
    }
    EXPECT_GT(followed, 0);
    EXPECT_GT(held, 0) << "no lock was in the way";
}

/// BANDWRIGHT_DESIGNS=100000 takes every combination several times.
TEST(Addition, FiveAnswersMakeARingThatIsGo) {
    const trade::Catalogue catalogue = trade::builtInCatalogue();
    Ordinary ordinary = ordinaryMaterials(catalogue);
    EXPECT_GE(ordinary.metals.size(), 8U);
    EXPECT_GE(ordinary.fillers.size(), 4U);
    EXPECT_GE(ordinary.gems.size(), 4U);
    const auto& [metals, fillers, gems] = ordinary;
    for (std::uint64_t seed = 1; seed <= geometry::designsToDraw(12); ++seed) {
        const std::uint64_t lot = seed * 2654435761U;
        Wishes wishes;
        wishes.finger = {trade::SizeSystem::Diameter, 15 + static_cast<double>(lot % 8)};
        wishes.metal = metals[lot / 8 % metals.size()];
        wishes.width = 6 + static_cast<double>(lot / 64 % 5);
        if (lot / 256 % 4 != 0) wishes.filler = fillers[lot / 1024 % fillers.size()];
        if (lot / 512 % 3 != 0) wishes.gem = gems[lot / 4096 % gems.size()];
        const Added ring = ringFor(wishes, catalogue);
        const Report report = check(ring.design, catalogue, {.remedies = false, .resizing = true});
        EXPECT_EQ(ring.isGo, report.verdict == Verdict::Go) << seed;
        if (wishes.width >= 8) {
            EXPECT_TRUE(ring.isGo) << wishes.metal << " " << wishes.filler << " " << wishes.gem;
        }
        EXPECT_EQ(ring.design.finger.size, wishes.finger);
        EXPECT_EQ(ring.design.band.width, wishes.width);
        EXPECT_EQ(ring.design.channels.size(), wishes.filler.empty() ? 0U : 1U);
        EXPECT_EQ(ring.design.settings.size(), wishes.gem.empty() ? 0U : 1U);
    }
}

}  // namespace
}  // namespace bandwright::check
