// Volumes, areas, centroids and moments of whole bodies and of their sections.

#include "geometry/solid.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "arithmetic.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "hole_cut.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"
#include "section_checks.hpp"

namespace bandwright::geometry {
namespace {

double square(double x) {
    return x * x;
}

Section tube(double bore, double outside, double low, double high) {
    return {{line({low, bore}, {high, bore}, {Feature::Bore}),
             line({high, bore}, {high, outside}, {Feature::EdgeFace, Side::Right}),
             line({high, outside}, {low, outside}, {Feature::Outside}),
             line({low, outside}, {low, bore}, {Feature::EdgeFace, Side::Left})}};
}

void expectSame(const SolidProperties& a, const SolidProperties& b, double share) {
    const double length = std::sqrt((a.xx + a.yy + a.zz) / a.volume);
    EXPECT_NEAR(a.volume, b.volume, share * a.volume);
    EXPECT_NEAR(a.area, b.area, share * a.area);
    const auto near = [&](double ours, double theirs, double size) {
        EXPECT_NEAR(ours, theirs, share * a.volume * size);
    };
    near(a.first.x, b.first.x, length);
    near(a.first.y, b.first.y, length);
    near(a.first.z, b.first.z, length);
    near(a.xx, b.xx, square(length));
    near(a.yy, b.yy, square(length));
    near(a.zz, b.zz, square(length));
    near(a.xy, b.xy, square(length));
    near(a.yz, b.yz, square(length));
    near(a.zx, b.zx, square(length));
}

// Handbook formulas of homogeneous bodies (mass, centroid, mass moments of inertia): e.g. Dubbel, Taschenbuch
// fuer den Maschinenbau, B: hollow cylinder, torus, cuboid, half ellipsoid. From memory.

TEST(Solid, OfATorusIsTheHandbooks) {
    const double big = 9.7;
    const double small = 1.3;
    const SolidProperties torus = turnedSolid(disc({2.5, big}, small));
    const double volume = 2 * square(kPi) * big * square(small);
    EXPECT_NEAR(torus.volume, volume, 1e-12 * volume);
    EXPECT_NEAR(torus.area, 4 * square(kPi) * big * small, 1e-10);
    EXPECT_NEAR(torus.centroid().z, 2.5, 1e-12);
    const Inertia spin = inertia(torus);
    EXPECT_NEAR(spin.zz, volume * (square(big) + 0.75 * square(small)), 1e-8);
    EXPECT_NEAR(spin.xx, volume * (square(big) / 2 + 0.625 * square(small)), 1e-8);
    EXPECT_NEAR(spin.yy, spin.xx, 1e-9);
}

TEST(Solid, OfAHollowCylinderIsTheHandbooks) {
    const SolidProperties body = turnedSolid(tube(8.5, 10.4, -1, 6));
    const double volume = kPi * (square(10.4) - square(8.5)) * 7;
    EXPECT_NEAR(body.volume, volume, 1e-10);
    const Inertia spin = inertia(body);
    EXPECT_NEAR(spin.zz, volume / 2 * (square(10.4) + square(8.5)), 1e-7);
    EXPECT_NEAR(spin.xx, volume / 12 * (3 * (square(10.4) + square(8.5)) + 49), 1e-7);
    EXPECT_NEAR(body.centroid().z, 2.5, 1e-12);
}

TEST(Solid, MovedObeysTheParallelAxes) {
    const SolidProperties body = turnedSolid(tube(1, 2, -1, 2));
    const double c = std::cos(0.7);
    const double s = std::sin(0.7);
    const std::array<Vec3, 3> axes = {Vec3{c, s, 0}, {0, 0, 1}, {s, -c, 0}};
    const Vec3 origin{3, -4, 5};
    const SolidProperties moved = placed(body, axes, origin);
    EXPECT_DOUBLE_EQ(moved.volume, body.volume);
    const Vec3 wanted = origin + body.centroid().z * axes[2];
    EXPECT_LT(distance(moved.centroid(), wanted), 1e-12);
    // About its own centroid the axis keeps its moment; the trace does not change with the frame.
    const Inertia before = inertia(body);
    const Inertia after = inertia(moved);
    const Vec3 w = axes[2];
    const double aboutAxis = w.x * w.x * after.xx + w.y * w.y * after.yy + w.z * w.z * after.zz -
                             2 * (w.x * w.y * after.xy + w.y * w.z * after.yz + w.z * w.x * after.zx);
    EXPECT_NEAR(aboutAxis, before.zz, 1e-10);
    EXPECT_NEAR(after.xx + after.yy + after.zz, before.xx + before.yy + before.zz, 1e-10);
}

TEST(Solid, OfABoxOfTrianglesIsTheHandbooks) {
    design::Stone stone;
    stone.cut = design::StoneCut::StepSquare;
    // Any convex stone will do to tell the two ways apart: its tetrahedra on two origins.
    const Mesh mesh = stoneMesh(stone);
    Mesh moved = mesh;
    for (Vec3& p : moved.points)
        p = p + Vec3{5, 6, 7};
    const std::array<Vec3, 3> same = {Vec3{1, 0, 0}, {0, 1, 0}, {0, 0, 1}};
    expectSame(meshSolid(moved), placed(meshSolid(mesh), same, {5, 6, 7}), 1e-12);
    EXPECT_NEAR(meshSolid(mesh).volume, volume(mesh), 1e-12);

    Mesh box;
    for (int i = 0; i < 8; ++i)
        box.points.push_back({i & 1 ? 3.0 : 0.0, i & 2 ? 4.0 : 0.0, i & 4 ? 5.0 : 0.0});
    box.pointOf = {0, 1, 2, 3, 4, 5, 6, 7};
    box.triangles = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6}, {0, 1, 4}, {1, 5, 4},
                     {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    const SolidProperties solid = meshSolid(box);
    EXPECT_NEAR(solid.volume, 60, 1e-12);
    EXPECT_NEAR(solid.area, 94, 1e-12);
    EXPECT_LT(distance(solid.centroid(), {1.5, 2, 2.5}), 1e-12);
    EXPECT_NEAR(inertia(solid).xx, 60 / 12.0 * (16 + 25), 1e-9);
    EXPECT_NEAR(inertia(solid).yy, 60 / 12.0 * (9 + 25), 1e-9);
    EXPECT_NEAR(inertia(solid).xy, 0, 1e-9);
}

TEST(Solid, OfACabochonIsHalfAnEllipsoidOnAWall) {
    design::Stone stone;
    stone.cut = design::StoneCut::Cabochon;
    stone.diameter = 4;
    stone.length = 0;
    stone.dome = 50;
    stone.girdle = 0;
    const SolidProperties half = stoneSolid(stone);
    EXPECT_NEAR(half.volume, 2.0 / 3 * kPi * 8, 1e-12);
    EXPECT_NEAR(half.area, 3 * kPi * 4, 1e-9) << "a hemisphere and its base";
    EXPECT_NEAR(half.centroid().z, 3.0 / 8 * 2, 1e-12);
    EXPECT_NEAR(inertia(half).zz, half.volume * 2.0 / 5 * 4, 1e-10);
    // A prolate spheroid's half, its long axis lying: 2 pi b b (1 + a / (b e) asin e) / 2.
    stone.length = 6;
    const double e = std::sqrt(1 - 4.0 / 9);
    EXPECT_NEAR(stoneSolid(stone).area, kPi * 4 * (1 + 3 / (2 * e) * std::asin(e)) + kPi * 6, 1e-9);
    stone.girdle = 7;
    stone.dome = 30;
    expectSame(stoneSolid(stone), meshSolid(stoneMesh(stone, base::Micrometres(0.01))), 2e-5);
}

TEST(Solid, OfEveryPartIsThatOfItsMesh) {
    const std::uint64_t designs = designsToDraw(1500) / 5;
    std::size_t compared = 0;
    for (std::uint64_t seed = 0; seed < designs; ++seed) {
        const design::Design design = randomDesign(seed);
        const auto made = apartPartsOf(design, design::Stage::Finished, {base::Micrometres(4)});
        if (!made) continue;
        const std::vector<Part>& parts = *made;
        SCOPED_TRACE(seed);
        const std::vector<SolidPart> all = bodies(design);
        ASSERT_EQ(all.size(), parts.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            SCOPED_TRACE(name(parts[i]));
            EXPECT_EQ(all[i].part.role, parts[i].role);
            EXPECT_EQ(all[i].part.number, parts[i].number);
            EXPECT_EQ(all[i].part.material, parts[i].material);
            EXPECT_EQ(all[i].part.source, parts[i].source);
            // A mesh whose faces stand off by the tolerance can be off by it over all its area.
            const SolidProperties meshed = meshSolid(parts[i].mesh);
            const double thin = 0.004 * meshed.area / meshed.volume;
            expectSame(meshed, all[i].solid, std::max(2e-3, thin));
            ++compared;
        }
    }
    EXPECT_GT(compared, designs / 2);
}

TEST(Solid, OfHolesEvenlyRoundTheBandHasItsCentroidOnTheAxis) {
    design::Design design;
    design.settings = {design::Setting{}};
    design.settings[0].placement.count = 5;
    const auto total = [&] {
        SolidProperties sum;
        for (const SolidPart& body : bodies(design))
            sum += body.solid;
        return sum;
    };
    EXPECT_LT(std::hypot(total().centroid().x, total().centroid().y), 1e-12);
    design.settings[0].placement.count = 1;
    const SolidProperties band = bodies(design).front().solid;
    EXPECT_LT(band.centroid().x, -1e-3) << "away from the hole, which stands at 0 degrees";
    EXPECT_NEAR(band.centroid().y, 0, 1e-12);
}

/// Half the width of a round hole, `radius`, in the half-plane at `angle`, at a distance r.
double halfWidth(double radius, double angle, double r) {
    return std::sqrt(std::max(0.0, square(radius) - square(r * std::sin(angle))));
}

TEST(SectionAtAnAngle, LosesTheEllipseOfARoundHole) {
    design::Design design;
    design.band.outside.shape = design::OutsideShape::Flat;
    design.band.left.shape = design.band.right.shape = design::EdgeShape::Sharp;
    design.band.bore = {design::BoreShape::Straight, 0, 0, 0};
    design::Setting setting;
    setting.tube.reset();
    setting.stone.reset();
    setting.hole = {.pilotDiameter = 3, .steps = {}};
    design.settings = {setting};
    const Section plain = sections(design).band;
    const double bore = design::boreRadius(design);
    const double outside = design::outsideRadius(design);
    // The integral of 2 sqrt(a a - r r s s) in r.
    const auto under = [](double a, double s, double r) {
        const double x = std::min(1.0, r * s / a);
        return square(a) / s * (x * std::sqrt(1 - square(x)) + std::asin(x));
    };
    for (const double angle : {-0.16, 0.01, 0.05, 0.1, 0.13, 0.14, 0.15, 0.2}) {
        SCOPED_TRACE(angle);
        const double s = std::abs(std::sin(angle));
        const double removed = under(1.5, s, outside) - under(1.5, s, bore);
        const Section left = drilledAt(plain, design, angle);
        EXPECT_NEAR(properties(plain).area - properties(left).area, removed, 1e-6);
        if (halfWidth(1.5, angle, bore) > 0 && halfWidth(1.5, angle, outside) == 0) {
            EXPECT_EQ(left.size(), 1U) << "the hole closes below the outside";
        }
    }
    EXPECT_NEAR(properties(drilledAt(plain, design, 0)).area, properties(drilled(plain, design, 0)).area,
                1e-12);
}

TEST(SectionAtAnAngle, TurnedThroughTheHoleSweepsTheVolumeItTakes) {
    design::Design design;
    design::Setting setting;
    setting.hole.steps = {{3.2, 1.4, 12}};
    setting.hole.countersink = 0.3;
    design.settings = {setting};
    const Section plain = sections(design).band;
    const double removed = -changeByHole(plain, settingHole(design, 0)).volume;
    // Simpson's rule over the angle; what is left of the section at each, turned by a little.
    constexpr int kSteps = 600;
    const double most = 0.25;
    double sum = 0;
    for (int i = 0; i <= kSteps; ++i) {
        const double weight = i == 0 || i == kSteps ? 1 : i % 2 == 1 ? 4 : 2;
        const Section taken = intersect(plain, outlineAt(settingHole(design, 0), most * i / kSteps));
        const SectionProperties p = properties(taken);
        sum += weight * p.area * p.centroid.r;
    }
    sum *= 2 * most / kSteps / 3;
    EXPECT_NEAR(sum, removed, 2e-4 * removed);
}

TEST(SectionAtAnAngle, HasTheHandbooksProductMoment) {
    // A right triangle, b along z and h along r: b b h h / 72 with this sign. Roark, Formulas for Stress and
    // Strain, table A.1; from memory.
    const Section triangle = {{line({0, 5}, {3, 5}, {}), line({3, 5}, {0, 9}, {}), line({0, 9}, {0, 5}, {})}};
    EXPECT_NEAR(properties(triangle).productMoment, -9.0 * 16 / 72, 1e-12);
    EXPECT_NEAR(properties(triangle).secondMomentZ, 3.0 * 64 / 36, 1e-12);
}

}  // namespace
}  // namespace bandwright::geometry
