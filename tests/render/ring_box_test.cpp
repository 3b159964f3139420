#include "ring_box.hpp"

#include <random>

#include "gl_fixture.hpp"
#include "render/renderer.hpp"
#include "shapes.hpp"

namespace bandwright::render {
namespace {

constexpr scene::Size kBoxSize{160, 120};

scene::Scene ringOnClear() {
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}},
                                         {11.5, 1.5, 8.5, -11.5});
    scene.view.backdrop = scene::Backdrop::Transparent;
    return scene;
}

class RingBox : public GlTest {};

TEST_F(RingBox, HoldsEveryPixelOfTheRingFromAnySide) {
    std::mt19937 dice(1);
    const auto between = [&](double a, double b) { return std::uniform_real_distribution(a, b)(dice); };
    Renderer renderer(context_.loader());
    for (int i = 0; i < 40; ++i) {
        scene::Scene scene = ringOnClear();
        // From below the floor, whose shade is then not drawn.
        scene.view.camera = {
            between(0, 360), between(-89, -5), between(0.3, 3), 20, {between(-.5, .5), between(-.5, .5)}};
        scene.bodies[0].apart = {between(-3, 3), between(-3, 3), between(-9, 9)};
        scene.view.spread = i % 2;
        const Tile tile = i % 3 == 0 ? Tile{kBoxSize, 30, 20, {90, 60}} : Tile{kBoxSize, 0, 0, kBoxSize};
        const PixelBox box = ringBox(scene, tile);
        renderer.draw(scene, tile);
        const Image image = renderer.read();
        for (int y = 0; y < tile.size.height; ++y) {
            for (int x = 0; x < tile.size.width; ++x) {
                const int up = tile.size.height - 1 - y;
                const bool inside =
                    x >= box.x && x < box.x + box.size.width && up >= box.y && up < box.y + box.size.height;
                if (!inside) {
                    ASSERT_EQ(image.pixel(x, y)[3], 0) << i << ": " << x << ' ' << y;
                }
            }
        }
    }
}

TEST_F(RingBox, IsNotMuchLargerThanTheRingNorSmallerThanWhatIsWritten) {
    scene::Scene scene = ringOnClear();
    const Tile tile{kBoxSize, 0, 0, kBoxSize};
    const PixelBox box = ringBox(scene, tile);
    EXPECT_LT(box.size.width * box.size.height, kBoxSize.width * kBoxSize.height * 6 / 10);
    EXPECT_GT(box.size.width * box.size.height, kBoxSize.width * kBoxSize.height * 3 / 10);
    const PixelBox all{0, 0, kBoxSize};
    scene.view.scaleBar = true;
    EXPECT_EQ(ringBox(scene, tile), all);
    scene = ringOnClear();
    scene.view.wallMap = scene::WallScale{0.4, 2, true};
    EXPECT_EQ(ringBox(scene, tile), all);
    scene = ringOnClear();
    scene.marks.push_back({{10, 0, 0}, {30, 0, 0}, {1, 0, 0}, ""});
    EXPECT_EQ(ringBox(scene, tile), all);
    scene = ringOnClear();
    scene.view.camera.zoom = 0.1;  // beside the tile: nothing is left to do
    EXPECT_EQ(ringBox(scene, {kBoxSize, 0, 0, {20, 20}}).size.width, 0);
}

TEST_F(RingBox, MakesNoDifferenceThatIsSeenToThePictureAtRest) {
    constexpr scene::Size kLarger{320, 240};
    scene::Scene scene = ringOnClear();
    scene.view.backdrop = scene::Backdrop::Tent;
    const auto settled = [&](const scene::Scene& shown) {
        Renderer renderer(context_.loader());
        do {
            renderer.draw(shown, kLarger);
        } while (!renderer.settled());
        return renderer.read();
    };
    const Image boxed = settled(scene);
    scene.marks.push_back(
        {{0, 0, 0}, {0, 0, 0}, {0, 0, 0}, ""});  // drawn whole in every pass; a point under the ring
    const Image whole = settled(scene);
    const PixelBox box = ringBox(ringOnClear(), {kLarger, 0, 0, kLarger});
    double sum = 0, count = 0;
    for (int y = 0; y < kLarger.height; ++y) {
        for (int x = 0; x < kLarger.width; ++x) {
            const int up = kLarger.height - 1 - y;
            if (x >= box.x && x < box.x + box.size.width && up >= box.y && up < box.y + box.size.height)
                continue;
            // One step for the grain of either, and the shade's slope over the half pixel that a pass is
            // shifted.
            ASSERT_NEAR(boxed.pixel(x, y)[1], whole.pixel(x, y)[1], 3) << x << ' ' << y;
            sum += boxed.pixel(x, y)[1] - whole.pixel(x, y)[1];
            ++count;
        }
    }
    EXPECT_NEAR(sum / count, 0, 0.25);
}

}  // namespace
}  // namespace bandwright::render
