// What is left of a mesh when another is taken out of it, against CGAL's Boolean operations (GPL, so in tests
// only), which work with exact numbers where ours round the corners first.

#include "difference.hpp"

#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/measure.h>
#include <gtest/gtest.h>

#include <cmath>
#include <optional>
#include <random>

#include "cgal_surface.hpp"
#include "geometry/ring.hpp"
#include "hole_body.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"
#include "revolve.hpp"

namespace bandwright::geometry {
namespace {

namespace cgal = CGAL::Polygon_mesh_processing;

double volumeOf(const Surface& surface) {
    return CGAL::to_double(cgal::volume(surface));
}

/// The plain band without each of its holes in turn, as CGAL and as we cut them.
void expectSameCuts(const design::Design& design, int& cuts) {
    constexpr double kSagitta = 0.05;
    Mesh ours = revolved(sections(design).band, {}, kSagitta);
    Surface theirs = asSurface(ours);
    for (const PlacedHoles& row : placedHoles(design)) {
        for (const double angle : row.angles) {
            const Mesh hole = holeBody(row.profile, angle, kSagitta, 0.3);
            Surface taken = asSurface(hole), left;
            std::optional<Mesh> cut = difference(ours, hole);
            if (!cut || !cgal::corefine_and_compute_difference(theirs, taken, left)) return;
            EXPECT_EQ(defects(*cut), MeshDefects{});
            const double wanted = volumeOf(left);
            EXPECT_NEAR(volume(*cut), wanted, 1e-9 * wanted);
            ours = *std::move(cut);
            theirs = std::move(left);
            ++cuts;
        }
    }
}

TEST(Difference, OfRandomRingsAndTheirHolesIsThatOfCgal) {
    int cuts = 0, holes = 0;
    for (std::uint64_t seed = 0; seed < designsToDraw(20); ++seed) {
        SCOPED_TRACE(seed);
        const design::Design design = randomDesign(seed);
        if (!partsOf(design, design::Stage::Blank)) continue;
        for (const PlacedHoles& row : placedHoles(design))
            holes += static_cast<int>(row.angles.size());
        expectSameCuts(design, cuts);
    }
    EXPECT_GT(cuts, 0.9 * holes);
}

/// Fifteen holes of one setting in one place, as a spacing of a whole turn has them.
TEST(Difference, IsNotSoughtForHolesInOnePlace) {
    design::Design design;
    design.settings.resize(1);
    design.settings[0].placement.count = 1;
    const double once = volume(buildParts(design).front().mesh);
    design.settings[0].placement.count = 15;
    design.settings[0].placement.spacing = -360;
    EXPECT_NEAR(volume(buildParts(design).front().mesh), once, 1e-9 * once);
}

/// One hole of one setting, then the same hole again: nothing is left to be taken.
TEST(Difference, OfWhatIsGoneAlreadyIsNothingMore) {
    design::Design design;
    design.settings.resize(1);
    const PlacedHoles row = placedHoles(design).front();
    const Mesh band = revolved(sections(design).band, {}, 0.02);
    const auto once = difference(band, holeBody(nudged(row.profile, 2), 0.5, 0.02, 0.3));
    ASSERT_TRUE(once);
    const auto twice = difference(*once, holeBody(row.profile, 0.5, 0.02, 0.3));
    ASSERT_TRUE(twice);
    EXPECT_DOUBLE_EQ(volume(*twice), volume(*once));
    EXPECT_EQ(twice->triangles.size(), once->triangles.size());
}

/// A body beside the ring takes nothing; where a point of one lies on the other, nothing is answered.
TEST(Difference, IsNotGuessed) {
    design::Design design;
    const Mesh band = revolved(sections(design).band, {}, 0.02);
    EXPECT_FALSE(difference(band, band));
    Mesh away = band;
    for (Vec3& p : away.points)
        p.z += 30;
    const auto left = difference(band, away);
    ASSERT_TRUE(left);
    EXPECT_EQ(left->triangles.size(), band.triangles.size());
}

}  // namespace
}  // namespace bandwright::geometry
