#include "route/plan.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numbers>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "drawer.hpp"
#include "drawn_design.hpp"
#include "drawn_workshop.hpp"
#include "geometry/ring.hpp"
#include "turned_stages.hpp"

namespace bandwright::route {
namespace {

using design::Stage;

design::Design sample(const std::string& name) {
    return design::readDesign(std::string(BANDWRIGHT_MODELS) + "/" + name + ".ring.json");
}

Plan planned(const design::Design& design, const trade::Workshop& shop = {}) {
    const trade::Catalogue catalogue = trade::withWorkshop(trade::builtInCatalogue(), shop);
    return plan(design, catalogue, shop, check::check(design, catalogue, {.remedies = false}));
}

/// Calls see(design, workshop, plan) for each of many rings, routes and workshops by lot.
void forEachDrawn(std::uint64_t usual, const auto& see) {
    int rings = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(usual); ++seed) {
        const auto design = check::drawn(seed);
        if (!design) continue;
        SCOPED_TRACE(seed);
        const trade::Workshop shop = drawnWorkshop(seed);
        see(*design, shop, planned(*design, shop));
        ++rings;
    }
    EXPECT_GT(rings, static_cast<int>(geometry::designsToDraw(usual) / 10));
}

const StageWork* workOf(const Plan& plan, Stage stage) {
    const auto found = std::ranges::find(plan.stages, stage, &StageWork::stage);
    return found == plan.stages.end() ? nullptr : &*found;
}

TEST(Plan, HasTheStepsOfTheRingInOrder) {
    for (const char* name : {"harbour", "anvil-road", "lantern", "tide-mill"}) {
        const design::Design design = sample(name);
        const Plan plan = planned(design);
        std::vector<Stage> stages;
        for (const StageWork& work : plan.stages)
            if (work.stage != Stage::Finished) stages.push_back(work.stage);
        EXPECT_EQ(stages, check::steps(design, trade::builtInCatalogue()));
    }
}

// What is in the bar is in the ring or in the chips.
TEST(Plan, LosesNoMetal) {
    forEachDrawn(150, [](const design::Design& design, const trade::Workshop& shop, const Plan& plan) {
        double chips = 0;
        for (const StageWork& work : plan.stages)
            chips += work.chips;
        double band = 0;
        for (const geometry::SolidPart& body : geometry::bodies(design))
            if (body.part.role == geometry::PartRole::Band) band += body.solid.volume;
        EXPECT_EQ(plan.stages.back().stage, Stage::Finished);
        EXPECT_NEAR(plan.stages.back().mass, plan.stages.at(plan.stages.size() - 2).mass, 1e-12);
        EXPECT_GT(plan.stages.back().mass, 0);
        const double bar = pieceFor(design, trade::builtInCatalogue(), shop).volume;
        EXPECT_NEAR(chips + band, bar, 1e-9 * bar);
    });
}

// The dial counts from the surface as it is to the surface the step leaves: from what the sections of the two
// stages reach to, found on their outlines.
struct Reach {
    double least = 1e9, most = 0;
};
Reach reachOf(const geometry::Section& section) {
    Reach reach;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& s : loop) {
            const geometry::Rectangle round = geometry::rectangleRound(s);
            reach.least = std::min(reach.least, round.low.r);
            reach.most = std::max(reach.most, round.high.r);
        }
    }
    return reach;
}

TEST(Plan, ItsDialEndsAtTheMetalThatIsTaken) {
    forEachDrawn(150, [](const design::Design& design, const trade::Workshop& shop, const Plan& plan) {
        Reach before;
        for (const StageWork& work : plan.stages) {
            if (work.stage == Stage::Finished) continue;
            const geometry::RingSections plain = geometry::sections(
                design, inThisWorkshop(design, trade::builtInCatalogue(), shop, work.stage));
            const Reach after = reachOf(plain.liner.empty() ? plain.band : plain.liner);
            const Reach outer = reachOf(plain.band);
            const auto last = [&] {
                const std::vector<double>& dial = work.operations.front().cut->dial;
                return dial.empty() ? 0 : dial.back();
            };
            // Channels that run into the bore or over the highest place change what the sections reach to.
            const bool whole = design.channels.empty();
            if (work.stage == Stage::Bored) {
                EXPECT_NEAR(last(), after.least - before.least, 1e-9);
            } else if (work.stage == Stage::Turned && whole &&
                       design.band.outside.shape == design::OutsideShape::Flat) {
                EXPECT_NEAR(last(), before.most - outer.most, 1e-9);
            } else if (work.stage == Stage::Sized && whole) {
                EXPECT_NEAR(last(), std::max(0.0, after.least - before.least), 1e-9);
            } else if (work.stage == Stage::Trued && whole &&
                       !design::isBefore(design.route, Stage::Bevelled, Stage::Trued)) {
                EXPECT_NEAR(last(), before.most - outer.most, 1e-9);
            }
            before = {after.least, outer.most};
        }
    });
}

