// How far triangles are from the surfaces they approximate. The surfaces are the section's own lines and arcs
// turned about the ring's axis and the hole's outline turned about the hole's.

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "base/input_error.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"
#include "ring_bodies.hpp"
#include "setting.hpp"

namespace bandwright::geometry {
namespace {

class ChordTolerance : public testing::TestWithParam<double> {};

TEST_P(ChordTolerance, IsKeptByEveryTriangle) {
    const BuildOptions options{base::Micrometres(GetParam())};
    FaceCounts counts;
    // Fewer do not use the tolerance up.
    constexpr std::uint64_t kLeast = 150;
    for (std::uint64_t seed = 0; seed < std::max(kLeast, designsToDraw(400)); ++seed) {
        const design::Design design = randomDesign(seed);
        const auto parts = apartPartsOf(design, design::Stage::Finished, options);
        if (!parts) continue;
        const RingSections plain = sections(design);
        const auto holes = placedHoles(design);
        std::size_t triangles = 0;
        for (const Part& part : *parts)
            triangles += part.mesh.triangles.size();
        const double share =
            static_cast<double>(triangles) /
            expectedTriangles(design, design::Stage::Finished, workpiece(design, design::Stage::Finished),
                              plain, holeRows(design), options.tolerance.mm());
        EXPECT_GT(share, 0.5) << seed;
        EXPECT_LT(share, 2) << seed;
        for (const Part& part : *parts) {
            if (part.role == PartRole::Tube || part.role == PartRole::Stone) break;
            const auto number = static_cast<std::size_t>(
                std::find(plain.fillChannel.begin(), plain.fillChannel.end(), part.source) -
                plain.fillChannel.begin());
            const Section& section = part.role == PartRole::Band    ? plain.band
                                     : part.role == PartRole::Liner ? plain.liner
                                                                    : plain.fills[number];
            FaceCounts here;
            countFaces(part.mesh, TrueSurface(section, holes), here);
            for (const auto& [feature, count] : here) {
                EXPECT_LE(count.mostOff, 1.01 * options.tolerance.mm())
                    << name(feature) << " of " << name(part) << ", seed " << seed;
                FaceCount& all = counts[feature];
                all.triangles += count.triangles;
                all.mostOff = std::max(all.mostOff, count.mostOff);
            }
        }
    }
    // The tolerance is also used up: a mesh far finer than asked would be needlessly slow.
    EXPECT_GE(counts[Feature::Outside].mostOff, 0.8 * options.tolerance.mm());
    EXPECT_GE(counts[Feature::Seat].mostOff, 0.6 * options.tolerance.mm());
}

TEST(MeshSize, IsBoundedBeforeAnyIsMade) {
    const auto refusal = [](double micrometres) -> std::string {
        try {
            buildParts(randomDesign(16), design::Stage::Finished, {base::Micrometres(micrometres)});
        } catch (const base::InputError& error) {
            return error.what();
        }
        return "";
    };
    const std::string said = refusal(1e-3);
    EXPECT_TRUE(said.starts_with("A chord of 0.001 micrometres makes about ")) << said;
    if (oneIn(2, 2) > 1) return;
    // What is told can be followed: twenty million triangles, which take seconds and gigabytes.
    const std::string key = " triangles, so a chord of ";
    ASSERT_NE(said.find(key), std::string::npos) << said;
    EXPECT_EQ(refusal(std::stod(said.substr(said.find(key) + key.size()))), "");
}

std::string micrometres(const testing::TestParamInfo<double>& tolerance) {
    return std::to_string(static_cast<int>(tolerance.param)) + "Micrometres";
}
INSTANTIATE_TEST_SUITE_P(Of, ChordTolerance, testing::Values(3.0, 10.0, 30.0, 100.0), micrometres);

/// The smallest cosine between a triangle's own direction and the normals of its corners.
double leastUpright(const Mesh& mesh, const MeshFace& face) {
    double least = 1;
    for (std::uint32_t i = 0; i < face.triangleCount; ++i) {
        const auto& t = mesh.triangles[face.firstTriangle + i];
        const Vec3& a = mesh.points[mesh.pointOf[t[0]]];
        const Vec3& b = mesh.points[mesh.pointOf[t[1]]];
        const Vec3& c = mesh.points[mesh.pointOf[t[2]]];
        const Vec3 upright = cross(b - a, c - a);
        const double longest = std::max({distance(a, b), distance(b, c), distance(c, a)});
        // The direction of a sliver is not that of the surface.
        if (length(upright) < 0.05 * longest * longest) continue;
        for (const std::uint32_t vertex : t) {
            const auto& n = mesh.normals[vertex];
            EXPECT_NEAR(std::hypot(n[0], n[1], n[2]), 1, 1e-6);
            least = std::min(least, dot({n[0], n[1], n[2]}, upright) / length(upright));
        }
    }
    return least;
}

TEST(MeshPoints, LieOnTheTrueSurfaceAndNormalsPointTheWayTheirTrianglesFace) {
    for (std::uint64_t seed = 0; seed < 300; ++seed) {
        const design::Design design = randomDesign(seed);
        const auto parts = apartPartsOf(design);
        if (!parts) continue;
        const Mesh& mesh = parts->front().mesh;
        const TrueSurface surface(sections(design).band, placedHoles(design));
        for (const MeshFace& face : mesh.faces) {
            SCOPED_TRACE(name(face.tag.feature) + ", seed " + std::to_string(seed));
            double mostOff = 0;
            for (std::uint32_t i = 0; i < face.triangleCount; ++i) {
                for (const std::uint32_t vertex : mesh.triangles[face.firstTriangle + i])
                    mostOff =
                        std::max(mostOff, surface.distance(face.tag, mesh.points[mesh.pointOf[vertex]]));
            }
            // Holes that lie exactly on an edge are moved by some nanometres.
            EXPECT_LE(mostOff, 1e-4);
            // Neighbouring rows of a small round turn by 60 degrees at most, their triangle by half of it.
            EXPECT_GE(leastUpright(mesh, face), 0.7);
        }
    }
}

/// A film of some 0.1 um of metal is left over the bore beside the hole of this ring.
TEST(Meshes, ThatWouldRunThroughThemselvesAreRefused) {
    const auto meshed = [](double micrometres) {
        buildParts(randomDesign(1248), design::Stage::Finished, {base::Micrometres(micrometres)});
    };
    EXPECT_NO_THROW(meshed(50));
    try {
        meshed(100);
        ADD_FAILURE() << "not refused";
    } catch (const base::InputError& error) {
        EXPECT_EQ(std::string(error.what()).find("settings[0]: beside its hole metal is so thin"), 0U)
            << error.what();
    }
}

}  // namespace
}  // namespace bandwright::geometry
