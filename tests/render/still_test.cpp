#include "render/still.hpp"

#include <png.h>
#include <unistd.h>
#include <webp/demux.h>

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <sstream>

#include "base/input_error.hpp"
#include "geometry/ring.hpp"
#include "gl_fixture.hpp"
#include "read_png.hpp"
#include "render/renderer.hpp"
#include "shapes.hpp"

namespace bandwright::render {
namespace {

class Stills : public GlTest {
  protected:
    void SetUp() override {
        GlTest::SetUp();
        folder_ =
            std::filesystem::path(testing::TempDir()) / ("bandwright-still-" + std::to_string(::getpid()));
        std::filesystem::create_directories(folder_);
    }
    void TearDown() override {
        std::filesystem::remove_all(folder_);
        GlTest::TearDown();
    }
    std::filesystem::path folder_;
};

scene::Scene ringToScale() {
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}},
                                         {11.5, 1.5, 8.5, -11.5});
    scene.view.scaleBar = true;
    return scene;
}

// What the file says of pixels a metre, both ways; 0 where it says nothing.
std::array<png_uint_32, 2> physicalSize(const std::filesystem::path& file) {
    std::FILE* in = std::fopen(file.c_str(), "rb");
    png_structp png = png_create_read_struct(PNG_LIBPNG_VER_STRING, nullptr, nullptr, nullptr);
    png_infop info = png_create_info_struct(png);
    png_init_io(png, in);
    png_read_info(png, info);
    std::array<png_uint_32, 2> dots = {png_get_x_pixels_per_meter(png, info),
                                       png_get_y_pixels_per_meter(png, info)};
    png_destroy_read_struct(&png, &info, nullptr);
    std::fclose(in);
    return dots;
}

Image settled(Renderer& renderer, const scene::Scene& scene, const Tile& tile) {
    do {
        renderer.draw(scene, tile);
    } while (!renderer.settled());
    return renderer.read();
}

TEST_F(Stills, TilesSideBySideMakeTheWholePicture) {
    const scene::Size size{200, 144};
    Renderer renderer(context_.loader());
    const scene::Scene scene = ringToScale();
    const Image whole = settled(renderer, scene, {size, 0, 0, size});
    int compared = 0;
    for (const Tile& tile : {Tile{size, 0, 0, {120, 80}}, Tile{size, 120, 0, {80, 80}},
                             Tile{size, 0, 80, {120, 64}}, Tile{size, 120, 80, {80, 64}}}) {
        const Image part = settled(renderer, scene, tile);
        ASSERT_EQ(part.size, tile.size);
        for (int y = 0; y < tile.size.height; ++y) {
            for (int x = 0; x < tile.size.width; ++x, ++compared) {
                for (int i = 0; i < 4; ++i) {
                    // The grain against bands differs from tile to tile by one step, and edges by rounding.
                    ASSERT_NEAR(part.pixel(x, y)[i], whole.pixel(tile.x + x, tile.y + y)[i], 8)
                        << tile.x + x << ' ' << tile.y + y;
                }
            }
        }
    }
    EXPECT_EQ(compared, size.width * size.height);
}

TEST_F(Stills, ASheetWiderAndHigherThanATileIsReadBackByLibpngAsItWasDrawn) {
    const scene::Size each{1100, 530};
    scene::Scene other = ringToScale();
    other.view.backdrop = scene::Backdrop::Transparent;
    const Still still = stillOf({ringToScale(), other, ringToScale()}, each);
    EXPECT_EQ(still.size, (scene::Size{2200, 1060}));
    std::vector<double> shares;
    writeStill(still, folder_ / "sheet.png", [&](double share) { shares.push_back(share); });
    EXPECT_EQ(shares.back(), 1);
    EXPECT_TRUE(std::is_sorted(shares.begin(), shares.end()));
    const Image read = readPng(folder_ / "sheet.png");
    ASSERT_EQ(read.size, still.size);
    EXPECT_EQ(read.pixel(5, 5)[3], 255);
    EXPECT_EQ(read.pixel(each.width + 5, 5)[3], 0) << "the transparent one";
    EXPECT_EQ(read.pixel(each.width + 5, each.height + 5)[3], 0) << "no panel there";
    // A panel that tiles cut both ways equals the same picture drawn at once, in a context of its own like
    // the sheet's.
    const Image whole = render(ringToScale(), each);
    for (int y = 0; y < each.height; y += 7) {
        for (int x = 0; x < each.width; x += 7)
            ASSERT_NEAR(read.pixel(x, each.height + y)[1], whole.pixel(x, y)[1], 10) << x << ' ' << y;
    }
}

