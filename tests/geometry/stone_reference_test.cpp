// CGAL's intersections of the same half-spaces, in exact arithmetic, as the reference.

#include <CGAL/Convex_hull_3/dual/halfspace_intersection_3.h>
#include <CGAL/Exact_rational.h>
#include <CGAL/Polyhedron_3.h>
#include <CGAL/Simple_cartesian.h>
#include <gtest/gtest.h>

#include "base/input_error.hpp"
#include "stones.hpp"

namespace bandwright::geometry {
namespace {

/// CGAL's intersection of half-spaces in exact arithmetic.
double cgalVolume(const std::vector<Plane>& planes) {
    using Exact = CGAL::Simple_cartesian<CGAL::Exact_rational>;
    std::vector<Exact::Plane_3> exact;
    for (const Plane& p : planes)
        exact.emplace_back(p.normal.x, p.normal.y, p.normal.z, -p.offset);
    CGAL::Polyhedron_3<Exact> solid;
    const Exact::Point_3 inside(0, 0, 1e-3);  // the origin may lie on a flat base
    CGAL::halfspace_intersection_3(exact.begin(), exact.end(), solid, inside);
    Exact::FT sixfold = 0;
    const auto spoke = [](auto halfedge) { return halfedge->vertex()->point() - CGAL::ORIGIN; };
    for (auto facet = solid.facets_begin(); facet != solid.facets_end(); ++facet) {
        const auto first = facet->halfedge();
        for (auto h = first->next(); h->next() != first; h = h->next()) {
            sixfold += CGAL::determinant(spoke(first), spoke(h), spoke(h->next()));
        }
    }
    return CGAL::to_double(sixfold) / 6;
}

TEST(Stones, HaveTheVolumeThatCgalFindsInExactArithmetic) {
    for (const design::StoneCut cut : kFaceted) {
        const design::Stone stone = usual(cut);
        EXPECT_NEAR(volume(stone) / cgalVolume(facets(stone)), 1, 1e-12) << static_cast<int>(cut);
    }
}

TEST(Stones, OfAnyProportionsHaveTheVolumeThatCgalFinds) {
    int compared = 0;
    for (std::uint32_t seed = 0; seed < 3000; seed += 200) {
        const design::Stone stone = anyStone(seed);
        Mesh mesh;
        try {
            mesh = stoneMesh(stone);
        } catch (const base::InputError&) {
            continue;  // stone_test holds the sentence
        }
        ASSERT_NEAR(volume(mesh) / cgalVolume(facets(stone)), 1, 1e-9) << seed;
        ++compared;
    }
    EXPECT_GT(compared, 5);
}

}  // namespace
}  // namespace bandwright::geometry
