#include <algorithm>
#include <cmath>
#include <set>

#include "geometry/stone.hpp"
#include "gl_fixture.hpp"
#include "read_png.hpp"
#include "render/renderer.hpp"
#include "shapes.hpp"

/// The pictures against known results for the light and the surfaces.
namespace bandwright::render {
namespace {

constexpr scene::Size kPictureSize{160, 120};

class Picture : public GlTest {
  protected:
    Image settled(const scene::Scene& scene, scene::Size size = kPictureSize) {
        Renderer renderer(context_.loader());
        do {
            renderer.draw(scene, size);
        } while (!renderer.settled());
        return renderer.read();
    }
};

// What Khronos PBR Neutral shows of grey light (Khronos ToneMapping, PBR_Neutral/README).
double neutral(double light) {
    const double offset = light < 0.08 ? light - 6.25 * light * light : 0.04, peak = light - offset;
    return peak < 0.76 ? peak : 1 - 0.24 * 0.24 / (peak + 0.24 - 0.76);
}

scene::Scene ballInEvenLight(const scene::MetalLook& metal) {
    scene::Scene scene = shapes::sceneOf(shapes::sphere(8), metal, {8, 8, 0, -8});
    scene.view.studio = scene::Studio::Even;
    scene.view.backdrop = scene::Backdrop::Transparent;
    return scene;
}

TEST_F(Picture, AWhiteMetalInEvenLightIsAsBrightAsTheLightWhateverItsFinish) {
    // The white furnace: a surface that absorbs nothing cannot be told from the light around it.
    for (const design::Finish finish :
         {design::Finish::Polished, design::Finish::Turned, design::Finish::Satin, design::Finish::Brushed,
          design::Finish::Blasted, design::Finish::Hammered}) {
        const Image image = settled(ballInEvenLight({{1, 1, 1}, {1, 1, 1}, scene::allOver(finish)}));
        for (int x = 0; x < kPictureSize.width; ++x) {
            const std::uint8_t* pixel = image.pixel(x, kPictureSize.height / 2);
            if (pixel[3] < 255) continue;
            for (int i = 0; i < 3; ++i) {
                EXPECT_NEAR(linear(pixel[i]), neutral(1), 0.012)
                    << "finish " << static_cast<int>(finish) << " at " << x;
            }
        }
    }
}

TEST_F(Picture, LayersOfTwoWhiteSteelsAbsorbNothingEither) {
    const Image image = settled(ballInEvenLight(
        {{1, 1, 1}, {1, 1, 1}, scene::allOver(design::Finish::Polished), scene::LayersLook{{1, 1, 1}, {}}}));
    for (int x = 0; x < kPictureSize.width; ++x) {
        const std::uint8_t* pixel = image.pixel(x, kPictureSize.height / 2);
        if (pixel[3] == 255) {
            EXPECT_NEAR(linear(pixel[1]), neutral(1), 0.012) << x;
        }
    }
}

TEST_F(Picture, AWhiteSkinOnABlackMetalAbsorbsNothing) {
    scene::MetalLook look{{0, 0, 0}, {0, 0, 0}, scene::allOver(design::Finish::Satin)};
    look.skin.emplace().fill({1, 1, 1});
    const Image image = settled(ballInEvenLight(look));
    const std::uint8_t* middle = image.pixel(kPictureSize.width / 2, kPictureSize.height / 2);
    EXPECT_NEAR(linear(middle[1]), neutral(1), 0.012);
}

TEST_F(Picture, ACloudedDomeInEvenLightIsNoBrighterThanTheLight) {
    // A white furnace for a stone: one that neither absorbs light nor sits in metal returns all light, except
    // for the last legs of the rays that are followed.
    design::Stone stone;
    stone.cut = design::StoneCut::Cabochon;
    stone.diameter = 14;
    stone.dome = 45;
    const geometry::Mesh mesh = geometry::stoneMesh(stone);
    scene::BodyMesh body;
    for (std::size_t v = 0; v < mesh.pointOf.size(); ++v) {
        const geometry::Vec3& p = mesh.points[mesh.pointOf[v]];
        body.vertices.push_back({shapes::floats(p), mesh.normals[v]});
    }
    for (const auto& triangle : mesh.triangles)
        body.indices.insert(body.indices.end(), triangle.begin(), triangle.end());
    scene::GemLook gem{1.5, 0, {1, 1, 1}, {}, {1, 1, 1}};
    gem.cloud = {.3, .3, .3};
    const double edge = geometry::heights(stone).girdle / 2, height = geometry::heights(stone).crown;
    gem.dome = {{0, 0, edge}, {{{1 / 7.0, 0, 0}, {0, 1 / 7.0, 0}, {0, 0, 1 / height}}}, {0, 0, 1}, -edge};
    scene::Scene scene = shapes::sceneOf(std::move(body), gem, {8, 8, 0, -8});
    scene.view.studio = scene::Studio::Even;
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.view.camera = {0, 30, 1};
    const Image image = settled(scene);
    for (int x = 0; x < kPictureSize.width; ++x) {
        const std::uint8_t* pixel = image.pixel(x, kPictureSize.height / 2);
        if (pixel[3] < 255) continue;
        EXPECT_LE(linear(pixel[1]), neutral(1) + 0.012) << x;
        EXPECT_GE(linear(pixel[1]), neutral(0.5)) << x;
    }
}

TEST_F(Picture, PatternWeldedSteelShowsBothItsSteelsStraightOnAndNothingBeyondThem) {
    scene::Scene scene = ballInEvenLight({{.5, .5, .5},
                                          {.5, .5, .5},
                                          scene::allOver(design::Finish::Polished),
                                          scene::LayersLook{{.2, .2, .2}, {}}});
    scene.view.camera = {90, 0, 3};  // along the layers
    const Image image = settled(scene);
    int dark = 0, bright = 0;
    for (int x = 0; x < kPictureSize.width; ++x) {
        const double seen = linear(image.pixel(x, kPictureSize.height / 2)[1]);
        EXPECT_GT(seen, neutral(.2) - 0.01) << x;
        EXPECT_LT(seen, neutral(.5) + 0.01) << x;
        if (seen < neutral(.25)) ++dark;
        if (seen > neutral(.45)) ++bright;
    }
    EXPECT_GT(dark, kPictureSize.width / 8);
    EXPECT_GT(bright, kPictureSize.width / 8);
}

TEST_F(Picture, APolishedMetalStraightOnHasItsOwnReflectance) {
    // From measured n and k: silver, platinum, titanium and steel; grey enough for the tone curve's grey
    // branch.
    for (const double reflectance : {.984, .640, .580, .513}) {
        const Image image = settled(ballInEvenLight({{reflectance, reflectance, reflectance},
                                                     {reflectance, reflectance, reflectance},
                                                     scene::allOver(design::Finish::Polished)}));
        const std::uint8_t* middle = image.pixel(kPictureSize.width / 2, kPictureSize.height / 2);
        EXPECT_NEAR(linear(middle[1]), neutral(reflectance), 0.006) << reflectance;
    }
}

TEST_F(Picture, GoldIsYellowAndSilverIsGrey) {
    const Image gold =
        settled(ballInEvenLight({{1, .73, .364}, {.99, .86, .65}, scene::allOver(design::Finish::Polished)}));
    const Image silver = settled(
        ballInEvenLight({{.989, .984, .978}, {.99, .99, .99}, scene::allOver(design::Finish::Polished)}));
    const std::uint8_t* g = gold.pixel(kPictureSize.width / 2, kPictureSize.height / 2);
    const std::uint8_t* s = silver.pixel(kPictureSize.width / 2, kPictureSize.height / 2);
    // sRGB of gold straight on: 255 222 163 before the tone curve, which keeps the hue and takes 0.04.
    EXPECT_GT(g[0], g[1] + 15);
    EXPECT_GT(g[1], g[2] + 40);
    EXPECT_LT(std::abs(s[0] - s[2]), 4);
}

TEST_F(Picture, TheRingStandsWhereTheCameraSays) {
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}},
                                         {11.5, 1.5, 8.5, -11.5});
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.view.camera.elevation = -30;  // from below the floor, whose shade is then not drawn
    const Image image = settled(scene);
    const scene::Viewpoint view = scene::viewpoint(scene.view.camera, scene.extent, kPictureSize);
    int inside = 0;
    for (int y = 0; y < kPictureSize.height; ++y) {
        for (int x = 0; x < kPictureSize.width; ++x) {
            // Least distance of the pixel's ray from the torus' middle circle, by walking along it, in long
            // steps where the circle is further than any that tells; a pixel gathers light from a disc of
            // 0.25 mm.
            const scene::Ray ray = scene::rayThrough(view, kPictureSize, x + 0.5, y + 0.5);
            double least = 1e9;
            for (double t = 0; t < 2 * geometry::length(view.eye);) {
                const geometry::Vec3 p = ray.from + t * ray.direction;
                const double away = std::hypot(std::hypot(p.x, p.y) - 10, p.z);
                least = std::min(least, away);
                t += std::max(0.02, away - 1.9);
            }
            if (least < 1.15) {
                EXPECT_EQ(image.pixel(x, y)[3], 255) << x << " " << y;
                ++inside;
            }
            if (least > 1.85) {
                EXPECT_EQ(image.pixel(x, y)[3], 0) << x << " " << y;
            }
        }
    }
    EXPECT_GT(inside, 500);
}

