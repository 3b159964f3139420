// CGAL (GPL, so in tests only) as the judge of what two meshes do to themselves and to each other.

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Side_of_triangle_mesh.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "cgal_surface.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_face_graph_triangle_primitive<Surface>>>;

class CgalJudges : public testing::TestWithParam<std::uint64_t> {
  public:
    static constexpr std::uint64_t kShares = 4;

    static void forRings(std::uint64_t usual, const BuildOptions& options, auto&& visit) {
        for (std::uint64_t seed = GetParam(); seed < designsToDraw(usual); seed += kShares) {
            SCOPED_TRACE("seed " + std::to_string(seed));
            const design::Design design = randomDesign(seed);
            if (const auto parts = partsOf(design, design::Stage::Finished, options)) visit(*parts);
        }
    }
};

void expectNoCrossing(const std::vector<Part>& parts) {
    for (const Part& part : parts) {
        if (part.role != PartRole::Band && part.role != PartRole::Fill) break;
        EXPECT_FALSE(CGAL::Polygon_mesh_processing::does_self_intersect(asSurface(part.mesh))) << name(part);
    }
}

TEST_P(CgalJudges, ThatNoMeshRunsThroughItself) {
    forRings(120, {base::Micrometres(100)}, expectNoCrossing);
    forRings(60, {base::Micrometres(20)}, expectNoCrossing);
}

/// A blind hole about as deep as a channel, over the rounded corner of its floor: the fill ends in a feather
/// edge between the two, thinner than chords stand off.
design::Design featherRing(std::uint64_t seed) {
    std::mt19937_64 random(seed);
    const auto between = [&](double least, double most) {
        return std::uniform_real_distribution<double>(least, most)(random);
    };
    design::Design design;
    design.settings.resize(1);
    design.channels.resize(1);
    design::Channel& channel = design.channels[0];
    channel.width = between(2, 5);
    channel.depth = between(0.5, 1.2);
    channel.floorRadius = between(0.1, 0.4);
    channel.draft = seed % 2 == 0 ? 0 : between(-8, 8);
    design::Setting& setting = design.settings[0];
    setting.stone.reset();
    setting.tube.reset();
    setting.placement.offset = between(0.3, 1) * channel.width / 2;
    design::Hole& hole = setting.hole;
    hole.steps.clear();
    hole.pilotDiameter = between(0.8, 2.4);
    if (seed % 3 == 0) {
        hole.steps = {{hole.pilotDiameter + between(0.3, 1), channel.depth + between(-0.3, 0.1), 0}};
    } else {
        hole.bottom = seed % 3 == 1 ? design::HoleBottom::Flat : design::HoleBottom::Drill118;
        hole.pilotDepth = channel.depth + between(-0.3, 0.15);
    }
    return design;
}

TEST_P(CgalJudges, ThatAFeatherEdgeDoesNotRunThroughItself) {
    for (std::uint64_t seed = GetParam(); seed < designsToDraw(8); seed += kShares) {
        for (const double tolerance : {100.0, 20.0}) {
            SCOPED_TRACE(testing::Message() << "seed " << seed << " at " << tolerance << " um");
            const BuildOptions options{base::Micrometres(tolerance)};
            if (const auto parts = partsOf(featherRing(seed), design::Stage::Finished, options))
                expectNoCrossing(*parts);
        }
    }
}

TEST_P(CgalJudges, ThatFillAndBandDoNotOverlapByMoreThanTheirChords) {
    const BuildOptions options{base::Micrometres(20)};
    forRings(120, options, [&](const std::vector<Part>& parts) {
        const Surface band = asSurface(parts.front().mesh);
        Tree tree(faces(band).first, faces(band).second, band);
        const CGAL::Side_of_triangle_mesh<Surface, Kernel> side(band);
        double deepest = 0;
        for (const Part& part : parts) {
            if (part.role != PartRole::Fill) continue;
            for (const auto& t : part.mesh.triangles) {
                const Vec3 middle = (1.0 / 3) * (part.mesh.points[part.mesh.pointOf[t[0]]] +
                                                 part.mesh.points[part.mesh.pointOf[t[1]]] +
                                                 part.mesh.points[part.mesh.pointOf[t[2]]]);
                for (const Vec3& p : {part.mesh.points[part.mesh.pointOf[t[0]]], middle}) {
                    if (side(asPoint(p)) != CGAL::ON_BOUNDED_SIDE) continue;
                    deepest = std::max(deepest, std::sqrt(tree.squared_distance(asPoint(p))));
                }
            }
        }
        EXPECT_LE(deepest, 2 * options.tolerance.mm());
    });
}

INSTANTIATE_TEST_SUITE_P(Share, CgalJudges, testing::Range<std::uint64_t>(0, CgalJudges::kShares));

}  // namespace
}  // namespace bandwright::geometry
