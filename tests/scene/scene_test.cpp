#include "scene/scene.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "design/design_file.hpp"
#include "geometry/ring.hpp"

#include "base/input_error.hpp"

namespace bandwright::scene {
namespace {

// A square plate that stands at x = `x`, facing +x: enough of a part to see.
geometry::Part plate(geometry::PartRole role, const std::string& material, double x,
                     geometry::Feature feature) {
    geometry::Part part{.role = role, .material = material};
    part.mesh.points = {{x, -2, -2}, {x, 2, -2}, {x, 2, 2}, {x, -2, 2}};
    part.mesh.pointOf = {0, 1, 2, 3};
    part.mesh.normals.assign(4, {1, 0, 0});
    part.mesh.triangles = {{0, 1, 2}, {0, 2, 3}};
    part.mesh.faces = {{{feature, 0}, 0, 2}};
    return part;
}

std::vector<geometry::Part> plates() {
    return {plate(geometry::PartRole::Band, "titanium-grade-5", 10, geometry::Feature::Outside),
            plate(geometry::PartRole::Fill, "crushed-opal", 10.5, geometry::Feature::FillTop),
            plate(geometry::PartRole::Stone, "emerald", 11, geometry::Feature::Table)};
}

design::Design designWithGrains(double least, double most) {
    design::Design design;
    design.channels = {design::Channel{}};
    design.channels[0].fill->grainLeast = least;
    design.channels[0].fill->grainMost = most;
    design.settings = {design::Setting{}};
    return design;
}

TEST(Scene, TakesEachPartsLookFromTheCatalogueAndTheDesign) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    const Scene scene = makeScene(designWithGrains(0.3, 0.9), plates(), catalogue);
    ASSERT_EQ(scene.bodies.size(), 3U);
    EXPECT_EQ(scene.bodies[0].name, "band");
    EXPECT_EQ(std::get<MetalLook>(scene.bodies[0].material).reflectance,
              catalogue.metal("titanium-grade-5")->reflectance);
    const auto& fill = std::get<FillLook>(scene.bodies[1].material);
    EXPECT_EQ(fill.grainLeast, 0.3);
    EXPECT_EQ(fill.grainMost, 0.9);
    EXPECT_EQ(fill.opalescent, catalogue.filler("crushed-opal")->opalescent);
    const auto& gem = std::get<GemLook>(scene.bodies[2].material);
    EXPECT_EQ(gem.refractiveIndex, catalogue.gem("emerald")->refractiveIndex.value);
    EXPECT_EQ(gem.seat, catalogue.metal("gold-18k-yellow")->reflectance);
}

TEST(Scene, RefusesAMaterialThatTheCatalogueDoesNotHave) {
    auto parts = plates();
    parts[0].material = "unobtainium";
    try {
        makeScene(designWithGrains(0.2, 0.4), parts, trade::builtInCatalogue());
        FAIL() << "taken";
    } catch (const base::InputError& error) {
        EXPECT_NE(std::string(error.what()).find("unobtainium"), std::string::npos);
    }
}

TEST(Scene, LeansTheFirstStoneFromTheTopTowardsTheCamera) {
    auto parts = plates();
    const auto stoneOnStage = [&] {
        const Scene scene = makeScene(designWithGrains(0.2, 0.4), parts, trade::builtInCatalogue());
        geometry::Vec3 sum;
        for (const geometry::Vec3& p : parts[2].mesh.points)
            sum = sum + p;
        const geometry::Vec3 stone = toStage((1 / geometry::length(sum)) * sum, scene.top);
        EXPECT_GT(stone.y, 0.85);
        EXPECT_GT(geometry::dot(stone, viewpoint(Camera{}, scene.extent, {800, 600}).backward), 0.7);
    };
    stoneOnStage();
    for (geometry::Vec3& p : parts[2].mesh.points)
        p = {p.y, p.x, p.z};  // a quarter round the ring
    stoneOnStage();
}

TEST(Scene, CarriesTheWallToItsVerticesAndKnowsWhereThereIsNone) {
    const Scene scene = makeScene(designWithGrains(0.2, 0.4), plates(), trade::builtInCatalogue(), {},
                                  {{1.1F, 1.2F, 1.3F, 1.4F}});
    EXPECT_EQ(scene.bodies[0].mesh->vertices[2].wall, 1.3F);
    EXPECT_TRUE(scene.bodies[0].mesh->hasWalls);
    EXPECT_FALSE(scene.bodies[1].mesh->hasWalls);
}

TEST(Scene, PicksTheNearestBodyUnderThePixel) {
    const Scene scene = makeScene(designWithGrains(0.2, 0.4), plates(), trade::builtInCatalogue());
    const Size size{640, 480};
    const geometry::Vec3 onStone{11, 0.7, -0.4};
    const Viewpoint view = viewpoint(scene.view.camera, scene.extent, size);
    const auto pixel = project(view, size, toStage(onStone, scene.top));
    const auto found = pick(scene, size, (*pixel)[0], (*pixel)[1]);
    ASSERT_TRUE(found.has_value());
    EXPECT_EQ(scene.bodies[found->body].name, "stone-1");
    EXPECT_EQ(found->tag.feature, geometry::Feature::Table);
    EXPECT_LT(geometry::distance(found->point, onStone), 1e-3);
    EXPECT_FALSE(pick(scene, size, 2, 2).has_value());
}

TEST(Scene, PicksNothingThatIsCutAwayButTheStonesWhichStayWhole) {
    Scene scene = makeScene(designWithGrains(0.2, 0.4), plates(), trade::builtInCatalogue());
    const Size size{640, 480};
    const auto picked = [&](geometry::Vec3 point) {
        const auto pixel = project(viewpoint(scene, size), size, toStage(point, scene.top));
        return pick(scene, size, (*pixel)[0], (*pixel)[1]);
    };
    scene.view.cutAway = 0.5;
    EXPECT_TRUE(picked({11, 1, 1}));  // the stone
    scene.bodies.resize(1);           // leaves the band
    const geometry::Vec3 kept{10, 1, 0}, beyond{10, 1, 1}, before{10, -1, 0};
    EXPECT_FALSE(picked(beyond));
    EXPECT_TRUE(picked(kept));
    scene.view.cutAway.reset();
    EXPECT_TRUE(picked(before));
    scene.view.cutThrough = 0;
    EXPECT_FALSE(picked(before));
    EXPECT_TRUE(picked(kept));
}

// Before the cut the pixel shows the outside of the nearer half; after it, metal that is cut through.
TEST(Scene, PicksNoSurfaceWhereThePictureShowsACut) {
    design::Design design;
    design.settings.clear();
    design.channels.clear();
    Scene scene = makeScene(design, geometry::buildParts(design), trade::builtInCatalogue());
    scene.view.camera = {.azimuth = 90, .elevation = 89};
    const Size size{640, 480};
    const geometry::Vec3 up = toRing({0, 1, 0}, scene.top), towards = toRing({1, 0, 0}, scene.top);
    const double outside = scene.extent.radius, bore = scene.extent.boreRadius;
    const auto picked = [&](geometry::Vec3 point) {
        const auto pixel = project(viewpoint(scene, size), size, toStage(point, scene.top));
        return pick(scene, size, (*pixel)[0], (*pixel)[1]);
    };
    const auto top = picked(outside * up);
    ASSERT_TRUE(top);
    EXPECT_EQ(top->tag.feature, geometry::Feature::Outside);
    EXPECT_GT(geometry::dot(top->normal, up), 0.999);
    // Cut level with the middle: what is above goes.
    const double degrees = std::atan2(towards.y, towards.x) * 180 / std::numbers::pi;
    for (const double half : {0.0, 180.0}) {
        scene.view.cutThrough = degrees + half;
        const geometry::Vec3 wall = 0.5 * (outside + bore) * towards, beside = 0.9 * bore * towards;
        if (geometry::dot(cutPlanes(scene.view).front().normal, up) < 0.5) continue;
        EXPECT_FALSE(picked(wall));
        const auto inner = picked(beside);
        ASSERT_TRUE(inner);
        EXPECT_EQ(geometry::regionOf(inner->tag.feature), geometry::Region::Bore);
        EXPECT_LT(geometry::dot(inner->normal, towards), 0);
        return;
    }
    FAIL() << "neither half is above";
}

// Wide rings and narrow ones; nothing of the finger may show through the metal.
TEST(Finger, FillsTheBoreAndStaysInsideIt) {
    for (const double halfWidth : {1.0, 4.0, 7.5, 15.0}) {
        const Extent extent{.radius = 11, .halfWidth = halfWidth, .boreRadius = 9};
        const Body finger = fingerIn(extent, 40);
        EXPECT_FALSE(finger.isPart);
        double most = 0, tip = 0, base = 0;
        for (const BodyMesh::Vertex& v : finger.mesh->vertices) {
            const double radius = std::hypot(v.position[0], v.position[1]);
            if (std::abs(v.position[2]) <= halfWidth) most = std::max(most, radius);
            tip = std::min(tip, static_cast<double>(v.position[2]));
            base = std::max(base, static_cast<double>(v.position[2]));
        }
        EXPECT_LT(most, 9) << halfWidth;
        EXPECT_GT(most, 8.9) << halfWidth;
        EXPECT_LT(tip, -halfWidth - 40);
        EXPECT_GT(base, halfWidth + 10);
    }
}

TEST(Finger, IsClosedAndLooksOutwards) {
    const Body finger = fingerIn(Extent{}, 0);
    const BodyMesh& mesh = *finger.mesh;
    double volume = 0;
    for (std::size_t i = 0; i < mesh.indices.size(); i += 3) {
        const auto corner = [&](std::size_t k) {
            const auto& p = mesh.vertices[mesh.indices[i + k]].position;
            return geometry::Vec3{p[0], p[1], p[2]};
        };
        const geometry::Vec3 across = cross(corner(1) - corner(0), corner(2) - corner(0));
        volume += dot(corner(0), across) / 6;
        if (geometry::length(across) < 1e-4) continue;  // at the ends
        const auto& n = mesh.vertices[mesh.indices[i]].normal;
        EXPECT_GT(dot(across, {n[0], n[1], n[2]}), 0);
    }
    // About a cylinder of the bore, 4.7 diameters long.
    EXPECT_NEAR(volume / (std::numbers::pi * 81 * 4.7 * 18), 0.9, 0.15);
}

TEST(Scene, SpreadApartLiftsTheStoneOffTheRingAndKeepsAllInThePicture) {
    Scene scene = makeScene(designWithGrains(0.2, 0.4), plates(), trade::builtInCatalogue());
    scene.view.spread = 1;
    const Size size{640, 480};
    const Viewpoint view = viewpoint(scene, size);
    for (const Body& body : scene.bodies) {
        const geometry::Vec3 away = shift(scene, body);
        EXPECT_EQ(away == geometry::Vec3{}, body.role == geometry::PartRole::Band) << body.name;
        for (const auto& vertex : body.mesh->vertices) {
            const geometry::Vec3 place{vertex.position[0], vertex.position[1], vertex.position[2]};
            const auto pixel = project(view, size, toStage(place + away, scene.top));
            ASSERT_TRUE(pixel);
            EXPECT_TRUE((*pixel)[0] > 0 && (*pixel)[0] < size.width) << body.name;
            EXPECT_TRUE((*pixel)[1] > 0 && (*pixel)[1] < size.height) << body.name;
        }
    }
    const geometry::Vec3 stone = scene.bodies[2].apart;
    EXPECT_GT(geometry::dot(stone, {1, 0, 0}), 5);  // along its hole
    const auto pixel = project(view, size, toStage(geometry::Vec3{11, 0, 0} + stone, scene.top));
    const auto found = pick(scene, size, (*pixel)[0], (*pixel)[1]);
    ASSERT_TRUE(found);
    EXPECT_EQ(scene.bodies[found->body].role, geometry::PartRole::Stone);
    EXPECT_LT(geometry::distance(found->point, {11, 0, 0}), 1e-3);  // of the part in its place
}

TEST(Scene, GivesEachSurfaceTheFinishOfTheDesignAndLeavesTheChannelBare) {
    design::Design design;
    design.band.metal = "titanium-grade-5";
    design.band.surface = {design::Finish::Satin, design::Finish::Polished, design::Finish::Blasted,
                           design::Treatment::Anodised, 50};
    const auto metal = [](const design::Design& d) {
        return std::get<MetalLook>(
            makeScene(d, geometry::buildParts(d), trade::builtInCatalogue()).bodies[0].material);
    };
    const MetalLook look = metal(design);
    const auto of = [&](geometry::Feature feature) {
        return look.finish[static_cast<std::size_t>(zoneOf(feature))];
    };
    EXPECT_EQ(of(geometry::Feature::Outside), design::Finish::Satin);
    EXPECT_EQ(of(geometry::Feature::Bevel), design::Finish::Polished);
    EXPECT_EQ(of(geometry::Feature::BoreCrown), design::Finish::Blasted);
    EXPECT_EQ(zoneOf(geometry::Feature::ChannelFloor), Zone::Cuts);
    EXPECT_EQ(zoneOf(geometry::Feature::Seat), Zone::Cuts);
    ASSERT_TRUE(look.skin);
    EXPECT_GT(look.skin->back()[2], 3 * look.skin->back()[0]) << "50 nm of oxide are blue straight on";
    design.band.surface.treatment = design::Treatment::None;
    EXPECT_FALSE(metal(design).skin);
}

TEST(Scene, TreatsTheBandAloneAndNoTubeOrLinerInIt) {
    for (const auto& [metal, treatment] : {std::pair{"titanium-grade-5", design::Treatment::Anodised},
                                           std::pair{"zirconium", design::Treatment::Blackened}}) {
        design::Design design = design::readDesign(std::string(BANDWRIGHT_MODELS) + "/harbour.ring.json");
        design.band.metal = metal;
        design.band.surface.treatment = treatment;
        design.band.surface.oxide = 50;
        design.band.liner = design::Liner{.metal = metal, .thickness = 0.6};
        design.settings[0].tube->metal = metal;
        int skinned = 0, bare = 0;
        for (const Body& body :
             makeScene(design, geometry::buildParts(design), trade::builtInCatalogue()).bodies) {
            const auto* look = std::get_if<MetalLook>(&body.material);
            if (look == nullptr) continue;
            EXPECT_EQ(look->skin.has_value(), body.role == geometry::PartRole::Band) << body.name;
            ++(look->skin ? skinned : bare);
        }
        EXPECT_EQ(skinned, 1);
        EXPECT_EQ(bare, 2);
    }
}

TEST(Scene, PutsABlackOxideOnZirconiumOnly) {
    design::Design design;
    design.band.metal = "zirconium";
    design.band.surface.treatment = design::Treatment::Blackened;
    const auto look = std::get<MetalLook>(
        makeScene(design, geometry::buildParts(design), trade::builtInCatalogue()).bodies[0].material);
    ASSERT_TRUE(look.skin);
    EXPECT_NEAR(look.skin->back()[1], std::pow(1.17 / 3.17, 2), 1e-3) << "Fresnel of index 2.17";
    design.band.metal = "silver-fine";
    EXPECT_THROW(design::requireMaterials(design, trade::builtInCatalogue()), base::InputError);
}

}  // namespace
}  // namespace bandwright::scene
