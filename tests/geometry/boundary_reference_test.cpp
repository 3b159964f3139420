// OpenCASCADE as the other kernel: it makes solids from the boundaries' values, finds them valid and closed,
// and integrates their volumes.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <string>

#include "base/input_error.hpp"
#include "boundary_checks.hpp"
#include "design/design_file.hpp"
#include "geometry/ring.hpp"
#include "occt_boundary.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

design::Design sample(const std::string& name) {
    return design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
}

struct Tally {
    std::size_t plain = 0, drilled = 0;
    double worstPlain = 0, worstDrilled = 0;
};

void expectSolid(const Boundary& body, const SolidPart& wanted, Tally& tally) {
    SCOPED_TRACE(name(body.part));
    const TopoDS_Shape solid = reference::solidOf(body);
    EXPECT_TRUE(reference::isSound(solid));
    const double volume = reference::exactVolume(solid);
    const double ours = wanted.solid.volume;
    const bool drilled = std::ranges::any_of(
        body.edges, [](const BoundaryEdge& edge) { return edge.curve.kind == CurveKind::Intersection; });
    if (!drilled) {
        EXPECT_NEAR(volume, ours, 1e-11 * ours);
        ++tally.plain;
        tally.worstPlain = std::max(tally.worstPlain, std::abs(volume / ours - 1));
        return;
    }
    // Two integrals over the same solid differ only by the splines. The third, over the section, is coarser
    // where a hole almost touches a side, and its holes are not enlarged.
    const double round = enclosed(body).volume;
    EXPECT_NEAR(volume, round, 5e-9 * round);
    EXPECT_NEAR(volume, ours, 1e-6 * ours + body.larger * wanted.solid.area);
    ++tally.drilled;
    tally.worstDrilled = std::max(tally.worstDrilled, std::abs(volume / round - 1));
}

void expectSolids(const design::Design& design, design::Stage stage, Tally& tally) {
    SCOPED_TRACE(design::name(stage));
    const std::vector<Boundary> found = boundaries(design, stage);
    const std::vector<SolidPart> wanted = bodies(design, stage);
    for (std::size_t i = 0; i < found.size(); ++i) {
        const Part& part = found[i].part;
        // Tubes and stones of one setting are all the same.
        const bool again =
            i > 0 && part.role == found[i - 1].part.role && part.source == found[i - 1].part.source;
        if (again) continue;
        expectSolid(found[i], wanted[i], tally);
    }
}

class SampleBoundaries : public testing::TestWithParam<std::string> {};

TEST_P(SampleBoundaries, AreSolidsOfTheSameVolume) {
    Tally tally;
    expectSolids(sample(GetParam()), design::Stage::Finished, tally);
    EXPECT_GT(tally.plain + tally.drilled, 0U);
}
INSTANTIATE_TEST_SUITE_P(Of, SampleBoundaries,
                         testing::Values("anvil-road", "first-frost", "harbour", "lantern", "night-ferry",
                                         "orchard-gate", "seven-lamps", "shallows", "tide-mill"),
                         [](const auto& sample) {
                             std::string word = sample.param;
                             std::erase(word, '-');
                             return word;
                         });

TEST(BoundarySolids, AtEveryStageOfTwoSamplesHaveTheSameVolume) {
    Tally tally;
    for (const char* ring : {"harbour", "night-ferry"}) {
        SCOPED_TRACE(ring);
        const design::Design design = sample(ring);
        for (const design::Stage stage : design.route)
            expectSolids(design, stage, tally);
    }
    EXPECT_GT(tally.drilled, 4U);
}

TEST(BoundarySolids, OfDesignsDrawnByLotHaveTheSameVolume) {
    Tally tally;
    const std::uint64_t count = designsToDraw(20);
    for (std::uint64_t seed = 0; seed < count; ++seed) {
        SCOPED_TRACE(seed);
        const design::Design design = randomDesign(seed);
        if (design.settings.empty()) continue;  // without holes it is easy
        try {
            boundaries(design);
        } catch (const base::InputError&) {
            continue;
        }
        expectSolids(design, design::Stage::Finished, tally);
    }
    EXPECT_GT(8 * tally.drilled, count);
    std::cout << tally.plain << " plain to " << tally.worstPlain << ", " << tally.drilled << " drilled to "
              << tally.worstDrilled << '\n';
}

}  // namespace
}  // namespace bandwright::geometry