scene::Material stone(double index, const trade::LinearRgb& transmission) {
    scene::GemLook look;
    look.refractiveIndex = index;
    look.transmission = transmission;
    look.seat = {0.9, 0.7, 0.4};
    return look;
}

TEST_F(Picture, AClearStoneInEvenLightReturnsAllThatEntersIt) {
    // Another white furnace: with nothing absorbed and the same light all round, refraction and reflection
    // change nothing. A cube whose seat is white, so that what leaves downward comes back as bright.
    scene::BodyMesh mesh = shapes::sphere(5);
    auto look = std::get<scene::GemLook>(stone(1.6, {1, 1, 1}));
    look.seat = {1, 1, 1};
    for (const float sign : {-1.0F, 1.0F}) {
        look.facets.push_back({{sign, 0, 0}, 5});
        look.facets.push_back({{0, sign, 0}, 5});
        look.facets.push_back({{0, 0, sign}, 5});
    }
    scene::Scene scene = shapes::sceneOf(std::move(mesh), look, {5, 5, 0, -5});
    scene.view.studio = scene::Studio::Even;
    const Image image = settled(scene);
    const std::uint8_t* middle = image.pixel(kPictureSize.width / 2, kPictureSize.height / 2);
    EXPECT_GT(linear(middle[1]), 0.4);
    EXPECT_LE(linear(middle[1]), neutral(1) + 0.01);
}