// A reading lies on the ring as it is then, and its number is what lies between its places.
TEST(Plan, ItsReadingsLieOnTheRingOfTheirStage) {
    std::size_t readings = 0;
    forEachDrawn(150, [&](const design::Design& design, const trade::Workshop& shop, const Plan& plan) {
        for (const StageWork& work : plan.stages) {
            if (!isTurned(work.stage)) continue;
            const geometry::RingSections plain = geometry::sections(
                design, inThisWorkshop(design, trade::builtInCatalogue(), shop, work.stage));
            std::vector<geometry::Section> bodies{plain.band, plain.liner};
            bodies.insert(bodies.end(), plain.fills.begin(), plain.fills.end());
            const auto offTheRing = [&](geometry::Vec2 p) {
                double nearest = 1e9;
                for (const geometry::Section& body : bodies)
                    for (const geometry::Loop& loop : body)
                        for (const geometry::Segment& s : loop)
                            nearest = std::min(nearest, geometry::distance(p, geometry::nearestOn(s, p)));
                return nearest;
            };
            for (const Operation& operation : work.operations) {
                EXPECT_EQ(operation.stage, work.stage);
                for (const Reading& r : operation.readings) {
                    SCOPED_TRACE(operation.name + ": " + r.what);
                    ++readings;
                    EXPECT_LT(offTheRing(r.from), 1e-9);
                    EXPECT_LT(offTheRing(r.to), 1e-9);
                    const double between = r.span == Span::Diameter ? 2 * r.from.r
                                           : r.span == Span::Along  ? std::abs(r.to.z - r.from.z)
                                                                    : std::abs(r.to.r - r.from.r);
                    EXPECT_NEAR(r.value - r.loose, between, 1e-12);
                    EXPECT_LE(r.least, r.value);
                    EXPECT_GE(r.most, r.value);
                }
            }
        }
    });
    EXPECT_GT(readings, 500U);
}

// n = 1000 v / (pi d), no faster than the machine goes; a blade in the channel, a drill in the bore.
TEST(Plan, KeepsToTheTools) {
    forEachDrawn(100, [](const design::Design&, const trade::Workshop& shop, const Plan& plan) {
        for (const StageWork& work : plan.stages) {
            if (!isTurned(work.stage)) continue;
            for (const Operation& operation : work.operations) {
                SCOPED_TRACE(operation.name);
                EXPECT_FALSE(operation.name.empty());
                EXPECT_FALSE(operation.hold.empty());
                EXPECT_FALSE(operation.tool.empty());
                if (!operation.cut) continue;
                const Cut& cut = *operation.cut;
                ASSERT_GT(cut.diameter, 0);
                const double runs = std::numbers::pi * cut.diameter * cut.spindle / 1000;
                if (!shop.lathe) {
                    EXPECT_NEAR(runs, cut.speed, 1e-9 * cut.speed);
                } else {
                    EXPECT_GE(cut.spindle, shop.lathe->least);
                    EXPECT_LE(cut.spindle, shop.lathe->most);
                    EXPECT_EQ(cut.clipped,
                              cut.speed > std::numbers::pi * cut.diameter * shop.lathe->most / 1000);
                    if (cut.spindle > shop.lathe->least) {
                        EXPECT_LE(runs, cut.speed * (1 + 1e-9));
                    }
                }
                EXPECT_TRUE(std::ranges::is_sorted(cut.dial));
            }
        }
    });
}

TEST(Plan, TellsWhatTheWorkshopDoesNot) {
    const auto isTold = [](const Plan& plan, const std::string& what) {
        for (const StageWork& work : plan.stages)
            for (const Operation& operation : work.operations)
                for (const std::string& missing : operation.missing)
                    if (missing.find(what) != std::string::npos) return true;
        return false;
    };
    const Plan bare = planned(sample("harbour"));
    for (const char* what :
         {"lathe", "drills", "boring bars", "grooving blades", "parting blade", "mandrels", "stock"})
        EXPECT_TRUE(isTold(bare, what)) << what;
    const trade::Workshop shop =
        trade::readWorkshop(std::string(BANDWRIGHT_MODELS) + "/my-workshop.json", trade::builtInCatalogue());
    const Plan full = planned(sample("harbour"), shop);
    for (const char* what :
         {"lathe", "drills", "boring bars", "grooving blades", "parting blade", "mandrels", "stock"})
        EXPECT_FALSE(isTold(full, what)) << what;
}

