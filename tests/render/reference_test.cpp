
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include "design/design_file.hpp"
#include "geometry/ring.hpp"
#include "gl_fixture.hpp"
#include "read_png.hpp"
#include "render/renderer.hpp"

/// Pictures of the samples against small ones that a person has looked at. UPDATE_GOLDENS=1 writes them anew:
/// look at each before it is committed.
namespace bandwright::render {
namespace {

constexpr scene::Size kReferenceSize{192, 144};
constexpr int kBlock = 4;  // pixels: the eye at arm's length sees nothing finer

struct Lab {
    double l = 0, a = 0, b = 0;
};

// CIE 1976 L*a*b* under D65 of the mean light of a block.
Lab labOf(const Image& image, int left, int top) {
    std::array<double, 3> c{};
    for (int y = top; y < top + kBlock; ++y) {
        for (int x = left; x < left + kBlock; ++x) {
            for (std::size_t i = 0; i < 3; ++i) {
                const double v = image.pixel(x, y)[i] / 255.0;
                c[i] += (v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4)) / (kBlock * kBlock);
            }
        }
    }
    const auto f = [](double t) { return t > 0.008856 ? std::cbrt(t) : 7.787 * t + 16 / 116.0; };
    const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.9505);
    const double y = f(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]);
    const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.089);
    return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

struct Apart {
    double mean = 0, most = 0;
};

Apart difference(const Image& one, const Image& other) {
    Apart apart;
    int blocks = 0;
    for (int y = 0; y + kBlock <= kReferenceSize.height; y += kBlock) {
        for (int x = 0; x + kBlock <= kReferenceSize.width; x += kBlock) {
            const Lab a = labOf(one, x, y), b = labOf(other, x, y);
            const double here = std::hypot(a.l - b.l, a.a - b.a, a.b - b.b);
            apart.mean += here;
            apart.most = std::max(apart.most, here);
            ++blocks;
        }
    }
    apart.mean /= blocks;
    return apart;
}

class Reference : public GlTest, public testing::WithParamInterface<const char*> {};

TEST_P(Reference, LooksAsItDid) {
    const std::filesystem::path folder = BANDWRIGHT_REFERENCES;
    const std::string name = GetParam();
    const design::Design design =
        design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
    scene::Scene scene = scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue());
    Renderer renderer(context_.loader());
    do {
        renderer.draw(scene, kReferenceSize);
    } while (!renderer.settled());
    const Image image = renderer.read();
    const std::filesystem::path file = folder / (name + ".png");
    if (std::getenv("UPDATE_GOLDENS") != nullptr) writePng(image, file);  // NOLINT(concurrency-mt-unsafe)
    const Image reference = readPng(file);
    ASSERT_EQ(reference.size, kReferenceSize) << file;
    const Apart apart = difference(image, reference);
    // A difference of 2.3 is just noticed (Mahy, Van Eycken and Oosterlinck 1994); grains and glints may
    // move.
    EXPECT_LT(apart.mean, 1.0) << name;
    EXPECT_LT(apart.most, 20.0) << name;
    if (HasFailure()) {
        const auto actual = std::filesystem::path(testing::TempDir()) / (name + "-actual.png");
        writePng(image, actual);
        ADD_FAILURE() << "see " << actual << " beside " << file;
    }
}

// A turning ring is drawn with less work, but the picture must not jump when it comes to rest.
TEST_P(Reference, LooksNearlyAsItDoesAtRestWhileItTurns) {
    const std::string name = GetParam();
    const design::Design design =
        design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
    const scene::Scene scene =
        scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue());
    Renderer renderer(context_.loader());
    renderer.draw(scene, kReferenceSize, Quality::Moving);
    const Image moving = renderer.read();
    renderer.draw(scene, kReferenceSize);
    const Image first = renderer.read();
    do {
        renderer.draw(scene, kReferenceSize);
    } while (!renderer.settled());
    const Image still = renderer.read();
    const Apart atOnce = difference(moving, first), last = difference(first, still);
    EXPECT_LT(atOnce.mean, 1.2) << name;
    EXPECT_LT(last.mean, 0.8) << name;
}

INSTANTIATE_TEST_SUITE_P(Samples, Reference,
                         testing::Values("harbour", "anvil-road", "first-frost", "lantern", "night-ferry",
                                         "orchard-gate"),
                         [](const auto& sample) {
                             std::string name = sample.param;
                             std::erase(name, '-');
                             return name;
                         });

}  // namespace
}  // namespace bandwright::render
