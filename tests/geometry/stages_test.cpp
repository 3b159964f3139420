#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright {
namespace {

constexpr BuildOptions kCoarse{50};

double volumeAt(const Design& design, Stage stage) {
    double sum = 0;
    for (const SolidPart& body : bodies(design, stage))
        sum += body.solid.volume;
    return sum;
}

/// Steps by which the ring gains something; by all others it loses.
bool adds(Stage step) {
    return step == Stage::Lined || step == Stage::Filled || step == Stage::Joined || step == Stage::Set;
}

TEST(Stages, OfAnyRouteAreClosedBodiesThatOnlyLoseButWhereSomethingIsPutIn) {
    std::size_t built = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(400); ++seed) {
        const Design design = randomDesign(seed);
        SCOPED_TRACE("seed " + std::to_string(seed));
        double before = 0;
        for (const Stage stage : design.route) {
            SCOPED_TRACE(name(stage));
            const auto parts = partsOf(design, stage, kCoarse);
            if (!parts) break;
            ++built;
            for (const Part& part : *parts)
                EXPECT_EQ(defects(part.mesh), MeshDefects{}) << name(part);
            const double now = volumeAt(design, stage);
            // Where outlines touch, tools are made larger by nanometres.
            const double slack = 1e-5 * now;
            if (stage != Stage::Blank && !adds(stage)) {
                EXPECT_LE(now, before + slack);
            } else {
                EXPECT_GE(now, before - slack);
            }
            before = now;
        }
        if (HasFailure()) return;
    }
    EXPECT_GT(built, designsToDraw(400) * 5);
}

TEST(Stages, InWhateverOrderTheFinishedRingIsTheSame) {
    for (std::uint64_t seed = 0; seed < designsToDraw(400); ++seed) {
        const Design design = randomDesign(seed);
        Design usual = design;
        usual.route = usualRoute();
        SCOPED_TRACE("seed " + std::to_string(seed));
        const auto parts = partsOf(design, Stage::Finished, kCoarse);
        const auto same = partsOf(usual, Stage::Finished, kCoarse);
        const auto last = partsOf(design, design.route.back(), kCoarse);
        ASSERT_EQ(parts.has_value(), same.has_value());
        if (!parts) continue;
        ASSERT_EQ(parts->size(), same->size());
        ASSERT_EQ(parts->size(), last->size());
        for (std::size_t i = 0; i < parts->size(); ++i) {
            EXPECT_TRUE(sameBytes((*parts)[i].mesh, (*same)[i].mesh)) << name((*parts)[i]);
            EXPECT_TRUE(sameBytes((*parts)[i].mesh, (*last)[i].mesh)) << name((*parts)[i]);
        }
    }
}

// By hand: tubes of pi w (R R - r r).
TEST(Stages, OfAPlainRingAreTubesOfTheSizesItsAllowancesLeave) {
    Design design;
    design.band.left.shape = design.band.right.shape = EdgeShape::Sharp;
    design.band.bore = {BoreShape::Straight, 0, 0, 0};
    design.channels = {Channel{}};
    design.finger.size = {SizeSystem::Diameter, 20};
    design.band.width = 8;
    design.band.thickness = 2;
    design.allowances = {
        .sizing = 0.2, .truing = 0.1, .fill = 0.3, .parting = 0.5, .blankOutside = 1, .blankBore = 3};
    const auto tube = [](double width, double out, double in) {
        return std::numbers::pi * width * (out * out - in * in);
    };
    EXPECT_NEAR(volumeAt(design, Stage::Blank), tube(9, 13.1, 6.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Bored), tube(9, 13.1, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Turned), tube(9, 12.1, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Parted), tube(8, 12.1, 9.8), 1e-9);
    const double groove = volumeAt(design, Stage::Parted) - tube(4, 12.1, 11);
    EXPECT_NEAR(volumeAt(design, Stage::Channelled), groove, 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Filled), groove + tube(4, 12.4, 11), 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Trued), tube(8, 12, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, Stage::Sized), tube(8, 12, 10), 1e-9);
    design.allowances.blankBore = 30;
    EXPECT_NEAR(volumeAt(design, Stage::Blank), tube(9, 13.1, 1), 1e-9) << "a hole of 2 mm is left";
    design.band.liner = Liner{.thickness = 0.5};
    EXPECT_NEAR(volumeAt(design, Stage::Turned), tube(9, 12.1, 10.5), 1e-9) << "bored for the liner";
    EXPECT_NEAR(volumeAt(design, Stage::Lined), tube(8, 12.1, 9.8), 1e-9);
}

TEST(Stages, HaveTheBoreStraightAndTheEdgesSharpUntilTheyAreShaped) {
    const Design design;
    const auto has = [&](Stage stage, Feature feature) {
        const Section band = sections(design, stage).band;
        for (const Segment& s : band.front())
            if (s.tag.feature == feature) return true;
        return false;
    };
    EXPECT_FALSE(has(Stage::Trued, Feature::Bevel));
    EXPECT_TRUE(has(Stage::Bevelled, Feature::Bevel));
    for (const Feature feature : {Feature::BoreCrown, Feature::Ease}) {
        EXPECT_FALSE(has(Stage::Polished, feature));
        EXPECT_TRUE(has(Stage::Sized, feature));
    }
}

TEST(Stages, ShowATubeOnceItIsJoinedAndAStoneOnceItIsSet) {
    Design design;
    design.settings = {Setting{}};
    const auto counts = [&](Stage stage) {
        std::size_t tubes = 0, stones = 0;
        for (const Part& part : buildParts(design, stage, kCoarse)) {
            tubes += part.role == PartRole::Tube ? 1U : 0U;
            stones += part.role == PartRole::Stone ? 1U : 0U;
        }
        return std::pair(tubes, stones);
    };
    using Counts = std::pair<std::size_t, std::size_t>;
    EXPECT_EQ(counts(Stage::Sized), Counts(0, 0));
    EXPECT_EQ(counts(Stage::Joined), Counts(1, 0));
    EXPECT_EQ(counts(Stage::Set), Counts(1, 1));
    // A stone set in its tube on the bench comes with the tube.
    design.route = movedBefore(design.route, Stage::Closed, Stage::Joined);
    EXPECT_EQ(counts(Stage::Closed), Counts(0, 0));
    EXPECT_EQ(counts(Stage::Joined), Counts(1, 1));
    design.settings[0].tube.reset();
    EXPECT_EQ(counts(Stage::Set), Counts(0, 1));
}

}  // namespace
}  // namespace bandwright
