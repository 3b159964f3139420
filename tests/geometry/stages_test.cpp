#include <gtest/gtest.h>

#include <cmath>
#include <numbers>
#include <string>

#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

constexpr BuildOptions kCoarser{base::Micrometres(50)};

double volumeAt(const design::Design& design, design::Stage stage) {
    double sum = 0;
    for (const SolidPart& body : bodies(design, stage))
        sum += body.solid.volume;
    return sum;
}

/// Steps that add something to the ring; all others remove.
bool adds(design::Stage step) {
    return step == design::Stage::Lined || step == design::Stage::Filled || step == design::Stage::Joined ||
           step == design::Stage::Set;
}

TEST(Stages, OfAnyRouteAreClosedBodiesThatOnlyLoseButWhereSomethingIsPutIn) {
    std::size_t built = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(400); ++seed) {
        const design::Design design = randomDesign(seed);
        SCOPED_TRACE("seed " + std::to_string(seed));
        double before = 0;
        for (const design::Stage stage : design.route) {
            SCOPED_TRACE(design::name(stage));
            const auto parts = apartPartsOf(design, stage, kCoarser);
            if (!parts) break;
            ++built;
            for (const Part& part : *parts)
                EXPECT_EQ(defects(part.mesh), MeshDefects{}) << name(part);
            const double now = volumeAt(design, stage);
            // Where outlines touch, tools are made larger by nanometres.
            const double slack = 1e-5 * now;
            if (stage != design::Stage::Blank && !adds(stage)) {
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
        const design::Design design = randomDesign(seed);
        design::Design usual = design;
        usual.route = design::usualRoute();
        SCOPED_TRACE("seed " + std::to_string(seed));
        const auto parts = apartPartsOf(design, design::Stage::Finished, kCoarser);
        const auto same = apartPartsOf(usual, design::Stage::Finished, kCoarser);
        const auto last = apartPartsOf(design, design.route.back(), kCoarser);
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
    design::Design design;
    design.band.left.shape = design.band.right.shape = design::EdgeShape::Sharp;
    design.band.bore = {design::BoreShape::Straight, 0, 0, 0};
    design.channels = {design::Channel{}};
    design.finger.size = {trade::SizeSystem::Diameter, 20};
    design.band.width = 8;
    design.band.thickness = 2;
    design.allowances = {
        .sizing = 0.2, .truing = 0.1, .fill = 0.3, .parting = 0.5, .blankOutside = 1, .blankBore = 3};
    const auto tube = [](double width, double out, double in) {
        return std::numbers::pi * width * (out * out - in * in);
    };
    EXPECT_NEAR(volumeAt(design, design::Stage::Blank), tube(9, 13.1, 6.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Bored), tube(9, 13.1, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Turned), tube(9, 12.1, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Parted), tube(8, 12.1, 9.8), 1e-9);
    const double groove = volumeAt(design, design::Stage::Parted) - tube(4, 12.1, 11);
    EXPECT_NEAR(volumeAt(design, design::Stage::Channelled), groove, 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Filled), groove + tube(4, 12.4, 11), 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Trued), tube(8, 12, 9.8), 1e-9);
    EXPECT_NEAR(volumeAt(design, design::Stage::Sized), tube(8, 12, 10), 1e-9);
    design.allowances.blankBore = 30;
    EXPECT_NEAR(volumeAt(design, design::Stage::Blank), tube(9, 13.1, 1), 1e-9) << "a hole of 2 mm is left";
    design.band.liner = design::Liner{.thickness = 0.5};
    EXPECT_NEAR(volumeAt(design, design::Stage::Turned), tube(9, 12.1, 10.5), 1e-9) << "bored for the liner";
    EXPECT_NEAR(volumeAt(design, design::Stage::Lined), tube(8, 12.1, 9.8), 1e-9);
}

TEST(Stages, HaveTheBoreStraightAndTheEdgesSharpUntilTheyAreShaped) {
    const design::Design design;
    const auto has = [&](design::Stage stage, Feature feature) {
        const Section band = sections(design, stage).band;
        for (const Segment& s : band.front())
            if (s.tag.feature == feature) return true;
        return false;
    };
    EXPECT_FALSE(has(design::Stage::Trued, Feature::Bevel));
    EXPECT_TRUE(has(design::Stage::Bevelled, Feature::Bevel));
    for (const Feature feature : {Feature::BoreCrown, Feature::Ease}) {
        EXPECT_FALSE(has(design::Stage::Polished, feature));
        EXPECT_TRUE(has(design::Stage::Sized, feature));
    }
}

TEST(Stages, ShowATubeOnceItIsJoinedAndAStoneOnceItIsSet) {
    design::Design design;
    design.settings = {design::Setting{}};
    const auto counts = [&](design::Stage stage) {
        std::size_t tubes = 0, stones = 0;
        for (const Part& part : buildParts(design, stage, kCoarser)) {
            tubes += part.role == PartRole::Tube ? 1U : 0U;
            stones += part.role == PartRole::Stone ? 1U : 0U;
        }
        return std::pair(tubes, stones);
    };
    using Counts = std::pair<std::size_t, std::size_t>;
    EXPECT_EQ(counts(design::Stage::Sized), Counts(0, 0));
    EXPECT_EQ(counts(design::Stage::Joined), Counts(1, 0));
    EXPECT_EQ(counts(design::Stage::Set), Counts(1, 1));
    // A stone set in its tube on the bench comes with the tube.
    design.route = design::movedBefore(design.route, design::Stage::Closed, design::Stage::Joined);
    EXPECT_EQ(counts(design::Stage::Closed), Counts(0, 0));
    EXPECT_EQ(counts(design::Stage::Joined), Counts(1, 1));
    design.settings[0].tube.reset();
    EXPECT_EQ(counts(design::Stage::Set), Counts(0, 1));
}

}  // namespace
}  // namespace bandwright::geometry
