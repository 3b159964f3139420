#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <set>

#include "base/input_error.hpp"
#include "drawn_design.hpp"
#include "plain_ring.hpp"

namespace bandwright::check {
namespace {

std::vector<std::string> namesOf(const design::Design& design) {
    std::vector<std::string> names;
    for (const design::Stage stage : stages(design, trade::builtInCatalogue()))
        names.push_back(design::name(stage));
    return names;
}

TEST(Stages, AreTheStepsThatDoSomethingToTheRing) {
    using Names = std::vector<std::string>;
    design::Design design = plainRing();
    EXPECT_EQ(namesOf(design),
              (Names{"blank", "bored", "turned", "parted", "trued", "polished", "finished"}));
    design.allowances.truing = 0;
    design.band.left.shape = design::EdgeShape::Round;
    design.band.metal = "steel-304l-316l-layered";
    EXPECT_EQ(namesOf(design),
              (Names{"blank", "bored", "turned", "parted", "bevelled", "polished", "sized", "finished"}));
    design.channels = {channel(0, 4, 1)};
    design.settings = {design::Setting{}};
    design.band.liner = design::Liner{};
    EXPECT_EQ(namesOf(design),
              (Names{"blank", "bored", "turned", "parted", "lined", "channelled", "drilled", "filled",
                     "trued", "bevelled", "polished", "sized", "etched", "joined", "set", "finished"}));
}

// By subtraction: what stands over a floor at each stage.
TEST(Stages, AreMeasuredEachAndTheWorstIsNamed) {
    design::Design design = plainRing();
    design.channels = {channel(0, 4, 1)};
    const Report report = checked(design);
    EXPECT_EQ(findingOf(report, "floor-wall")->stage, design::Stage::Finished);
    EXPECT_NEAR(valueOf(report, "floor-wall"), 1.4, 1e-9);
    EXPECT_NEAR(valueOf(report, "floor-wall", design::Stage::Channelled), 1.4 + design.allowances.sizing,
                1e-9);
    EXPECT_NEAR(valueOf(report, "thinnest-wall", design::Stage::Parted),
                2.4 + design.allowances.sizing + design.allowances.truing, 1e-6);
    EXPECT_EQ(measureOf(report, "floor-wall", design::Stage::Parted), nullptr);
}

// Two pilots come nearest at the bore, along a line that touches it half-way, and are nearer in a bore under
// size: sizing takes the thin place away again.
TEST(Stages, MayHaveTheirThinnestWallInTheMiddleOfTheRoute) {
    design::Design design = plainRing();
    design::Setting hole = bareHole(0, 1.5, 1.7, 1);
    hole.placement.count = 2;
    hole.placement.spacing = 12;
    design.settings = {hole};
    const auto land = [&](double bore) {
        constexpr double kHalf = 6 * std::numbers::pi / 180;
        return 2 * (bore * std::sin(kHalf) - 0.75) / std::cos(kHalf);
    };
    const double under = 10 - design.allowances.sizing;
    Report report = checked(design);
    EXPECT_EQ(findingOf(report, "hole-to-hole")->stage, design::Stage::Drilled);
    EXPECT_NEAR(valueOf(report, "hole-to-hole", design::Stage::Drilled), land(under), 1e-6);
    EXPECT_NEAR(valueOf(report, "hole-to-hole"), land(10), 1e-6);
    EXPECT_EQ(findingOf(report, "hole-to-hole")->verdict, Verdict::Marginal);
    // If it is sized before it is drilled, it is never so thin.
    design.route = design::movedBefore(design.route, design::Stage::Sized, design::Stage::Drilled);
    report = checked(design);
    EXPECT_EQ(findingOf(report, "hole-to-hole")->stage, design::Stage::Finished);
    EXPECT_NEAR(valueOf(report, "hole-to-hole", design::Stage::Drilled), land(10), 1e-6);
}

TEST(Stages, JudgedAloneStandAsTheyDoAmongAll) {
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        const Report all = checked(*design);
        std::set<std::pair<std::string, design::Stage>> seen;
        for (const design::Stage stage : stages(*design, trade::builtInCatalogue())) {
            const Report one = check(*design, trade::builtInCatalogue(), {.remedies = false, .stage = stage});
            for (const Measure& m : one.measures) {
                EXPECT_EQ(m.stage, stage);
                seen.insert({m.id, stage});
                const Measure* same = measureOf(all, m.id, stage);
                EXPECT_EQ(same == nullptr ? m.value : same->value, m.value) << m.id;
            }
        }
        for (const Measure& m : all.measures)
            EXPECT_TRUE(seen.contains({m.id, m.stage})) << m.id << " " << design::name(m.stage);
    }
}

TEST(Stages, TheRingDoesNotHaveAreRefused) {
    try {
        check(plainRing(), trade::builtInCatalogue(), {.stage = design::Stage::Filled});
        FAIL();
    } catch (const base::InputError& error) {
        EXPECT_NE(std::string(error.what()).find("filled"), std::string::npos);
        EXPECT_NE(std::string(error.what()).find("polished"), std::string::npos);
    }
}

TEST(Stages, InWhateverOrderTheFinishedRingMeasuresTheSame) {
    for (std::uint64_t seed = 0; seed < 100; ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        design::Design usual = *design;
        usual.route = design::usualRoute();
        const auto finished = [](const design::Design& d) {
            return check(d, trade::builtInCatalogue(), {.remedies = false, .stage = design::Stage::Finished});
        };
        const Report report = finished(*design), other = finished(usual);
        for (const Measure& m : report.measures) {
            // Rules that count at one step only or depend on the order of steps.
            if (m.id.starts_with("drill-") || m.id.starts_with("etch-") || m.id == "mandrel-grip") continue;
            EXPECT_EQ(valueOf(other, m.id), m.value) << m.id;
        }
    }
}

TEST(Stages, AreHeldByTheBoreThatTheyHave) {
    design::Design design = plainRing();
    design.band.bore.ease = 0.4;
    EXPECT_NEAR(valueOf(checked(design), "mandrel-grip", design::Stage::Trued), 8, 1e-9) << "not yet eased";
    design.route = design::movedBefore(design.route, design::Stage::Sized, design::Stage::Polished);
    EXPECT_NEAR(valueOf(checked(design), "mandrel-grip"), 7.2, 1e-9);
}

// Acid or heat does not harm parts that come into the ring later.
TEST(Stages, AreAskedOfAcidAndHeatOnlyWhatIsThere) {
    design::Design design = plainRing();
    design.band.metal = "steel-304l-316l-layered";
    design.allowances.truing = 0.001;
    design.channels = {channel(-2.5, 1, 1)};
    design.settings = {design::Setting{}};
    design.settings[0].tube->join = design::Join::Solder;
    const auto measured = [&](const char* id) {
        const Report report = checked(design);
        return std::ranges::any_of(report.measures, [&](const Measure& m) { return m.id == id; });
    };
    EXPECT_TRUE(measured("etch-fill"));
    EXPECT_FALSE(measured("etch-setting")) << "set after the etch";
    EXPECT_TRUE(measured("join-heat-fill"));
    EXPECT_FALSE(measured("join-heat-stone")) << "set after the join";
    EXPECT_FALSE(measured("etch-cut"));
    const design::Route usual = design.route;
    design.route =
        design::movedBefore(design::movedBefore(usual, design::Stage::Etched, design::Stage::Filled),
                            design::Stage::Joined, design::Stage::Filled);
    EXPECT_FALSE(measured("etch-fill"));
    EXPECT_FALSE(measured("join-heat-fill"));
    EXPECT_TRUE(measured("etch-cut"));
    design.route = design::movedBefore(usual, design::Stage::Closed, design::Stage::Etched);
    EXPECT_FALSE(measured("etch-setting")) << "still on the bench, in its tube";
    EXPECT_TRUE(measured("join-heat-stone"));
    design.settings[0].tube->join = design::Join::Adhesive;
    EXPECT_FALSE(measured("join-heat-stone"));
    EXPECT_FALSE(measured("join-heat-fill"));
    design.route =
        design::movedBefore(design::movedBefore(usual, design::Stage::Joined, design::Stage::Etched),
                            design::Stage::Closed, design::Stage::Etched);
    EXPECT_TRUE(measured("etch-setting"));
}

TEST(Stages, AreToBeReorderedWhereThatMendsAndSpoilsNothingElse) {
    design::Design design = plainRing();
    design.channels = {channel(-2.5, 1, 1)};
    design.settings = {design::Setting{}};
    design.settings[0].tube->join = design::Join::Solder;
    const auto remedyFor = [&](const std::string& rule) {
        for (const Finding& f : check(design, trade::builtInCatalogue()).findings)
            if (f.rule == rule) return f.remedy;
        return std::string("none found");
    };
    EXPECT_EQ(remedyFor("join-heat-fill"),
              "Change the order of the work: joining the tubes before packing the fill.");
    design.route = design::movedBefore(design.route, design::Stage::Joined, design::Stage::Filled);
    EXPECT_EQ(remedyFor("join-heat-fill"), "none found");
    // To be etched before filling, it must be etched before truing, and truing takes the etch off again.
    design.band.metal = "steel-304l-316l-layered";
    design.channels[0].fill->filler = "turquoise";
    EXPECT_EQ(remedyFor("etch-fill").find("route"), std::string::npos) << remedyFor("etch-fill");
}

}  // namespace
}  // namespace bandwright::check
