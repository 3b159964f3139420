#include "render/renderer.hpp"

#include <unistd.h>

#include <cstdlib>
#include <fstream>

#include "gl_fixture.hpp"
#include "shapes.hpp"

namespace bandwright::render {
namespace {

constexpr scene::Size kFrameSize{96, 72};
const scene::Extent kExtent{11.5, 1.5, 8.5, -11.5};

scene::Scene plainRing() {
    return shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}}, kExtent);
}

double residentMegabytes() {
    std::ifstream statm("/proc/self/statm");
    double total = 0, resident = 0;
    statm >> total >> resident;
    return resident * static_cast<double>(sysconf(_SC_PAGESIZE)) / 1e6;
}

class RendererTest : public GlTest {};

TEST_F(RendererTest, GivesTheSameBytesForTheSameScene) {
    const scene::Scene scene = plainRing();
    const auto once = [&] {
        Renderer renderer(context_.loader());
        do {
            renderer.draw(scene, kFrameSize);
        } while (!renderer.settled());
        return renderer.read().rgba;
    };
    EXPECT_TRUE(once() == once());
}

TEST_F(RendererTest, SettlesAndStartsAgainWhenTheSceneChanges) {
    Renderer renderer(context_.loader());
    scene::Scene scene = plainRing();
    renderer.draw(scene, kFrameSize);
    EXPECT_FALSE(renderer.settled());
    for (int i = 0; i < 50 && !renderer.settled(); ++i)
        renderer.draw(scene, kFrameSize);
    EXPECT_TRUE(renderer.settled());
    scene.view.camera.azimuth += 1;
    renderer.draw(scene, kFrameSize);
    EXPECT_FALSE(renderer.settled());
    renderer.draw(scene, kFrameSize, Quality::Moving);
    EXPECT_FALSE(renderer.settled());
}

TEST_F(RendererTest, MovesAndRestsInNearlyTheSamePicture) {
    Renderer renderer(context_.loader());
    const scene::Scene scene = plainRing();
    renderer.draw(scene, kFrameSize, Quality::Moving);
    const Image moving = renderer.read();
    do {
        renderer.draw(scene, kFrameSize);
    } while (!renderer.settled());
    const Image still = renderer.read();
    double difference = 0;
    for (std::size_t i = 0; i < still.rgba.size(); ++i)
        difference += std::abs(still.rgba[i] - moving.rgba[i]);
    EXPECT_LT(difference / static_cast<double>(still.rgba.size()), 2.5);
}

TEST_F(RendererTest, DrawsTheSamePictureWhetherEdgesHaveSeveralSamplesOrNot) {
    // Drawing as on a graphics processor, which this machine may lack, against drawing as on a processor.
    Renderer sampled(context_.loader(), {{}, true}), plain(context_.loader(), {{}, false});
    const auto settled = [](Renderer& renderer, const scene::Scene& scene, const Tile& tile) {
        do {
            renderer.draw(scene, tile);
        } while (!renderer.settled());
        return renderer.read();
    };
    const auto apart = [](const Image& a, const Image& b) {
        double sum = 0;
        for (std::size_t i = 0; i < a.rgba.size(); ++i)
            sum += std::abs(a.rgba[i] - b.rgba[i]);
        return sum / static_cast<double>(a.rgba.size());
    };
    const Tile whole{kFrameSize, 0, 0, kFrameSize};
    for (const scene::Backdrop backdrop : {scene::Backdrop::Tent, scene::Backdrop::Transparent}) {
        scene::Scene scene = plainRing();
        scene.view.backdrop = backdrop;
        for (const Tile& tile : {whole, Tile{kFrameSize, 20, 10, {50, 40}}}) {
            const Image still = settled(sampled, scene, tile);
            EXPECT_LT(apart(still, settled(plain, scene, tile)), 0.8);
            // The first frame and one while it turns are smooth already.
            sampled.draw(scene, tile, Quality::Moving);
            EXPECT_LT(apart(still, sampled.read()), 4);
            sampled.draw(scene, tile);
            EXPECT_LT(apart(still, sampled.read()), 4);
        }
        scene.view.scaleBar = true;
        scene.marks.push_back({{10, 0, 0}, {13, 0, 0}, {1, 0, 0}, ""});
        scene.view.cutAway = 0.3;
        EXPECT_LT(apart(settled(sampled, scene, whole), settled(plain, scene, whole)), 0.8);
    }
}

TEST_F(RendererTest, DrawsAThousandFramesWithoutAnErrorAndInTheSameMemory) {
    Renderer renderer(context_.loader());
    scene::Scene scene = plainRing();
    [[maybe_unused]] double before = 0;
    for (int frame = 0; frame < 1000; ++frame) {
        if (frame == 400) before = residentMegabytes();
        scene.view.camera.azimuth += 2;
        if (frame % 10 == 0) {  // as when a number of the design is dragged
            scene.bodies[0].mesh =
                std::make_shared<const scene::BodyMesh>(shapes::torus(10, 1.5 + 0.001 * (frame % 7)));
        }
        if (frame % 50 == 0) scene.view.cutAway = frame % 100 == 0 ? std::optional(0.3) : std::nullopt;
        renderer.draw(scene, frame % 200 < 100 ? kFrameSize : scene::Size{80, 64},
                      frame % 3 == 0 ? Quality::Still : Quality::Moving);
    }
#if !defined(__SANITIZE_ADDRESS__)  // which keeps what is freed
    // 60 meshes of 0.3 MB each have come and gone since; the driver's own memory sways by a few MB.
    EXPECT_LT(residentMegabytes() - before, 8);
#endif
}

TEST_F(RendererTest, ReadsShadersFromAFolderAndAgainWhenOneChanges) {
    const auto folder = std::filesystem::path(testing::TempDir()) / "bandwright_reload_test";
    std::filesystem::remove_all(folder);
    std::filesystem::copy(BANDWRIGHT_SHADER_FOLDER, folder);
    Renderer renderer(context_.loader(), {folder, {}});
    const auto corner = [&] {
        renderer.draw(plainRing(), kFrameSize, Quality::Moving);
        return renderer.read().rgba[1];
    };
    EXPECT_GT(corner(), 60);
    std::ofstream(folder / "backdrop.frag")
        << "out vec4 colour;\nvoid main() { colour = vec4(0, 0, 0, 1); }\n";
    std::filesystem::last_write_time(folder / "backdrop.frag",
                                     std::filesystem::file_time_type::clock::now() + std::chrono::seconds(5));
    EXPECT_LT(corner(), 5);
    std::ofstream(folder / "backdrop.frag") << "not a shader";  // half written: the last good one stays
    std::filesystem::last_write_time(folder / "backdrop.frag",
                                     std::filesystem::file_time_type::clock::now() + std::chrono::seconds(9));
    EXPECT_LT(corner(), 5);
    std::filesystem::remove_all(folder);
}

TEST(Render, NeedsNoDisplay) {
    unsetenv("DISPLAY");
    unsetenv("WAYLAND_DISPLAY");
    const Image image = render(plainRing(), kFrameSize);
    EXPECT_EQ(image.size, kFrameSize);
    EXPECT_EQ(image.rgba.size(), 4U * 96 * 72);
}

}  // namespace
}  // namespace bandwright::render
