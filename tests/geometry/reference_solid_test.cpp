// OpenCASCADE's solids of the same designs as the reference: true arcs, cylinders and cones, revolved and
// cut.

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <numbers>
#include <string>

#include "design/design_file.hpp"
#include "mesh_checks.hpp"
#include "occt_solid.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

struct Measured {
    double volume = 0, area = 0;
};

constexpr double kBoxTolerance = 0.005;  // mm

void expectBox(const Mesh& mesh, const reference::Box& box, double tolerance) {
    reference::Box found{mesh.points.front(), mesh.points.front()};
    for (const Vec3& p : mesh.points) {
        found.least = {std::min(found.least.x, p.x), std::min(found.least.y, p.y),
                       std::min(found.least.z, p.z)};
        found.most = {std::max(found.most.x, p.x), std::max(found.most.y, p.y), std::max(found.most.z, p.z)};
    }
    const auto near = [&](double ours, double theirs) {
        EXPECT_LE(ours, theirs + kBoxTolerance);
        EXPECT_GE(ours, theirs - tolerance);
    };
    near(found.most.x, box.most.x);
    near(found.most.y, box.most.y);
    near(found.most.z, box.most.z);
    near(-found.least.x, -box.least.x);
    near(-found.least.y, -box.least.y);
    near(-found.least.z, -box.least.z);
}

/// Where a body's weight lies and how it is spread.
void expectSpread(const TopoDS_Shape& solid, const SolidProperties& ours) {
    const reference::Spread wanted = reference::spread(solid);
    // With its integration rule for moments, OpenCASCADE's own volume is wrong by this much.
    const double rule = std::max(2e-6, 2 * std::abs(wanted.size / ours.volume - 1));
    EXPECT_LT(rule, 2e-4);
    EXPECT_LT(distance(ours.centroid(), wanted.centroid), 10 * rule);
    const Inertia found = inertia(ours);
    const double share = rule * found.zz;
    EXPECT_NEAR(found.xx, wanted.inertia.xx, share);
    EXPECT_NEAR(found.yy, wanted.inertia.yy, share);
    EXPECT_NEAR(found.zz, wanted.inertia.zz, share);
    EXPECT_NEAR(found.xy, wanted.inertia.xy, share);
    EXPECT_NEAR(found.yz, wanted.inertia.yz, share);
    EXPECT_NEAR(found.zx, wanted.inertia.zx, share);
}

/// Cut by half-planes beside the middle of the first hole.
void expectSections(const TopoDS_Shape& solid, const Section& section, const design::Design& design) {
    const double hole = design::placedAngles(design.settings[0].placement)[0] * std::numbers::pi / 180;
    for (const double off : {-0.071, 0.018, 0.052}) {
        SCOPED_TRACE(off);
        const double angle = hole + off;
        const SectionProperties ours = properties(drilledAt(section, design, angle));
        const reference::Spread wanted = reference::spreadOfFlat(reference::cutAt(solid, angle));
        EXPECT_NEAR(ours.area, wanted.size, 2e-6 * wanted.size);
        EXPECT_NEAR(ours.centroid.z, wanted.centroid.z, 2e-6);
        EXPECT_NEAR(ours.centroid.r, std::hypot(wanted.centroid.x, wanted.centroid.y), 2e-6);
        // Square to the half-plane the two moments add up; about the axis along z stands the one in r.
        const double size = ours.secondMomentZ + ours.secondMomentR;
        EXPECT_NEAR(ours.secondMomentZ, wanted.inertia.zz, 1e-5 * size);
        const double c = std::cos(angle);
        const double s = std::sin(angle);
        const double aboutRadius =
            c * c * wanted.inertia.xx + s * s * wanted.inertia.yy - 2 * s * c * wanted.inertia.xy;
        EXPECT_NEAR(ours.secondMomentR, aboutRadius, 1e-5 * size);
        const double product = c * wanted.inertia.zx + s * wanted.inertia.yz;
        EXPECT_NEAR(ours.productMoment, product, 1e-5 * size);
    }
}

/// Meshes of a part of a design, each four times as fine as the one before.
constexpr std::array<double, 3> kTolerances = {40, 10, 2.5};

void expectAgreement(const design::Design& design, std::size_t part, const Section& section) {
    const TopoDS_Shape solid = reference::drilled(section, design);
    const Measured wanted{reference::volume(solid), reference::area(solid)};
    const reference::Box box = reference::box(solid, kBoxTolerance);
    const SolidProperties ours = bodies(design)[part].solid;
    EXPECT_NEAR(ours.volume, wanted.volume, 1e-6 * wanted.volume);
    EXPECT_NEAR(ours.area, wanted.area, 2e-6 * ours.area);
    expectSpread(solid, ours);
    if (part == 0 && !design.settings.empty()) expectSections(solid, section, design);
    std::array<Measured, kTolerances.size()> off{};
    for (std::size_t i = 0; i < kTolerances.size(); ++i) {
        const Part built =
            buildParts(design, design::Stage::Finished, {base::Micrometres(kTolerances[i])})[part];
        SCOPED_TRACE(name(built) + " at " + std::to_string(kTolerances[i]) + " um");
        off[i] = {std::abs(volume(built.mesh) - wanted.volume), std::abs(area(built.mesh) - wanted.area)};
        EXPECT_LE(off[i].volume, 2.0 / 3 * 1.01 * kTolerances[i] / 1000 * wanted.area);
        expectBox(built.mesh, box, kTolerances[i] / 1000);
    }
    // Second order in the chord is first order in the tolerance, a sixteenth at the end; but errors on hollow
    // faces cancel part of those on round faces.
    EXPECT_GE(off.front().volume / off.back().volume, 3);
    EXPECT_LE(off.back().area, 2e-3 * wanted.area);
    EXPECT_GE(off.front().area / off.back().area, 4);
}

