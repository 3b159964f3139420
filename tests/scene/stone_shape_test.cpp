#include "stone_shape.hpp"

#include <gtest/gtest.h>

#include <algorithm>

#include "geometry/stone.hpp"
#include "scene/scene.hpp"

namespace bandwright::scene {
namespace {

double toDouble(float value) {
    return static_cast<double>(value);
}

double outsideBy(const FacetPlane& plane, geometry::Vec3 p) {
    return toDouble(plane.normal[0]) * p.x + toDouble(plane.normal[1]) * p.y +
           toDouble(plane.normal[2]) * p.z - toDouble(plane.offset);
}

TEST(FacetPlanes, OfARoundBrilliantAreItsFiftySevenFlatsAndAPrismForItsGirdle) {
    // 57 facets without a culet: 33 on the crown, 24 on the pavilion (Tolkowsky, Diamond Design, 1919).
    const geometry::Mesh mesh = geometry::stoneMesh(design::Stone{});
    const std::vector<FacetPlane> planes = facetPlanes(mesh);
    const auto across = std::count_if(planes.begin(), planes.end(), [](const FacetPlane& plane) {
        return std::abs(plane.normal[2]) < 0.05F;
    });
    EXPECT_EQ(static_cast<long>(planes.size()) - across, 57);
    EXPECT_GE(across, 16);
}

TEST(FacetPlanes, EncloseTheStoneAndEachTouchesIt) {
    const geometry::Mesh mesh = geometry::stoneMesh(design::Stone{});
    for (const FacetPlane& plane : facetPlanes(mesh)) {
        double nearest = -1e9;
        for (const geometry::Vec3& point : mesh.points)
            nearest = std::max(nearest, outsideBy(plane, point));
        EXPECT_NEAR(nearest, 0, 1e-5);
    }
}

TEST(FacetPlanes, AreNeverMoreThanTheRendererHasRoomFor) {
    design::Stone cabochon;
    cabochon.cut = design::StoneCut::Cabochon;
    EXPECT_LE(facetPlanes(geometry::stoneMesh(cabochon)).size(), kMostFacets);
}

TEST(WallColour, RunsFromBrightToDarkInEvenSteps) {
    // Cividis is made for an even run of lightness (Nunez et al. 2018): CIE L* must fall steadily.
    const auto lightness = [](const trade::LinearRgb& c) {
        return 116 * std::cbrt(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]) - 16;
    };
    const double bright = lightness(wallColour(0)), dark = lightness(wallColour(1));
    EXPECT_GT(bright, 85);
    EXPECT_LT(dark, 20);
    for (int i = 0; i <= 10; ++i) {
        EXPECT_NEAR(lightness(wallColour(i / 10.0)), bright + (dark - bright) * i / 10, 4) << i;
    }
}

TEST(Dome, IsTheEllipsoidThatTheCabochonWasMadeOf) {
    design::Stone stone;
    stone.cut = design::StoneCut::Cabochon;
    stone.diameter = 5;
    stone.length = 7;
    stone.dome = 40;
    const geometry::Mesh mesh = geometry::stoneMesh(stone);
    const Dome dome = domeOf(mesh);
    for (const geometry::MeshFace& face : mesh.faces) {
        if (face.tag.feature != geometry::Feature::Crown) continue;
        for (std::size_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t corner : mesh.triangles[t]) {
                const geometry::Vec3 p = mesh.points[mesh.pointOf[corner]] - dome.centre;
                const geometry::Vec3 q{geometry::dot(dome.inverse[0], p), geometry::dot(dome.inverse[1], p),
                                       geometry::dot(dome.inverse[2], p)};
                EXPECT_NEAR(geometry::length(q), 1, 1e-9);
            }
        }
    }
    EXPECT_NEAR(dome.up.z, 1, 1e-12);
    EXPECT_NEAR(dome.base, -geometry::heights(stone).girdle / 2, 1e-12);
}

}  // namespace
}  // namespace bandwright::scene
