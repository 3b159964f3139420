#include "geometry/measured.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <limits>
#include <random>

#include "base/input_error.hpp"
#include "design/measured.hpp"
#include "geometry/ring.hpp"
#include "geometry/workpiece.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

using design::Measurable;
using design::Measured;
using design::Stage;

/// The ring of the sums below: bore 18.6 mm, outside 23 mm, nothing in it.
design::Design plainRing() {
    design::Design ring;
    ring.finger = {{trade::SizeSystem::Diameter, 18.6}, 0};
    ring.band.thickness = 2.2;
    ring.channels = {design::Channel{}};
    ring.settings = {design::Setting{}};
    return ring;
}

struct Extent {
    double inner = std::numeric_limits<double>::infinity(), outer = 0;
    double left = std::numeric_limits<double>::infinity(), right = -std::numeric_limits<double>::infinity();
};

/// Of the ends of all segments: the bore at mid-width is an end, or the bore is straight or an arc whose
/// lowest place is at mid-width, which is added.
Extent extentOf(const RingSections& plain) {
    Extent extent;
    const auto add = [&](const Section& section) {
        for (const Loop& loop : section)
            for (const Segment& s : loop)
                for (const Vec2 p : {s.from, s.to, pointAt(s, 0.5)}) {
                    extent.outer = std::max(extent.outer, p.r);
                    extent.left = std::min(extent.left, p.z);
                    extent.right = std::max(extent.right, p.z);
                }
    };
    add(plain.band);
    add(plain.liner);
    extent.inner = boreAt(plain, 0).value_or(0);
    return extent;
}

/// What a reading says of a ring at its stage, found on the sections; nothing where a channel has cut the
/// place away.
double readOn(const design::Design& ring, const Measured& reading) {
    const Workpiece piece = workpiece(ring, reading.stage);
    design::Design bare = ring;
    bare.channels.clear();
    bare.settings.clear();
    const RingSections plain = sections(bare, reading.stage);
    const auto at = static_cast<std::size_t>(reading.number) - 1;
    switch (reading.what) {
        case Measurable::Bore:
            return 2 * extentOf(plain).inner;
        case Measurable::Outside:
            return 2 * piece.outside;
        case Measurable::Width:
            return extentOf(plain).right - extentOf(plain).left;
        case Measurable::ChannelDepth:
            return outsideAt(piece, ring.channels[at].offset) - channelFloor(ring, at);
        case Measurable::SeatDepth: {
            const design::Setting& setting = ring.settings[at];
            const double z = setting.placement.offset;
            return outsideAt(piece, z) - (outsideAt(ring, z) - setting.hole.steps.back().depth);
        }
        default:
            return 0;
    }
}

/// Readings that the bench could give of this plan, each a little off.
std::vector<Measured> readingsOf(const design::Design& plan, std::mt19937_64& lot) {
    std::uniform_real_distribution<double> off(-0.04, 0.04);
    std::vector<Measured> readings;
    for (const Stage stage : plan.route) {
        const auto add = [&](Measurable what, int number = 1) {
            readings.push_back({stage, what, number, 0, "", ""});
            readings.back().value = readOn(plan, readings.back()) + off(lot);
        };
        if (stage == Stage::Bored || stage == Stage::Sized) add(Measurable::Bore);
        if (stage == Stage::Turned || stage == Stage::Trued) add(Measurable::Outside);
        if (stage == Stage::Parted) add(Measurable::Width);
        if (stage == Stage::Channelled)
            for (std::size_t i = 0; i < plan.channels.size(); ++i)
                add(Measurable::ChannelDepth, static_cast<int>(i) + 1);
        if (stage == Stage::Drilled)
            for (std::size_t i = 0; i < plan.settings.size(); ++i)
                if (!plan.settings[i].hole.steps.empty()) add(Measurable::SeatDepth, static_cast<int>(i) + 1);
    }
    return readings;
}

std::string refusalOf(const design::Design& plan) {
    try {
        asMeasured(plan);
    } catch (const base::InputError& error) {
        return error.what();
    }
    return "";
}

/// Each reading is found again on the ring that follows from all of them.
TEST(Measured, RingsShowWhatWasReadAtEachStage) {
    std::size_t held = 0, refused = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(400); ++seed) {
        design::Design plan = randomDesign(seed);
        // Allowances no reading can use up, so that none contradicts another.
        plan.allowances.truing = std::max(plan.allowances.truing, 0.2);
        plan.allowances.sizing = std::max(plan.allowances.sizing, 0.2);
        try {
            requireBuildable(plan);
        } catch (const base::InputError&) {
            continue;
        }
        std::mt19937_64 lot(seed);
        plan.measured = readingsOf(plan, lot);
        design::Design ring;
        try {
            ring = asMeasured(plan);
            requireBuildable(ring);
        } catch (const base::InputError&) {
            ++refused;  // a plan so near a bound that a few hundredths take it over
            continue;
        }
        for (const Measured& reading : plan.measured)
            EXPECT_NEAR(readOn(ring, reading), reading.value, 1e-8)
                << "seed " << seed << ", " << design::name(reading.stage) << ", "
                << static_cast<int>(reading.what);
        EXPECT_NEAR(asMeasured(ring).band.thickness, ring.band.thickness, 1e-8) << "seed " << seed;
        ++held;
    }
    EXPECT_GT(held, designsToDraw(400) / 4);
    EXPECT_LT(refused, held / 4);
}