TEST_F(Picture, AColouredStoneTakesTheColourThatItLetsThrough) {
    design::Design design;
    design.settings = {design::Setting{}};
    geometry::Part part{geometry::PartRole::Stone, 1, "emerald", 0, geometry::stoneMesh(design::Stone{})};
    for (geometry::Vec3& p : part.mesh.points)
        p = {p.z + 10, p.x, p.y};
    for (auto& n : part.mesh.normals)
        n = {n[2], n[0], n[1]};
    for (const auto& [gem, channel] : {std::pair{"emerald", 1}, std::pair{"ruby", 0}}) {
        part.material = gem;
        scene::Scene scene = scene::makeScene(design, {part}, trade::builtInCatalogue());
        scene.view.camera.elevation = 60;
        const Image image = settled(scene);
        std::array<double, 3> sum{};
        for (int y = 0; y < kPictureSize.height; ++y) {
            for (int x = 0; x < kPictureSize.width; ++x) {
                if (!scene::pick(scene, kPictureSize, x + 0.5, y + 0.5)) continue;
                for (std::size_t i = 0; i < 3; ++i)
                    sum[i] += image.pixel(x, y)[i];
            }
        }
        for (std::size_t i = 0; i < 3; ++i) {
            if (static_cast<int>(i) != channel) {
                EXPECT_GT(sum[static_cast<std::size_t>(channel)], 1.2 * sum[i]) << gem;
            }
        }
    }
}

// A stone alone, its table up, seen from a little aside and near.
scene::Scene stoneAlone(const design::Stone& stone) {
    design::Design design;
    design.settings = {design::Setting{}};
    design.settings[0].stone = stone;
    geometry::Part part{geometry::PartRole::Stone, 1, stone.gem, 0, geometry::stoneMesh(stone)};
    for (geometry::Vec3& p : part.mesh.points)
        p = {p.z + 10, p.x, p.y};
    for (auto& n : part.mesh.normals)
        n = {n[2], n[0], n[1]};
    scene::Scene scene = scene::makeScene(design, {part}, trade::builtInCatalogue());
    scene.view.camera.elevation = 55;
    scene.view.camera.zoom = 3;
    scene.view.backdrop = scene::Backdrop::Transparent;
    return scene;
}