TEST_F(Stills, TellsTheSizeAtWhichTheRingIsAsLargeAsItself) {
    scene::Scene scene = ringToScale();
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.view.scaleBar = false;
    scene.view.camera = {90, 0};
    const scene::Size size{300, 400};
    scene.view.camera.zoom = scene::zoomForScale(scene, size, 10);  // 254 pixels an inch
    Still still = stillOf({scene}, size);
    still.dotsPerInch = 254;
    writeStill(still, folder_ / "true.png");

    const auto dots = physicalSize(folder_ / "true.png");  // PNG specification, pHYs: pixels a metre
    EXPECT_EQ(dots[0], 10000U);
    EXPECT_EQ(dots[1], 10000U);
    const Image image = readPng(folder_ / "true.png");
    int first = size.height, last = 0;
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            if (image.pixel(x, y)[3] < 250) continue;
            first = std::min(first, y);
            last = std::max(last, y);
        }
    }
    // The outline is where the eye's rays touch the ring of 23 mm, a little before its middle.
    const double radius = 11.5, far = geometry::length(scene::viewpoint(scene, size).eye);
    EXPECT_NEAR(last + 1 - first, 2 * 10 * radius / std::sqrt(1 - radius * radius / (far * far)), 2.5);
    writeStill(stillOf({scene}, {32, 32}), folder_ / "plain.png");
    EXPECT_EQ(physicalSize(folder_ / "plain.png")[0], 0U) << "not told";
}

TEST_F(Stills, AFileThatCannotBeWrittenIsRefusedAndLeavesNothing) {
    EXPECT_THROW(writeStill(stillOf({ringToScale()}, {32, 32}), folder_ / "none" / "a.png"),
                 base::InputError);
    EXPECT_TRUE(std::filesystem::is_empty(folder_));
}

TEST_F(Stills, ATurntableIsAnEndlessWebpOfAllItsFrames) {
    writeTurntable({ringToScale(), {96, 72}, {.frames = 5, .milliseconds = 40}}, folder_ / "turn.webp");
    std::stringstream bytes;
    bytes << std::ifstream(folder_ / "turn.webp", std::ios::binary).rdbuf();
    const std::string text = bytes.str();
    const WebPData data{reinterpret_cast<const std::uint8_t*>(text.data()), text.size()};
    WebPAnimDecoder* decoder = WebPAnimDecoderNew(&data, nullptr);
    ASSERT_NE(decoder, nullptr);
    WebPAnimInfo info;
    ASSERT_NE(WebPAnimDecoderGetInfo(decoder, &info), 0);
    EXPECT_EQ(info.canvas_width, 96U);
    EXPECT_EQ(info.canvas_height, 72U);
    EXPECT_EQ(info.frame_count, 5U);
    EXPECT_EQ(info.loop_count, 0U) << "for ever";
    int end = 0;
    std::uint8_t* frame = nullptr;
    for (int i = 0; i < 5; ++i) {
        ASSERT_NE(WebPAnimDecoderGetNext(decoder, &frame, &end), 0);
        EXPECT_EQ(end, 40 * (i + 1));
        EXPECT_EQ(frame[3], 255);
    }
    WebPAnimDecoderDelete(decoder);
}

TEST_F(Stills, TheScaleBarIsAsLongAsItSays) {
    // The ring's own diameter in the picture, seen along its axis, against the bar's 5 mm.
    scene::Scene scene = ringToScale();
    scene.view.camera = {0, 0};
    const scene::Size size{800, 600};
    Renderer renderer(context_.loader());
    const Image image = settled(renderer, scene, {size, 0, 0, size});
    const int y = size.height - 21;  // the margin of 28 points of 0.75 pixels
    int first = size.width, last = 0;
    for (int x = size.width / 2; x < size.width; ++x) {
        if (image.pixel(x, y)[1] > 70) continue;
        first = std::min(first, x);
        last = std::max(last, x);
    }
    EXPECT_NEAR(last + 1 - first, 5 * scene::viewpoint(scene, size).pixelsPerMm, 2.5);
}

TEST_F(Stills, EachStudioLightsTheRingInItsOwnWayAndNoneLeavesItBlackOrBurnt) {
    Renderer renderer(context_.loader());
    const scene::Size size{160, 120};
    std::vector<double> means;
    for (const scene::Studio studio :
         {scene::Studio::Tent, scene::Studio::Window, scene::Studio::DarkField}) {
        scene::Scene scene = ringToScale();
        scene.view.scaleBar = false;
        scene.view.studio = studio;
        scene.view.backdrop = scene::Backdrop::Transparent;
        const Image image = settled(renderer, scene, {size, 0, 0, size});
        double sum = 0, count = 0, burnt = 0;
        for (std::size_t i = 0; i < image.rgba.size(); i += 4) {
            if (image.rgba[i + 3] < 255) continue;
            sum += image.rgba[i + 1];
            burnt += image.rgba[i + 1] > 252 ? 1 : 0;
            ++count;
        }
        means.push_back(sum / count);
        EXPECT_GT(means.back(), 25);
        EXPECT_LT(burnt / count, 0.1);
    }
    EXPECT_GT(means[0], means[1] + 5);
    EXPECT_GT(means[1], means[2] + 5);
}

}  // namespace
}  // namespace bandwright::render
