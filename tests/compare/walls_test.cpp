#include "compare/walls.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>

#include "base/input_error.hpp"
#include "geometry/boundary.hpp"
#include "moved_body.hpp"
#include "random_design.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::compare {
namespace {

using geometry::Vec3;

constexpr base::Micrometres kBodyChord{5};

struct Compared {
    check::Report report;
    BodyWalls walls;
};

Compared wallsOf(const design::Design& design, const geometry::Triangles& body) {
    Compared result;
    result.report = check::check(design, trade::builtInCatalogue(),
                                 {.remedies = false, .stage = design::Stage::Finished});
    result.walls = bodyWalls(deviation(bandOf(design), body, {}, {}), body, result.report);
    return result;
}

/// The exact walls of the design are those of a body made from it, but for the chords of its triangles; none
/// is told thicker.
TEST(BodyWalls, AreThoseOfTheDesignTheBodyIsMadeFrom) {
    const std::uint64_t most = geometry::designsToDraw(3);
    std::uint64_t drawn = 0;
    std::size_t judged = 0, same = 0;
    for (std::uint64_t seed = 40; drawn < most; ++seed) {
        const design::Design design = geometry::randomDesign(seed);
        geometry::Mesh mesh;
        try {
            geometry::requireBuildable(design);
            geometry::boundaries(design);
            mesh = geometry::buildParts(design, design::Stage::Finished, {kBodyChord})[0].mesh;
        } catch (const base::InputError&) {
            continue;
        }
        SCOPED_TRACE(seed);
        ++drawn;
        const Compared found = wallsOf(design, plain(mesh));
        for (const JudgedWall& one : found.walls.judged) {
            const check::Finding& finding = found.report.findings[one.finding];
            const check::Measure& measure = found.report.measures[finding.measure];
            ++judged;
            EXPECT_LT(one.wall.thickness, measure.value + 2 * kBodyChord.mm())
                << finding.rule << " " << measure.id;
            same += one.wall.thickness > measure.value - 2 * kBodyChord.mm() ? 1 : 0;
        }
    }
    EXPECT_GT(judged, 2 * drawn);
    // Between the same two features there may be a shorter way that the rule leaves aside, as beside a hole.
    EXPECT_GE(10 * same, 9 * judged);
}

TEST(BodyWalls, AreThinnerUnderADent) {
    const design::Design design;
    const geometry::Mesh mesh = geometry::buildParts(design, design::Stage::Finished, {kBodyChord})[0].mesh;
    geometry::Triangles body = plain(mesh);
    const auto thinnest = [&](const Compared& found) {
        const auto at = std::ranges::find_if(found.walls.judged, [&](const JudgedWall& one) {
            return found.report.findings[one.finding].rule == "thinnest-wall";
        });
        return at == found.walls.judged.end() ? JudgedWall{} : *at;
    };
    const JudgedWall before = thinnest(wallsOf(design, body));
    ASSERT_GT(before.wall.thickness, 0);
    // Deep enough that the metal left is less than any rule allows.
    const double depth = before.wall.thickness - 0.1;
    double most = 0;
    for (const Vec3& p : body.points)
        most = std::max(most, std::hypot(p.x, p.y));
    for (Vec3& p : body.points) {
        const double r = std::hypot(p.x, p.y);
        if (r < most - 0.5 || std::abs(std::atan2(p.y, p.x)) > 0.2) continue;
        p = {p.x * (r - depth) / r, p.y * (r - depth) / r, p.z};
    }
    const JudgedWall after = thinnest(wallsOf(design, body));
    EXPECT_EQ(after.verdict, check::Verdict::NoGo);
    // The dent ends in a rim.
    EXPECT_NEAR(after.wall.thickness, 0.1, 0.02);
}

}  // namespace
}  // namespace bandwright::compare