// By hand, for the sample Harbour in the sample workshop: US 9.5 is 11.63 + 0.8128 * 9.5 = 19.3516 mm, and
// 0.2 for the wide band; outside 2 * 2.4 more; turned 0.2 more. The channel is 1 mm deep and 0.1 to true.
TEST(Plan, OfTheSampleIsAsWorkedByHand) {
    const trade::Workshop shop =
        trade::readWorkshop(std::string(BANDWRIGHT_MODELS) + "/my-workshop.json", trade::builtInCatalogue());
    const Plan plan = planned(sample("harbour"), shop);
    const double bore = 0.458 * 25.4 + 0.032 * 25.4 * 9.5 + 0.2;
    const auto value = [&](Stage stage, const std::string& what) {
        for (const Operation& operation : workOf(plan, stage)->operations)
            for (const Reading& reading : operation.readings)
                if (reading.what == what) return reading.value;
        ADD_FAILURE() << what;
        return 0.0;
    };
    EXPECT_NEAR(value(Stage::Bored, "Bore"), bore - 0.4064, 1e-9);
    EXPECT_NEAR(value(Stage::Turned, "Outside"), bore + 4.8 + 0.2, 1e-9);
    EXPECT_NEAR(value(Stage::Parted, "Width"), 8, 1e-12);
    EXPECT_NEAR(value(Stage::Channelled, "Depth below the left rim"), 1.1, 1e-9);
    EXPECT_NEAR(value(Stage::Channelled, "Diameter over the floor"), bore + 4.8 - 2, 1e-9);
    EXPECT_NEAR(value(Stage::Channelled, "Width at the mouth"), 4, 1e-9);
    EXPECT_NEAR(value(Stage::Channelled, "From the right-hand face to the channel"), 2, 1e-9);
    EXPECT_NEAR(value(Stage::Trued, "Outside over the metal"), bore + 4.8, 1e-9);
    EXPECT_NEAR(value(Stage::Bevelled, "Outside of the right-hand face"), bore + 4.8 - 1.6, 1e-9);
    EXPECT_NEAR(value(Stage::Sized, "Bore at its narrowest"), bore, 1e-9);
    // The blade of 1.5 mm between sides 2 and 6 mm from the face: its right-hand corner from 2 to 4.5.
    const std::vector<double>& across = workOf(plan, Stage::Channelled)->operations.front().cut->across;
    EXPECT_NEAR(across.front(), 2, 1e-9);
    EXPECT_NEAR(across.back(), 4.5, 1e-9);
    for (std::size_t i = 1; i < across.size(); ++i)
        EXPECT_LE(across[i] - across[i - 1], 0.8 * 1.5 + 1e-9);
}

TEST(Plan, TakesTheMakersOwnHours) {
    trade::Workshop shop;
    shop.hours["bored"] = 0.7;
    const Plan plan = planned(sample("harbour"), shop);
    EXPECT_EQ(workOf(plan, Stage::Bored)->hours, 0.7);
    EXPECT_TRUE(workOf(plan, Stage::Bored)->ownHours);
    EXPECT_FALSE(workOf(plan, Stage::Turned)->ownHours);
    EXPECT_GT(workOf(plan, Stage::Turned)->hours, 0);
    EXPECT_NO_THROW(requireSteps(shop));
    shop.hours["sawn"] = 1;
    EXPECT_THROW(requireSteps(shop), base::InputError);
}

// Deeper than the floor allows would be a no-go, whatever the general tolerance says.
TEST(Plan, ItsLimitsKeepTheWallsGo) {
    design::Design design = sample("harbour");
    design.settings.clear();
    // At 1.78 the floor is 2.4 - 1.78 mm in the middle and thinner at the channel's corners, under which the
    // bore opens; 0.5 are the least for titanium.
    design.channels.at(0).depth = 1.78;
    const Plan plan = planned(design);
    for (const Operation& operation : workOf(plan, Stage::Channelled)->operations) {
        for (const Reading& reading : operation.readings) {
            if (reading.what != "Depth below the left rim") continue;
            EXPECT_LT(reading.most - reading.value, 0.08);
            EXPECT_NEAR(reading.value - reading.least, 0.1, 1e-9);
            design.channels.at(0).depth = reading.most - 0.1 - 1e-9;  // less what is left for truing
        }
    }
    const check::Report report =
        check::check(design, trade::builtInCatalogue(), {.remedies = false, .resizing = false});
    for (const check::Finding& finding : report.findings)
        if (finding.rule == "floor-wall") {
            EXPECT_NE(finding.verdict, check::Verdict::NoGo);
        }
}

}  // namespace
}  // namespace bandwright::route
