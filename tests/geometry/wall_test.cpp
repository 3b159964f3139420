// The wall map against its definition, by brute force: a ball in the metal that touches the surface at a
// place is held against a cloud of places all over the surface. The cloud is taken from a far finer mesh.

#include "geometry/wall.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>
#include <vector>

#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

constexpr double kSpacing = 0.1;  // mm between places of the cloud
constexpr double kFine = 2;       // um, the most the cloud stands off the true surface

/// Places spread over every triangle, so that no place of the mesh is further than kSpacing from one.
std::vector<Vec3> cloud(const Mesh& mesh) {
    std::vector<Vec3> places;
    for (const auto& t : mesh.triangles) {
        const Vec3& a = mesh.points[mesh.pointOf[t[0]]];
        const Vec3& b = mesh.points[mesh.pointOf[t[1]]];
        const Vec3& c = mesh.points[mesh.pointOf[t[2]]];
        const int along = std::max(1, static_cast<int>(std::ceil(length(b - a) / kSpacing)));
        const int across = std::max(1, static_cast<int>(std::ceil(length(c - a) / kSpacing)));
        for (int i = 0; i <= along; ++i) {
            const double u = static_cast<double>(i) / along;
            for (int j = 0; j <= across; ++j) {
                const double v = static_cast<double>(j) / across;
                if (u + v <= 1 + 1e-9) places.push_back(a + u * (b - a) + v * (c - a));
            }
        }
    }
    return places;
}

/// The place of the cloud where a growing ball that touches the surface at `place`, its middle along
/// `inward`, is stopped first: the ball's radius, and the cosine of the angle under which it faces the place.
struct Met {
    double radius = std::numeric_limits<double>::infinity();
    double facing = -1;
};

Met firstMet(const std::vector<Vec3>& places, const Vec3& place, const Vec3& inward) {
    Met met;
    for (const Vec3& q : places) {
        const Vec3 w = q - place;
        const double ahead = dot(w, inward);
        if (ahead <= 1e-3) continue;  // beside the place itself the cloud's own errors count
        const double ww = dot(w, w);
        const double radius = ww / (2 * ahead);
        if (radius < met.radius) met = {radius, 2 * ahead * ahead / ww - 1};
    }
    return met;
}

struct Compared {
    std::size_t places = 0, looked = 0;
    double mostOver = 0;   ///< wall map above the cloud's, mm: the unsafe side
    double mostUnder = 0;  ///< below it
};

/// A mesh of single places within triangles of another: most corners of triangles lie on edges of the ring,
/// where a ball says nothing of the wall.
Mesh places(const Mesh& mesh, std::size_t howMany) {
    Mesh result;
    const std::size_t stride = mesh.triangles.size() / howMany + 1;
    for (const MeshFace& face : mesh.faces) {
        MeshFace here{face.tag, static_cast<std::uint32_t>(result.triangles.size()), 0};
        for (std::size_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            if (t % stride != 0) continue;
            // Somewhere else in each triangle.
            const double u = 0.1 + 0.3 * std::fmod(0.618 * static_cast<double>(t), 1);
            const double v = 0.1 + 0.3 * std::fmod(0.414 * static_cast<double>(t), 1);
            const auto mixed = [&](auto&& cornerOf) {
                const auto& corners = mesh.triangles[t];
                return (1 - u - v) * cornerOf(corners[0]) + u * cornerOf(corners[1]) +
                       v * cornerOf(corners[2]);
            };
            const Vec3 normal = mixed([&](std::uint32_t corner) {
                const auto& n = mesh.normals[corner];
                return Vec3{n[0], n[1], n[2]};
            });
            const double scale = 1 / length(normal);
            const auto vertex = static_cast<std::uint32_t>(result.points.size());
            result.points.push_back(
                mixed([&](std::uint32_t corner) { return mesh.points[mesh.pointOf[corner]]; }));
            result.pointOf.push_back(vertex);
            result.normals.push_back({static_cast<float>(scale * normal.x),
                                      static_cast<float>(scale * normal.y),
                                      static_cast<float>(scale * normal.z)});
            result.triangles.push_back({vertex, vertex, vertex});
            ++here.triangleCount;
        }
        result.faces.push_back(here);
    }
    return result;
}

/// Moves a place, such as a triangle's middle, along its normal onto the true surface.
Vec3 settled(const Vec3& place, const Vec3& normal, Tag tag, const TrueSurface& surface) {
    const double off = surface.distance(tag, place);
    const Vec3 in = place - off * normal, out = place + off * normal;
    return surface.distance(tag, in) < surface.distance(tag, out) ? in : out;
}

