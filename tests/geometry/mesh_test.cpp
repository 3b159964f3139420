#include "geometry/mesh.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bandwright::geometry {
namespace {

/// One vertex a point.
Mesh meshOf(std::vector<Vec3> points, std::vector<std::array<std::uint32_t, 3>> triangles) {
    Mesh mesh;
    mesh.points = std::move(points);
    mesh.triangles = std::move(triangles);
    for (std::uint32_t i = 0; i < mesh.points.size(); ++i)
        mesh.pointOf.push_back(i);
    mesh.normals.resize(mesh.points.size());
    return mesh;
}

Mesh box(Vec3 least, Vec3 most) {
    std::vector<Vec3> points;
    for (const double z : {least.z, most.z}) {
        for (const double y : {least.y, most.y}) {
            for (const double x : {least.x, most.x})
                points.push_back({x, y, z});
        }
    }
    return meshOf(points, {{0, 2, 1},
                           {1, 2, 3},
                           {4, 5, 6},
                           {5, 7, 6},
                           {0, 1, 4},
                           {1, 5, 4},
                           {2, 6, 3},
                           {3, 6, 7},
                           {0, 4, 2},
                           {2, 4, 6},
                           {1, 3, 5},
                           {3, 7, 5}});
}

/// Around the z axis; `across` chords round the tube and `round` round the ring.
Mesh torus(double ring, double tube, std::uint32_t round, std::uint32_t across) {
    std::vector<Vec3> points;
    for (std::uint32_t i = 0; i < round; ++i) {
        const double u = 2 * std::numbers::pi * i / round;
        for (std::uint32_t j = 0; j < across; ++j) {
            const double v = 2 * std::numbers::pi * j / across;
            const double r = ring + tube * std::cos(v);
            points.push_back({r * std::cos(u), r * std::sin(u), tube * std::sin(v)});
        }
    }
    std::vector<std::array<std::uint32_t, 3>> triangles;
    for (std::uint32_t i = 0; i < round; ++i) {
        for (std::uint32_t j = 0; j < across; ++j) {
            const std::uint32_t a = i * across + j;
            const std::uint32_t b = (i + 1) % round * across + j;
            const std::uint32_t c = (i + 1) % round * across + (j + 1) % across;
            const std::uint32_t d = i * across + (j + 1) % across;
            triangles.push_back({a, b, c});
            triangles.push_back({a, c, d});
        }
    }
    return meshOf(points, triangles);
}

Mesh joined(const Mesh& a, const Mesh& b) {
    Mesh result = a;
    const auto shift = static_cast<std::uint32_t>(a.points.size());
    result.points.insert(result.points.end(), b.points.begin(), b.points.end());
    for (const auto& t : b.triangles)
        result.triangles.push_back({t[0] + shift, t[1] + shift, t[2] + shift});
    for (const std::uint32_t p : b.pointOf)
        result.pointOf.push_back(p + shift);
    return result;
}

/// Makes one point stand for another, and leaves the other without a triangle.
void replacePoint(Mesh& mesh, std::uint32_t from, std::uint32_t to) {
    for (std::uint32_t& point : mesh.pointOf) {
        if (point == from) point = to;
    }
}

TEST(Mesh, ABoxHasTheVolumeAndAreaOfABox) {
    const Mesh mesh = box({1, 2, 3}, {3, 5, 8});
    EXPECT_DOUBLE_EQ(volume(mesh), 2 * 3 * 5);
    EXPECT_DOUBLE_EQ(area(mesh), 2 * (2 * 3 + 3 * 5 + 5 * 2));
    EXPECT_EQ(eulerCharacteristic(mesh), 2);
    EXPECT_EQ(defects(mesh), MeshDefects{});
}

TEST(Mesh, ATorusHasTheVolumeAndAreaThatPappusGives) {
    // R 7, r 3: V 2 pi^2 R r^2 = 1243.570, A 4 pi^2 R r = 829.047 (boneyardtools.com, Pappus).
    const Mesh coarse = torus(7, 3, 60, 40);
    const Mesh fine = torus(7, 3, 120, 80);
    EXPECT_EQ(defects(fine), MeshDefects{});
    EXPECT_EQ(eulerCharacteristic(fine), 0);
    EXPECT_NEAR(volume(fine), 1243.570, 3);
    EXPECT_NEAR(area(fine), 829.047, 1);
    // Second order in the chord: half the chord, a quarter of the error.
    EXPECT_NEAR((1243.570 - volume(coarse)) / (1243.570 - volume(fine)), 4, 0.05);
    EXPECT_NEAR((829.047 - area(coarse)) / (829.047 - area(fine)), 4, 0.1);
}

TEST(Mesh, EachShellCountsTwoAndEachHandleTakesTwo) {
    const Mesh twoBoxes = joined(box({0, 0, 0}, {1, 1, 1}), box({2, 0, 0}, {3, 1, 1}));
    EXPECT_EQ(eulerCharacteristic(twoBoxes), 4);
    EXPECT_EQ(eulerCharacteristic(joined(twoBoxes, torus(7, 3, 8, 8))), 4);
    EXPECT_EQ(defects(twoBoxes), MeshDefects{});
}

TEST(Mesh, AMirroredMeshHasNegativeVolumeAndTheSameArea) {
    Mesh mesh = torus(7, 3, 30, 20);
    const double before = volume(mesh);
    const double areaBefore = area(mesh);
    for (Vec3& p : mesh.points)
        p.x = -p.x;
    EXPECT_NEAR(volume(mesh), -before, 1e-9);
    EXPECT_NEAR(area(mesh), areaBefore, 1e-9);
    EXPECT_EQ(defects(mesh), MeshDefects{});
}

TEST(Mesh, VolumeGrowsWithTheCubeOfTheSizeAndDoesNotDependOnThePlace) {
    Mesh mesh = torus(7, 3, 30, 20);
    const double before = volume(mesh);
    for (Vec3& p : mesh.points)
        p = 3.0 * p + Vec3{100, -50, 20};
    EXPECT_NEAR(volume(mesh), 27 * before, 1e-6);
}

TEST(Mesh, AMissingTriangleLeavesThreeOpenEdgesAndItsPointsOneFanEach) {
    Mesh mesh = box({0, 0, 0}, {1, 1, 1});
    mesh.triangles.pop_back();
    EXPECT_EQ(defects(mesh), (MeshDefects{.openEdges = 3}));
    EXPECT_EQ(eulerCharacteristic(mesh), 1);
}

TEST(Mesh, ATriangleTurnedOverIsFoundByItsThreeEdges) {
    Mesh mesh = box({0, 0, 0}, {1, 1, 1});
    std::swap(mesh.triangles[5][0], mesh.triangles[5][1]);
    EXPECT_EQ(defects(mesh).openEdges, 3U);
}

TEST(Mesh, TwoBoxesThatShareAPointAreSplitThere) {
    Mesh mesh = joined(box({0, 0, 0}, {1, 1, 1}), box({1, 1, 1}, {2, 2, 2}));
    replacePoint(mesh, 8, 7);
    EXPECT_EQ(defects(mesh), (MeshDefects{.splitPoints = 1}));
}

TEST(Mesh, AnEdgeOfFourTrianglesIsOpen) {
    Mesh mesh = joined(box({0, 0, 0}, {1, 1, 1}), box({1, 1, 0}, {2, 2, 1}));
    replacePoint(mesh, 8, 3);
    replacePoint(mesh, 12, 7);
    EXPECT_EQ(defects(mesh), (MeshDefects{.openEdges = 1, .splitPoints = 2}));
}

TEST(Mesh, TrianglesWithoutAreaAreFoundByPointAndByPlace) {
    Mesh twice = box({0, 0, 0}, {1, 1, 1});
    twice.triangles.push_back({0, 0, 1});
    EXPECT_EQ(defects(twice), (MeshDefects{.degenerateTriangles = 1}));
    const Mesh flat = box({0, 0, 0}, {1, 1, 0});
    EXPECT_EQ(defects(flat), (MeshDefects{.degenerateTriangles = 8}));
    Mesh far = box({0, 0, 0}, {1, 1, 1});
    far.points[0].x = NAN;
    EXPECT_GT(defects(far).degenerateTriangles, 0U);
}

TEST(Mesh, AnEmptyMeshHasNothingWrongAndNothingInIt) {
    EXPECT_EQ(defects({}), MeshDefects{});
    EXPECT_EQ(eulerCharacteristic(Mesh{}), 0);
    EXPECT_EQ(volume(Mesh{}), 0);
    EXPECT_EQ(area({}), 0);
}

}  // namespace
}  // namespace bandwright::geometry