// Share of a stone's pixels whose hue lies in each sixth of the circle, red first, and of those without much
// colour.
struct Hues {
    std::array<double, 6> share{};
    double grey = 0;
};
Hues huesOf(const Image& image, int colourful) {
    Hues hues;
    double count = 0;
    for (std::size_t i = 0; i < image.rgba.size(); i += 4) {
        if (image.rgba[i + 3] < 255) continue;
        ++count;
        const double r = image.rgba[i], g = image.rgba[i + 1], b = image.rgba[i + 2];
        const double most = std::max({r, g, b}), range = most - std::min({r, g, b});
        if (range < colourful) {
            ++hues.grey;
            continue;
        }
        const double sixth = most == r   ? (g - b) / range
                             : most == g ? 2 + (b - r) / range
                                         : 4 + (r - g) / range;
        ++hues.share[static_cast<std::size_t>(std::lround(sixth + 6)) % 6];
    }
    for (double& share : hues.share)
        share /= count;
    hues.grey /= count;
    return hues;
}

TEST_F(Picture, AnOpalOfAnyCutPlaysInManyHuesThatMoveAsItIsTurned) {
    for (const design::StoneCut cut : {design::StoneCut::RoundBrilliant, design::StoneCut::Cabochon}) {
        design::Stone stone;
        stone.cut = cut;
        stone.gem = "opal";
        stone.diameter = 8;
        scene::Scene scene = stoneAlone(stone);
        const Image image = settled(scene);
        const Hues hues = huesOf(image, 40);
        EXPECT_GE(
            std::count_if(hues.share.begin(), hues.share.end(), [](double share) { return share > 0.01; }), 3)
            << static_cast<int>(cut);
        EXPECT_LT(hues.grey, 0.8) << static_cast<int>(cut);
        scene.view.camera.azimuth += 12;
        const Hues turned = huesOf(settled(scene), 40);
        double moved = 0;
        for (std::size_t i = 0; i < 6; ++i)
            moved += std::abs(turned.share[i] - hues.share[i]);
        EXPECT_GT(moved, 0.03) << static_cast<int>(cut);
        // The same stone without its play is of one colour.
        std::get<scene::GemLook>(scene.bodies[0].material).opalescent = false;
        const Hues plain = huesOf(settled(scene), 40);
        EXPECT_GT(plain.grey, 0.9) << static_cast<int>(cut);
    }
}

TEST_F(Picture, OnlyAStoneThatSpreadsTheColoursShowsFire) {
    design::Stone stone;
    stone.gem = "moissanite";
    stone.diameter = 8;
    scene::Scene scene = stoneAlone(stone);
    auto& look = std::get<scene::GemLook>(scene.bodies[0].material);
    look.transmission = {1, 1, 1};
    look.seat = {0.8, 0.8, 0.8};
    const double fire = 1 - huesOf(settled(scene), 40).grey;
    look.dispersion = 0;
    const double none = 1 - huesOf(settled(scene), 40).grey;
    EXPECT_GT(fire, 0.04);
    EXPECT_LT(none, 0.02);
}

TEST_F(Picture, AFillShowsManyGrainsOfBothItsColours) {
    scene::FillLook fill{{0.7, 0.1, 0.1}, {0.1, 0.1, 0.7}, 0.6, 1.2};
    const scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), fill, {11.5, 1.5, 8.5, -11.5});
    const Image image = settled(scene);
    int red = 0, blue = 0;
    for (int y = 0; y < kPictureSize.height; ++y) {
        for (int x = 0; x < kPictureSize.width; ++x) {
            const std::uint8_t* p = image.pixel(x, y);
            if (p[0] > p[2] + 40) ++red;
            if (p[2] > p[0] + 40) ++blue;
        }
    }
    EXPECT_GT(red, 100);
    EXPECT_GT(blue, 100);
}

TEST_F(Picture, WithTheLightsOutOnlyWhatGlowsIsBright) {
    scene::FillLook fill{{0.3, 0.8, 0.5}, {0.3, 0.8, 0.5}, 0.2, 0.4};
    fill.glow = {0.1, 1, 0.3};
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), fill, {11.5, 1.5, 8.5, -11.5});
    scene.view.lightsOut = true;
    const auto brightest = [&] {
        const Image image = settled(scene);
        return *std::max_element(image.rgba.begin(), image.rgba.end(), [&](auto& a, auto& b) {
            return ((&a - image.rgba.data()) % 4 == 3 ? 0 : a) < ((&b - image.rgba.data()) % 4 == 3 ? 0 : b);
        });
    };
    EXPECT_LT(brightest(), 90);
    std::get<scene::FillLook>(scene.bodies[0].material).glows = true;
    EXPECT_GT(brightest(), 150);
}