/// Compares only where the ball is stopped by a surface that faces the place and the cloud is dense enough.
Compared compare(const design::Design& design, std::size_t howMany) {
    Compared compared;
    Part band = buildParts(design, design::Stage::Finished, {base::Micrometres(kFine)}).front();
    const std::vector<Vec3> everywhere = cloud(band.mesh);
    band.mesh = places(band.mesh, howMany);
    const TrueSurface surface(sections(design).band, placedHoles(design));
    const auto normalAt = [&](std::uint32_t v) {
        const auto& n = band.mesh.normals[v];
        return Vec3{n[0], n[1], n[2]};
    };
    for (const MeshFace& face : band.mesh.faces) {
        for (std::uint32_t v = face.firstTriangle; v < face.firstTriangle + face.triangleCount; ++v)
            band.mesh.points[v] = settled(band.mesh.points[v], normalAt(v), face.tag, surface);
    }
    const std::vector<float> walls = wallMap(band, design);
    EXPECT_EQ(walls.size(), band.mesh.pointOf.size());
    for (const MeshFace& face : band.mesh.faces) {
        for (std::uint32_t v = face.firstTriangle; v < face.firstTriangle + face.triangleCount; ++v) {
            const Met met = firstMet(everywhere, band.mesh.points[v], -1 * normalAt(v));
            ++compared.looked;
            if (met.facing < 0.6 || met.radius < 3 * kSpacing) continue;  // 0.5 is 60 degrees
            // On a cone the way along a mixed normal may end a hair beside it.
            if (surface.distance(face.tag, band.mesh.points[v]) > 1e-8) continue;
            ++compared.places;
            compared.mostOver = std::max(compared.mostOver, walls[v] - 2 * met.radius);
            compared.mostUnder = std::max(compared.mostUnder, 2 * met.radius - walls[v]);
        }
    }
    return compared;
}

TEST(WallMap, IsTheThicknessOfAPlainTubeAwayFromItsEdges) {
    design::Design design;
    design.band.bore = {.shape = design::BoreShape::Straight, .rise = 0, .flat = 0, .ease = 0};
    design.band.left = design.band.right = {.shape = design::EdgeShape::Sharp};
    design.band.thickness = 1.8;
    const Part band = buildParts(design).front();
    const std::vector<float> walls = wallMap(band, design);
    for (const MeshFace& face : band.mesh.faces) {
        if (face.tag.feature != Feature::Outside && face.tag.feature != Feature::Bore) continue;
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t v : band.mesh.triangles[t])
                EXPECT_NEAR(walls[v], 1.8, 1e-6);
        }
    }
}

// What a person points at lies beside the true surface by up to the mesh's tolerance. The wall jumps where a
// ball passes from a surface that stands at just 120 degrees; few places lie there.
TEST(WallMap, OfOnePlaceIsThatOfTheMapThere) {
    std::size_t looked = 0, jumps = 0, rings = 0;
    for (std::uint64_t seed = 0; rings < 6; ++seed) {
        const design::Design design = randomDesign(seed);
        const auto parts = partsOf(design);
        if (!parts) continue;
        ++rings;
        const Part& band = parts->front();
        const std::vector<float> walls = wallMap(band, design);
        for (const MeshFace& face : band.mesh.faces) {
            for (std::uint32_t t = 0; t < face.triangleCount; t += 1 + face.triangleCount / 6) {
                const std::uint32_t v = band.mesh.triangles[face.firstTriangle + t][0];
                const auto& n = band.mesh.normals[v];
                const Vec3 normal{n[0], n[1], n[2]};
                const Vec3 point = band.mesh.points[band.mesh.pointOf[v]];
                for (const double off : {-2e-3, 0.0, 2e-3}) {
                    const double wall =
                        wallAt(design, design::Stage::Finished, face.tag, point + off * normal, normal);
                    jumps += std::abs(wall - walls[v]) > (isHoleWall(face.tag.feature) ? 0.03 : 2e-3);
                    ++looked;
                }
            }
        }
    }
    EXPECT_GT(looked, 500U);
    EXPECT_LT(100 * jumps, 2 * looked) << jumps << " of " << looked;
}

// Equal holes share their results, but only if their neighbours are equally far away on the same side. A
// single triangle shares none.
TEST(WallMap, TellsHolesWithNearerNeighboursFromOthers) {
    design::Design design;
    design::Setting setting;
    setting.tube.reset();
    setting.stone.reset();
    setting.hole = {.pilotDiameter = 1, .steps = {{1.4, 1.1}}};
    setting.placement.angles = {3, 15, 25, 39, 49, 200};
    design.settings = {setting};
    const Part band = buildParts(design).front();
    const std::vector<float> shared = wallMap(band, design);
    Part alone = band;
    double most = 0;
    std::size_t looked = 0;
    for (const MeshFace& face : band.mesh.faces) {
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            alone.mesh.triangles = {band.mesh.triangles[t]};
            alone.mesh.faces = {{face.tag, 0, 1}};
            const std::vector<float> walls = wallMap(alone, design);
            for (const std::uint32_t v : band.mesh.triangles[t])
                most = std::max(most, std::abs(static_cast<double>(walls[v]) - shared[v]));
            ++looked;
        }
    }
    EXPECT_LT(most, 1e-4);
    EXPECT_GT(looked, 1000U);
}

TEST(WallMap, NeverExceedsTheLargestBallACloudOfPlacesLeavesRoomForAndFillsIt) {
    std::size_t places = 0, looked = 0, rings = 0;
    for (std::uint64_t seed = 0; rings < designsToDraw(400) / 16; ++seed) {
        const design::Design design = randomDesign(seed);
        if (!apartPartsOf(design)) continue;
        ++rings;
        const Compared compared = compare(design, 60);
        places += compared.places;
        looked += compared.looked;
        EXPECT_LE(compared.mostOver, 0.02) << "seed " << seed;
        EXPECT_LE(compared.mostUnder, 0.02) << "seed " << seed;
    }
    EXPECT_GT(places, looked / 6);  // beside edges and in thin rims there is nothing to compare
}

}  // namespace
}  // namespace bandwright::geometry
