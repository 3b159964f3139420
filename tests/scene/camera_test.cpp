#include "scene/camera.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::scene {
namespace {

constexpr Size kSize{1280, 800};

TEST(Camera, LooksFromTheAzimuthAndElevationNamed) {
    // Spherical coordinates: along the axis at azimuth 0, along +x at 90; height by the sine of the
    // elevation.
    Camera camera;
    camera.azimuth = 90;
    camera.elevation = 30;
    const Viewpoint view = viewpoint(camera, {}, kSize);
    const double distance = geometry::length(view.eye);
    EXPECT_NEAR(view.eye.x / distance, std::cos(std::numbers::pi / 6), 1e-12);
    EXPECT_NEAR(view.eye.y / distance, 0.5, 1e-12);
    EXPECT_NEAR(view.eye.z / distance, 0, 1e-12);
}

TEST(Camera, HoldsTheWholeRingWithAMarginFromEverySide) {
    const Extent extent{11.2, 4, 9, -11.2};
    for (const Size size : {kSize, Size{400, 900}}) {
        for (int azimuth = 0; azimuth < 360; azimuth += 15) {
            for (const int elevation : {-60, 0, 20, 80}) {
                Camera camera;
                camera.azimuth = azimuth;
                camera.elevation = elevation;
                const Viewpoint view = viewpoint(camera, extent, size);
                double reach = 0;
                for (int i = 0; i < 720; ++i) {
                    const double a = i * std::numbers::pi / 360;
                    for (const double z : {-4.0, 4.0}) {
                        const auto pixel = project(view, size, {11.2 * std::cos(a), 11.2 * std::sin(a), z});
                        ASSERT_TRUE(pixel.has_value());
                        reach = std::max({reach, std::abs((*pixel)[0] / size.width - 0.5),
                                          std::abs((*pixel)[1] / size.height - 0.5)});
                    }
                }
                EXPECT_LT(reach, 0.42) << azimuth << " " << elevation;
                EXPECT_GT(reach, 0.40) << azimuth << " " << elevation;
            }
        }
    }
}

TEST(Camera, ARayThroughThePixelOfAPointMeetsThatPoint) {
    Camera camera;
    camera.zoom = 2.5;
    camera.pan = {0.1, -0.2};
    const Viewpoint view = viewpoint(camera, {}, kSize);
    const geometry::Vec3 point{3, -2, 1.5};
    const auto pixel = project(view, kSize, point);
    ASSERT_TRUE(pixel.has_value());
    const Ray ray = rayThrough(view, kSize, (*pixel)[0], (*pixel)[1]);
    EXPECT_LT(geometry::length(geometry::cross(point - ray.from, ray.direction)), 1e-4);
}

TEST(Camera, PixelsPerMmIsTheSizeOfAMillimetreAtTheRingsMiddle) {
    Camera camera;
    camera.zoom = 1.7;
    const Viewpoint view = viewpoint(camera, {}, kSize);
    const auto middle = project(view, kSize, {}), aside = project(view, kSize, 0.5 * view.right);
    EXPECT_NEAR(std::abs((*aside)[0] - (*middle)[0]), view.pixelsPerMm / 2, 1e-3);
}

TEST(Camera, PansByASharesOfTheSmallerSide) {
    Camera camera;
    camera.pan = {0.25, 0.1};
    const auto middle = project(viewpoint(camera, {}, kSize), kSize, {});
    EXPECT_NEAR((*middle)[0], 640 + 0.25 * 800, 1e-3);
    EXPECT_NEAR((*middle)[1], 400 - 0.1 * 800, 1e-3);
}

TEST(Camera, APointBehindTheEyeIsNowhereInThePicture) {
    const Viewpoint view = viewpoint({}, {}, kSize);
    EXPECT_FALSE(project(view, kSize, 2 * view.eye).has_value());
}

TEST(Camera, TheTopOfTheRingStandsUppermost) {
    const double top = 130, radians = top * std::numbers::pi / 180;
    const geometry::Vec3 raised = toStage({std::cos(radians), std::sin(radians), 0.5}, top);
    EXPECT_NEAR(raised.x, 0, 1e-12);
    EXPECT_NEAR(raised.y, 1, 1e-12);
    EXPECT_NEAR(raised.z, 0.5, 1e-12);
    EXPECT_LT(geometry::distance(toRing(raised, top), {std::cos(radians), std::sin(radians), 0.5}), 1e-12);
}

}  // namespace
}  // namespace bandwright::scene