void expectAgreement(const design::Design& design) {
    const RingSections plain = sections(design);
    std::size_t part = 0;
    expectAgreement(design, part++, plain.band);
    if (!plain.liner.empty()) expectAgreement(design, part++, plain.liner);
    for (const Section& fill : plain.fills)
        expectAgreement(design, part++, fill);
}

class SampleSolids : public testing::TestWithParam<std::string> {};

TEST_P(SampleSolids, AgreeInVolumeAreaAndBox) {
    expectAgreement(
        design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (GetParam() + ".ring.json")));
}
INSTANTIATE_TEST_SUITE_P(Of, SampleSolids,
                         testing::Values("anvil-road", "first-frost", "harbour", "lantern", "night-ferry",
                                         "orchard-gate", "seven-lamps", "shallows", "tide-mill"),
                         [](const auto& sample) {
                             std::string word = sample.param;
                             std::erase(word, '-');
                             return word;
                         });

/// Domed comfort bands with bevels and rounds, a channel with draft and corners, and holes of every kind that
/// stand across one of its sides; dimensions in no simple ratio to each other.
design::Design crossed(int number) {
    const auto wave = [&](double least, double most, double beat) {
        return least + (most - least) * (0.5 + 0.5 * std::sin(1.7 + beat * number));
    };
    design::Design design;
    design.band.width = wave(6, 9, 1.1);
    design.band.thickness = wave(2.2, 3, 1.3);
    design.band.outside = {static_cast<design::OutsideShape>(number % 4), wave(0.1, 0.4, 0.7)};
    design.band.bore = {design::BoreShape::Comfort, wave(0.1, 0.3, 1.9), number % 3 == 0 ? 1.3 : 0,
                        wave(0.1, 0.2, 2.3)};
    design.band.left = {design::EdgeShape::Bevel, wave(0.3, 0.6, 2.9), wave(35, 55, 0.9)};
    design.band.right = {design::EdgeShape::Round, wave(0.3, 0.6, 3.1), 45};
    design::Channel channel;
    channel.offset = wave(-0.8, 0.8, 3.7);
    channel.width = wave(2, 3, 4.1);
    channel.depth = wave(0.7, 1, 4.3);
    channel.floorRadius = wave(0.05, 0.15, 4.7);
    channel.draft = wave(-8, 8, 5.3);
    if (number % 3 == 1) design.band.liner = design::Liner{.thickness = wave(0.7, 0.9, 2.7)};
    design.channels = {channel};
    design::Setting setting;
    setting.tube.reset();
    setting.stone.reset();
    setting.placement.offset = channel.offset + (number % 2 == 0 ? 0.5 : -0.47) * channel.width;
    setting.placement.count = 1 + number % 2;
    // OpenCASCADE's surfaces have a seam at 0 degrees, and its cuts may fail there silently.
    setting.placement.start = wave(40, 140, 5.9);
    setting.hole.bottom = static_cast<design::HoleBottom>(number / 2 % 4);
    setting.hole.pilotDiameter = wave(0.8, 1.2, 6.1);
    setting.hole.pilotDepth = wave(1.3, 1.6, 6.7);
    setting.hole.steps = {{wave(1.6, 2.2, 7.1), wave(0.9, 1.15, 7.3)}};
    if (number % 3 == 2) setting.hole.steps[0].bearing = wave(8, 14, 8.3);
    if (number % 3 != 1) setting.hole.countersink = wave(0.2, 0.4, 7.9);
    design.settings = {setting};
    return design;
}

TEST(ClosedTubes, HaveTheVolumeAndTheAreaOfTheirTurnedWalls) {
    for (const design::StoneCut cut :
         {design::StoneCut::RoundBrilliant, design::StoneCut::RoseCut, design::StoneCut::Cabochon}) {
        design::Design design;
        design.settings = {design::Setting{}};
        design.settings[0].stone->cut = cut;
        const Loop wall = settingBodies(design, 0).tube.back();
        Loop turned;
        for (auto s = wall.rbegin(); s != wall.rend(); ++s)
            turned.push_back(line({s->to.r, s->to.z}, {s->from.r, s->from.z}, s->tag));
        ASSERT_GT(turned.size(), 6u) << "the lip is closed";
        const TopoDS_Shape solid = reference::turned({turned});
        const double ours = bodies(design)[1].solid.volume;
        EXPECT_NEAR(std::abs(reference::volume(solid)), ours, 1e-8 * ours);
        const Mesh mesh = buildParts(design, design::Stage::Finished, {base::Micrometres(1)})[1].mesh;
        EXPECT_NEAR(area(mesh), reference::area(solid), 1e-3 * area(mesh));
    }
}

class CrossedSolids : public testing::TestWithParam<int> {};

TEST_P(CrossedSolids, AgreeInVolumeAreaAndBox) {
    expectAgreement(crossed(GetParam()));
}
// Left out are numbers 0, 8 and 12: OpenCASCADE's cuts of them are solids that it calls valid and that lack a
// piece, wherever its seams are turned, while our mesh and our integral agree.
// OpenCASCADE takes two seconds for each; BANDWRIGHT_DESIGNS=20 has all of them.
std::vector<int> numbers() {
    std::vector<int> all{1, 2, 3, 4, 5, 6, 7, 9, 10, 11, 13, 14, 15, 16, 17, 18, 19, 21, 22, 23};
    all.resize(std::min<std::size_t>(all.size(), designsToDraw(8)));
    return all;
}
INSTANTIATE_TEST_SUITE_P(Number, CrossedSolids, testing::ValuesIn(numbers()));

}  // namespace
}  // namespace bandwright::geometry
