#include "drilling.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "bench_job.hpp"
#include "drawn_design.hpp"
#include "plain_ring.hpp"

namespace bandwright::route {
namespace {

TEST(Drilling, FeedsLieInTheTableOfTheUsNavy) {
    // US Navy 14345: mm a turn, 0.025 to 0.05 below 3.2 mm, 0.05 to 0.10 below 6.4, 0.10 to 0.18 below 12.7;
    // the lower end for hard metals.
    struct Range {
        double diameter, least, most;
    };
    for (const Range& r : {Range{2, 0.025, 0.05}, Range{3.1, 0.025, 0.05}, Range{3.3, 0.05, 0.10},
                           Range{6, 0.05, 0.10}, Range{7, 0.10, 0.18}, Range{12, 0.10, 0.18}}) {
        EXPECT_EQ(holeFeed(r.diameter, 9), r.least);
        EXPECT_EQ(holeFeed(r.diameter, 61), r.most);
    }
}

TEST(Drilling, DeepHolesAreSlowedAsTheGuideSays) {
    // A maker's guide to twist drills: less speed and feed in percent at 3, 4, 5 and 6 diameters.
    struct Slowed {
        double deep, lessSpeed, lessFeed;
    };
    for (const Slowed& row :
         {Slowed{2.9, 0, 0}, Slowed{3, 10, 10}, Slowed{4, 20, 10}, Slowed{5, 30, 20}, Slowed{6, 38, 20}}) {
        EXPECT_NEAR(deepHole(row.deep).speed, 1 - row.lessSpeed / 100, 1e-9) << row.deep;
        EXPECT_NEAR(deepHole(row.deep).feed, 1 - row.lessFeed / 100, 1e-9) << row.deep;
    }
}

TEST(Drilling, PecksRiseToTheDepthByOneDiameterAtMost) {
    for (const double diameter : {0.8, 1.5, 2.0, 4.0})
        for (double depth = 0.2; depth < 12; depth += 0.37)
            for (const double speed : {9.0, 61.0}) {
                const std::vector<double> dial = pecks(depth, diameter, speed);
                EXPECT_EQ(dial.back(), depth);
                EXPECT_LE(dial.front(),
                          std::max(2 * diameter, 0.0) + 0.01 + (speed < 20 ? 0.5 : 1) * diameter / 4);
                for (std::size_t i = 1; i < dial.size(); ++i) {
                    EXPECT_GT(dial[i], dial[i - 1]);
                    EXPECT_LE(dial[i] - dial[i - 1], 1.25 * diameter + 0.02);
                }
            }
}

/// A plain tube of titanium with one hole: pilot 2, seat 4.5 by 1.4; trued by 0.1, filled 0.2 over that.
design::Design holed() {
    design::Design design = check::plainRing();
    design.settings = {check::bareHole(0, 2, 4.5, 1.4)};
    design.allowances.truing = 0.1;
    design.allowances.fill = 0.2;
    return design;
}

/// What the dial says at the end of the operation whose name begins so.
double lastOf(const std::vector<Operation>& operations, const std::string& name) {
    for (const Operation& op : operations)
        if (op.name.starts_with(name)) return op.cut->dial.back();
    ADD_FAILURE() << "no operation " << name;
    return 0;
}

TEST(Drilling, DepthsCountFromTheSurfaceAsItIs) {
    // By subtraction: 1.4 below the finished outside, which lies 0.1 below the turned one.
    {
        const BenchJob bench(holed(), design::Stage::Drilled);
        EXPECT_NEAR(lastOf(drillHoles(bench.job), "Open the hole"), 1.5, 1e-9);
    }
    // Into an open channel: counted from the outside beside it, where the tool touches first.
    design::Design channelled = holed();
    channelled.channels = {check::channel(0, 5, 1)};
    {
        const BenchJob bench(channelled, design::Stage::Drilled);
        EXPECT_NEAR(lastOf(drillHoles(bench.job), "Open the hole"), 1.5, 1e-9);
    }
    // Through a fill that stands 0.2 over the turned outside.
    channelled.route = design::movedBefore(channelled.route, design::Stage::Filled, design::Stage::Drilled);
    {
        const BenchJob bench(channelled, design::Stage::Drilled);
        EXPECT_NEAR(lastOf(drillHoles(bench.job), "Open the hole"), 1.7, 1e-9);
    }
    // And when it has been trued.
    channelled.route = design::movedBefore(channelled.route, design::Stage::Trued, design::Stage::Drilled);
    {
        const BenchJob bench(channelled, design::Stage::Drilled);
        EXPECT_NEAR(lastOf(drillHoles(bench.job), "Open the hole"), 1.4, 1e-9);
    }
}

TEST(Drilling, APilotGoesDownByItsConeTooAndPastTheBore) {
    // 2.5 mm from the turned outside to the sized bore, 0.2032 more while it is under size; 0.300 d of cone
    // for a point of 118 degrees, 0.207 d for 135; set to a hundredth (calculator.city, tables of drill
    // points).
    design::Design design = holed();
    {
        const BenchJob bench(design, design::Stage::Drilled);
        EXPECT_NEAR(lastOf(drillHoles(bench.job), "Drill the pilot"), 2.5 + 0.2032 + 0.300 * 2 + 0.3, 0.006);
    }
    design.settings[0].hole.bottom = design::HoleBottom::Drill135;
    design.settings[0].hole.pilotDepth = 1.8;
    const BenchJob bench(design, design::Stage::Drilled);
    EXPECT_NEAR(lastOf(drillHoles(bench.job), "Drill the pilot"), 1.8 + 0.1 + 0.207 * 2, 0.006);
}

TEST(Drilling, SpindleSpeedsAreThoseOfTheFormula) {
    // n = 1000 v / (pi d): a drill of 2 mm at 12 m/min turns 1910 rev/min (Machinery's Handbook's formula).
    design::Design design = holed();
    const BenchJob bench(design, design::Stage::Drilled);
    const double v = bench.catalogue.metal(design.band.metal)->drillingSpeed.value;
    for (const Operation& op : drillHoles(bench.job)) {
        if (!op.cut || !op.name.starts_with("Drill")) continue;
        EXPECT_NEAR(op.cut->spindle, 1000 * v / (std::numbers::pi * 2), 1);
    }
}

TEST(Drilling, TheMillTurnsNoFasterThanItCan) {
    trade::Workshop slow;
    slow.mill = trade::Spindle{100, 600, {}};
    const BenchJob bench(holed(), design::Stage::Drilled, trade::builtInCatalogue(), slow);
    for (const Operation& op : drillHoles(bench.job)) {
        if (op.cut) {
            EXPECT_LE(op.cut->spindle, 600);
            EXPECT_EQ(op.cut->clipped, 1000 * op.cut->speed / (std::numbers::pi * op.cut->diameter) > 600);
        }
    }
}

TEST(Drilling, OneZeroServesAllSettings) {
    design::Design design = holed();
    design.settings[0].placement.start = 90;
    design.settings.push_back(check::bareHole(0, 1, 2, 0.8));
    design.settings[1].placement.angles = {64, 116};
    const BenchJob bench(design, design::Stage::Drilled);
    std::vector<double> angles;
    for (const Operation& op : drillHoles(bench.job))
        for (const Indexing& place : op.indexing)
            angles.push_back(place.angle);
    EXPECT_EQ(angles, (std::vector<double>{0, 334, 26}));
}

/// The dial brings each tool to where the design has the hole, whatever the surface is by then.
TEST(DrillingByLot, ToolsEndWhereTheHoleEnds) {
    int holes = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(300); ++seed) {
        const auto design = check::drawn(seed);
        if (!design || design->settings.empty()) continue;
        const BenchJob bench(*design, design::Stage::Drilled);
        const std::vector<Operation> operations = drillHoles(bench.job);
        for (std::size_t i = 0; i < design->settings.size(); ++i) {
            const design::Setting& s = design->settings[i];
            const std::string of =
                design->settings.size() > 1 ? " of setting " + std::to_string(i + 1) : std::string();
            const double pilot = [&] {
                for (const Operation& op : operations)
                    if (op.name.starts_with("Drill the pilot") && op.name.find(of + ",") != std::string::npos)
                        return op.cut->dial.back();
                return -1.0;
            }();
            std::vector<double> steps;
            for (const Operation& op : operations)
                if ((op.name.starts_with("Cut the seat") || op.name.starts_with("Open the hole")) &&
                    op.name.find(of + ",") != std::string::npos)
                    steps.push_back(op.cut->dial.back());
            if (steps.size() != s.hole.steps.size()) continue;  // one ends above a sunk fill
            // Two depths from one zero differ as the design's do; the tip's is set to a hundredth.
            if (s.hole.bottom != design::HoleBottom::Through) {
                for (std::size_t k = 0; k < steps.size(); ++k)
                    EXPECT_NEAR(pilot - steps[k],
                                s.hole.pilotDepth + geometry::drillPoint(s.hole) - s.hole.steps[k].depth,
                                0.005 + 1e-9)
                        << seed;
            }
            for (std::size_t k = 1; k < steps.size(); ++k)
                EXPECT_NEAR(steps[k - 1] - steps[k], s.hole.steps[k - 1].depth - s.hole.steps[k].depth,
                            0.005 + 1e-9);
            ++holes;
        }
    }
    EXPECT_GT(holes, 20);
}

}  // namespace
}  // namespace bandwright::route
