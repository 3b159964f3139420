// CGAL (GPL, so in tests only) as the judge of what two meshes do to themselves and to each other.

#include <CGAL/AABB_face_graph_triangle_primitive.h>
#include <CGAL/AABB_traits.h>
#include <CGAL/AABB_tree.h>
#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/self_intersections.h>
#include <CGAL/Side_of_triangle_mesh.h>
#include <CGAL/Surface_mesh.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;
using Tree = CGAL::AABB_tree<CGAL::AABB_traits<Kernel, CGAL::AABB_face_graph_triangle_primitive<Surface>>>;

Kernel::Point_3 asPoint(const Vec3& p) {
    return {p.x, p.y, p.z};
}

Surface asSurface(const Mesh& mesh) {
    Surface surface;
    std::vector<Surface::Vertex_index> at;
    for (const Vec3& p : mesh.points)
        at.push_back(surface.add_vertex(asPoint(p)));
    for (const auto& t : mesh.triangles) {
        const auto face =
            surface.add_face(at[mesh.pointOf[t[0]]], at[mesh.pointOf[t[1]]], at[mesh.pointOf[t[2]]]);
        EXPECT_NE(face, Surface::null_face());
    }
    return surface;
}

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

/// The surface's own direction over a triangle: the mean of its corners' normals.
Vec3 direction(const Mesh& mesh, std::size_t triangle) {
    Vec3 sum;
    for (const std::uint32_t vertex : mesh.triangles[triangle]) {
        const auto& n = mesh.normals[vertex];
        sum = sum + Vec3{n[0], n[1], n[2]};
    }
    return (1 / length(sum)) * sum;
}

/// Two surfaces closer together than the tolerance of their chords may cross: along a feather edge, and where
/// almost nothing is left between two cuts. Such surfaces face opposite ways; any other crossing is a flaw.
TEST_P(CgalJudges, ThatNoMeshRunsThroughItselfButInAFeatherEdge) {
    std::size_t bodies = 0;
    std::size_t feathers = 0;
    forRings(300, {base::Micrometres(20)}, [&](const std::vector<Part>& parts) {
        for (const Part& part : parts) {
            if (part.role != PartRole::Band && part.role != PartRole::Fill) break;
            const Surface surface = asSurface(part.mesh);
            std::vector<std::pair<Surface::Face_index, Surface::Face_index>> crossings;
            CGAL::Polygon_mesh_processing::self_intersections(surface, std::back_inserter(crossings));
            ++bodies;
            if (!crossings.empty()) ++feathers;
            for (const auto& [f, g] : crossings)
                EXPECT_LT(dot(direction(part.mesh, f), direction(part.mesh, g)), -0.5) << name(part);
        }
    });
    EXPECT_LE(feathers, 1 + bodies / 50);
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