TEST(Measured, NothingReadChangesNothing) {
    design::Design plan = plainRing();
    EXPECT_EQ(asMeasured(plan), plan);
    plan.measured = {{Stage::Sized, Measurable::Bore, 1, 0, "", ""}};
    EXPECT_EQ(asMeasured(plan), plan);
    EXPECT_FALSE(design::doneSoFar(plan));
    EXPECT_TRUE(design::settledFields(plan).empty());
}

/// By hand: a bore of 18.6 under size by 0.4064 on the diameter is 18.1936; bored to 18.68 it is 0.08 over
/// size, nothing is left to size, and the ring that is not turned yet grows with it.
TEST(Measured, BoredTooLargeBeforeTurningTheRingGrows) {
    design::Design plan = plainRing();
    plan.measured = {{Stage::Bored, Measurable::Bore, 1, 18.68, "caliper", "2026-01-05"}};
    const design::Design ring = asMeasured(plan);
    EXPECT_NEAR(2 * design::boreRadius(ring), 18.68, 1e-9);
    EXPECT_NEAR(2 * design::outsideRadius(ring), 23.08, 1e-9);
    EXPECT_EQ(ring.allowances.sizing, 0);
    EXPECT_EQ(ring.settings, plan.settings);
}

/// By hand: trued 0.1 mm too far on the diameter, floor and seat lie 0.05 mm nearer the outside.
TEST(Measured, TruedTooFarWhatIsCutIsLessDeep) {
    design::Design plan = plainRing();
    plan.measured = {{Stage::Trued, Measurable::Outside, 1, 22.9, "micrometer", ""}};
    const design::Design ring = asMeasured(plan);
    EXPECT_NEAR(ring.band.thickness, 2.15, 1e-9);
    EXPECT_NEAR(ring.channels[0].depth, 0.95, 1e-9);
    EXPECT_NEAR(ring.settings[0].hole.steps[0].depth, 1.35, 1e-9);
    EXPECT_NEAR(ring.allowances.truing, 0.15, 1e-9);
}

/// By hand: sized 0.1 mm over after the outside is done, the wall is 0.05 mm thinner.
TEST(Measured, SizedTooFarTheWallIsThinner) {
    design::Design plan = plainRing();
    plan.measured = {{Stage::Sized, Measurable::Bore, 1, 18.7, "", ""}};
    const design::Design ring = asMeasured(plan);
    EXPECT_NEAR(ring.band.thickness, 2.15, 1e-9);
    EXPECT_NEAR(2 * design::outsideRadius(ring), 23, 1e-9);
    EXPECT_EQ(ring.channels, plan.channels);
}

TEST(Measured, ReadingsThatCannotBeAreRefused) {
    design::Design plan = plainRing();
    const auto refuses = [&](const Measured& reading, const std::string& sentence) {
        plan.measured = {reading};
        EXPECT_EQ(refusalOf(plan), sentence);
    };
    refuses({Stage::Bored, Measurable::ChannelDepth, 1, 1, "", ""},
            "measured[0].what is 'channel-depth' after 'bored', when it is not there yet; allowed: from "
            "'channelled' on");
    refuses({Stage::Channelled, Measurable::ChannelDepth, 2, 1, "", ""},
            "measured[0].number is 2; this ring has 1 channels");
    // The blank: 23 + 2 (0.1 + 1) mm.
    refuses({Stage::Turned, Measurable::Outside, 1, 25.3, "", ""},
            "measured[0].value is 25.3 mm; allowed: 18.6 to 25.25 mm, what is there by then");
    refuses({Stage::Bored, Measurable::Bore, 1, 23.5, "", ""},
            "measured[0].value is 23.5 mm; allowed: 16.144 to 23 mm, what is there by then");
    plan.measured = {{Stage::Turned, Measurable::Outside, 1, 23.1, "", ""},
                     {Stage::Trued, Measurable::Outside, 1, 23.2, "", ""}};
    EXPECT_EQ(refusalOf(plan),
              "measured[1].value is 23.2 mm; allowed: 18.6 to 23.15 mm, what is there by then");
}

TEST(Measured, StepsDoneAreSettled) {
    design::Design plan = plainRing();
    plan.measured = {{Stage::Channelled, Measurable::ChannelDepth, 1, 1.1, "", ""}};
    design::Design other = plan;
    other.settings[0].hole.steps[0].depth = 1.3;  // drilled later
    EXPECT_TRUE(design::keepsSettled(plan, other));
    other.channels[0].depth = 0.9;
    EXPECT_FALSE(design::keepsSettled(plan, other));
    other = plan;
    other.band.metal = "zirconium";
    EXPECT_FALSE(design::keepsSettled(plan, other));
    other = plan;
    other.route = design::movedBefore(plan.route, Stage::Drilled, Stage::Channelled);
    EXPECT_FALSE(design::keepsSettled(plan, other));
    other.route = design::movedBefore(plan.route, Stage::Filled, Stage::Drilled);
    EXPECT_TRUE(design::keepsSettled(plan, other));
}

}  // namespace
}  // namespace bandwright::geometry
