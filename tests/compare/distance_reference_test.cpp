// Distances from the designed surface, held against OpenCASCADE's from the same bodies as solids and against
// those from each of a mesh's triangles.

#include <gtest/gtest.h>
#include <BRepBuilderAPI_MakeVertex.hxx>
#include <BRepClass3d_SolidClassifier.hxx>
#include <BRepExtrema_DistShapeShape.hxx>

#include <TopExp_Explorer.hxx>
#include <algorithm>
#include <cmath>
#include <exception>
#include <gp_Pnt.hxx>
#include <string>

#include "base/input_error.hpp"
#include "compare/deviation.hpp"
#include "moved_body.hpp"
#include "occt_boundary.hpp"
#include "random_design.hpp"

namespace bandwright::compare {
namespace {

using geometry::Vec3;

/// Places near the surface, as those of real bodies are, and a few anywhere.
std::vector<Vec3> places(const geometry::Mesh& mesh, std::mt19937_64& lot) {
    constexpr int kPlaces = 24;
    std::normal_distribution<double> number;
    std::vector<Vec3> result;
    for (int i = 0; i < kPlaces; ++i) {
        const auto& t = mesh.triangles[lot() % mesh.triangles.size()];
        const Vec3 p = mesh.points[mesh.pointOf[t[0]]], q = mesh.points[mesh.pointOf[t[1]]];
        const double away = i % 8 == 0 ? 3 : i % 2 == 0 ? 0.1 : 0.01;
        result.push_back(0.5 * (p + q) + away * Vec3{number(lot), number(lot), number(lot)});
    }
    return result;
}

/// The kernel's distance from each face: to a solid it is 0 within. It misses the nearest place on some
/// faces that run all the way round, and then tells too much.
double toSolid(const TopoDS_Shape& solid, const gp_Pnt& p) {
    double nearest = HUGE_VAL;
    for (TopExp_Explorer faces(solid, TopAbs_FACE); faces.More(); faces.Next()) {
        const BRepExtrema_DistShapeShape from(BRepBuilderAPI_MakeVertex(p).Vertex(), faces.Current());
        if (from.IsDone()) nearest = std::min(nearest, from.Value());
    }
    return nearest;
}

TEST(Distance, IsThatOfOpenCascade) {
    constexpr double kChord = kNominalChord.mm();
    std::mt19937_64 lot(3);
    const std::uint64_t most = geometry::designsToDraw(3);
    std::uint64_t drawn = 0;
    std::size_t same = 0, told = 0, all = 0;
    for (std::uint64_t seed = 200; drawn < most; ++seed) {
        const design::Design design = geometry::randomDesign(seed);
        std::vector<geometry::Part> parts;
        try {
            geometry::boundaries(design);
            parts = geometry::buildParts(design, design::Stage::Finished, {kNominalChord});
        } catch (const base::InputError&) {
            continue;
        }
        SCOPED_TRACE(seed);
        const std::vector<geometry::Boundary> exact = geometry::boundaries(design);
        // One body a design, so that fills and tubes have their turn.
        const std::size_t one = lot() % parts.size();
        const std::vector<Vec3> at = places(parts[one].mesh, lot);
        // To ellipsoids the distance is that of triangles.
        const bool isCabochon = std::ranges::any_of(exact[one].faces, [](const geometry::BoundaryFace& face) {
            return face.surface.kind == geometry::SurfaceKind::Ellipsoid ||
                   face.surface.kind == geometry::SurfaceKind::EllipticCylinder;
        });
        TopoDS_Shape solid;
        try {
            solid = reference::solidOf(exact[one]);
        } catch (const std::exception&) {
            continue;  // a belt crowded with holes has no place for the seam that the kernel wants
        }
        ++drawn;
        const std::vector<double> found = distances(Designed({parts[one]}, {exact[one]}), at);
        for (std::size_t i = 0; i < at.size(); ++i) {
            SCOPED_TRACE(geometry::name(parts[one]) + ", place " + std::to_string(i));
            const gp_Pnt p(at[i].x, at[i].y, at[i].z);
            const double exactly = toSolid(solid, p), roughly = toMesh(parts[one].mesh, at[i]);
            EXPECT_NEAR(std::abs(found[i]), roughly, 1.5 * kChord);
            if (roughly < 0.5 && !isCabochon) {
                ++all;
                EXPECT_LT(std::abs(found[i]), exactly + 1.5 * kChord);
                if (exactly < roughly + 1.5 * kChord) {
                    ++told;
                    same += std::abs(std::abs(found[i]) - exactly) < 1e-6 ? 1 : 0;
                }
            }
            const BRepClass3d_SolidClassifier side(solid, p, 1e-9);
            EXPECT_EQ(found[i] < 0, side.State() == TopAbs_IN);
        }
    }
    EXPECT_GT(2 * told, all);
    // Within a micrometre or so of a corner the face beyond it may be taken.
    EXPECT_GE(100 * same, 98 * told) << same << " of " << told << " of " << all;
    RecordProperty("same", static_cast<int>(same));
}

}  // namespace
}  // namespace bandwright::compare
