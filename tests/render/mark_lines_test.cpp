#include "mark_lines.hpp"

#include <gtest/gtest.h>

#include <algorithm>

namespace bandwright::render {
namespace {

TEST(MarkTriangles, EndWithACapAtEachProjectedPoint) {
    scene::Scene scene;
    scene.marks = {{{10, -3, 1}, {10, 4, 1}, {0.8, 0.2, 0}, "1.20 mm"}};
    const scene::Size size{800, 600};
    const scene::Viewpoint view = scene::viewpoint(scene.view.camera, scene.extent, size);
    const auto triangles = markTriangles(scene, view, size);
    ASSERT_EQ(triangles.size() % 3, 0U);
    for (const geometry::Vec3& end : {scene.marks[0].from, scene.marks[0].to}) {
        const auto pixel = scene::project(view, size, scene::toStage(end, scene.top));
        double reach = 0;
        for (const MarkVertex& v : triangles) {
            const double x = (static_cast<double>(v.position[0]) + 1) / 2 * size.width;
            const double y = (1 - static_cast<double>(v.position[1])) / 2 * size.height;
            const double away = std::hypot(x - (*pixel)[0], y - (*pixel)[1]);
            if (away < 20) reach = std::max(reach, away);
        }
        EXPECT_GT(reach, 6);
        EXPECT_LT(reach, 11);
    }
}

TEST(MarkTriangles, OfNoMarksAreNone) {
    const scene::Scene scene;
    EXPECT_TRUE(markTriangles(scene, scene::viewpoint({}, {}, {8, 8}), {8, 8}).empty());
}

}  // namespace
}  // namespace bandwright::render