TEST_F(Picture, WhatGlowsIsHalfAsBrightAfterFourMinutesAndAQuarterAfterTwelve) {
    // The afterglow of strontium aluminate falls about as one over the time (from memory).
    scene::FillLook fill{{0.5, 0.5, 0.5}, {0.5, 0.5, 0.5}, 0.2, 0.4};
    fill.glows = true;
    fill.glow = {0.8, 0.8, 0.8};
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), fill, {11.5, 1.5, 8.5, -11.5});
    scene.view.lightsOut = true;
    scene.view.backdrop = scene::Backdrop::Transparent;
    const auto light = [&](double minutes) {
        scene.view.minutesDark = minutes;
        const Image image = settled(scene);
        double sum = 0, count = 0;
        for (std::size_t i = 0; i < image.rgba.size(); i += 4) {
            const double shown = linear(image.rgba[i + 1]);
            if (image.rgba[i + 3] < 255 || shown < 0.05)
                continue;  // the bright parts, where the tone curve takes 0.04
            sum += shown + 0.04;
            ++count;
        }
        return sum / count;
    };
    const double first = light(0);
    EXPECT_GT(first, 0.4);
    EXPECT_NEAR(light(4) / first, 0.5, 0.04);
    EXPECT_NEAR(light(12) / first, 0.25, 0.04);
}

TEST_F(Picture, TheWallMapPaintsThinBrightAndThickDark) {
    scene::BodyMesh mesh = shapes::torus(10, 1.5);
    for (auto& vertex : mesh.vertices)
        vertex.wall = vertex.position[0] > 0 ? 0.3F : 3.0F;
    mesh.hasWalls = true;
    scene::Scene scene = shapes::sceneOf(std::move(mesh), scene::MetalLook{}, {11.5, 1.5, 8.5, -11.5});
    scene.view.wallMap = scene::WallScale{0.4, 2.0};
    scene.top = 90;  // the ring's x lies across the picture
    scene.view.camera = {0, 0};
    const Image image = settled(scene);
    const std::uint8_t* thin = image.pixel(kPictureSize.width / 2 + 42, kPictureSize.height / 2);
    const std::uint8_t* thick = image.pixel(kPictureSize.width / 2 - 42, kPictureSize.height / 2);
    EXPECT_GT(thin[0], thin[2] + 60);    // yellow
    EXPECT_GT(thick[2], thick[0] + 30);  // dark blue
}

TEST_F(Picture, ACutRingShowsItsInsideAsSolid) {
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}},
                                         {11.5, 1.5, 8.5, -11.5});
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.view.cutAway = 0.0;
    scene.view.camera = {0, -5};
    const Image image = settled(scene);
    const scene::Viewpoint view = scene::viewpoint(scene.view.camera, scene.extent, kPictureSize);
    for (const double angle : {0.3, 1.4, 2.9, 4.4}) {
        const auto pixel =
            scene::project(view, kPictureSize, {10 * std::cos(angle), 10 * std::sin(angle), 0});
        const std::uint8_t* p = image.pixel(static_cast<int>((*pixel)[0]), static_cast<int>((*pixel)[1]));
        EXPECT_EQ(p[3], 255) << angle;
        EXPECT_GT(p[1], 20) << angle;
    }
}

TEST_F(Picture, ARingCutAlongItsAxisShowsTwoSolidFacesAndNothingBeforeThem) {
    scene::Scene scene = shapes::sceneOf(shapes::torus(10, 1.5), scene::MetalLook{{.6, .6, .6}, {.6, .6, .6}},
                                         {11.5, 1.5, 8.5, -11.5});
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.top = 90;
    scene.view.cutThrough = 90;  // what lies towards +x is taken away
    scene.view.camera = {80, -5};
    const Image image = settled(scene);
    const scene::Viewpoint view = scene::viewpoint(scene, kPictureSize);
    const auto alpha = [&](geometry::Vec3 point) {
        const auto pixel = scene::project(view, kPictureSize, point);
        return image.pixel(static_cast<int>((*pixel)[0]), static_cast<int>((*pixel)[1]))[3];
    };
    for (const double side : {-1.0, 1.0}) {
        for (const geometry::Vec3& off : {geometry::Vec3{0, 0, 0}, geometry::Vec3{0, 1, 0},
                                          geometry::Vec3{0, 0, 1}, geometry::Vec3{0, -0.7, -0.7}})
            EXPECT_EQ(alpha(geometry::Vec3{0, 10 * side, 0} + off), 255)
                << side << " " << off.y << " " << off.z;
    }
    EXPECT_EQ(alpha({0, 11.7, 0}), 0);
}

}  // namespace
}  // namespace bandwright::render
