// The exact faces of the bodies: closed, in their places, and enclosing the volume that the integrals over
// the section and its holes give.

#include "geometry/boundary.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <iostream>
#include <memory>
#include <numeric>
#include <string>

#include "base/input_error.hpp"
#include "boundary_checks.hpp"
#include "design/design_file.hpp"
#include "geometry/ring.hpp"
#include "mesh_checks.hpp"
#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

/// The totals of one test's bodies, against the integrals over sections and holes.
struct Tally {
    std::size_t plain = 0, drilled = 0;
    double worstPlain = 0, worstDrilled = 0;
};

Tally& tally() {
    static Tally all;
    return all;
}

void expectSound(const Boundary& body, const SolidPart& wanted) {
    SCOPED_TRACE(name(body.part));
    EXPECT_EQ(name(body.part), name(wanted.part));
    EXPECT_EQ(body.part.material, wanted.part.material);
    EXPECT_EQ(body.part.source, wanted.part.source);
    EXPECT_EQ(brokenEdges(body), 0U);
    EXPECT_EQ(brokenLoops(body), 0U);
    const Stray stray = farthestOff(body);
    EXPECT_LT(stray.vertex, 1e-9);
    EXPECT_LT(stray.edge, 1e-9);
    const Enclosed found = enclosed(body);
    const double volume = wanted.solid.volume;
    const double area = wanted.solid.area;
    EXPECT_GT(found.leastFace, 0);
    if (body.larger > 0) {
        // A hole that just touches a face leaves a sliver whose width grows with the square root of the
        // enlargement.
        EXPECT_NEAR(found.volume, volume, body.larger * area + 1e-6 * volume);
        EXPECT_NEAR(found.area, area, std::sqrt(body.larger) * std::pow(area, 0.75));
        return;
    }
    const bool drilled = std::ranges::any_of(
        body.edges, [](const BoundaryEdge& edge) { return edge.curve.kind == CurveKind::Intersection; });
    const double off = std::max(std::abs(found.volume / volume - 1), std::abs(found.area / area - 1) / 10);
    Tally& t = tally();
    EXPECT_LT(off, 1e-9);
    ++(drilled ? t.drilled : t.plain);
    (drilled ? t.worstDrilled : t.worstPlain) = std::max(drilled ? t.worstDrilled : t.worstPlain, off);
}

/// V - E + F of the turned bodies, as their sections and holes have it; 2 of a stone, 0 of a tube.
void expectEuler(const design::Design& design, design::Stage stage, const std::vector<Boundary>& bodies) {
    const RingSections plain = sections(design, stage);
    const std::vector<PlacedHoles> holes =
        workpiece(design, stage).drilled ? placedHoles(design) : std::vector<PlacedHoles>();
    std::vector<const Section*> turned = {&plain.band};
    if (!plain.liner.empty()) turned.push_back(&plain.liner);
    for (const Section& fill : plain.fills)
        turned.push_back(&fill);
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        SCOPED_TRACE(name(bodies[i].part));
        const int tubeOrStone = bodies[i].part.role == PartRole::Stone ? 2 : 0;
        if (bodies[i].larger > 0) continue;  // what just touches may be told apart either way
        EXPECT_EQ(eulerCharacteristic(bodies[i]),
                  i < turned.size() ? eulerCharacteristic(*turned[i], holes) : tubeOrStone);
    }
}

void expectSound(const design::Design& design, design::Stage stage = design::Stage::Finished) {
    SCOPED_TRACE(design::name(stage));
    const std::vector<Boundary> found = boundaries(design, stage);
    const std::vector<SolidPart> wanted = bodies(design, stage);
    ASSERT_EQ(found.size(), wanted.size());
    for (std::size_t i = 0; i < found.size(); ++i)
        expectSound(found[i], wanted[i]);
    expectEuler(design, stage, found);
}

design::Design sample(const std::string& name) {
    return design::readDesign(std::filesystem::path(BANDWRIGHT_MODELS) / (name + ".ring.json"));
}

/// Stands for the stone whose file is read in another room: not convex, and leaning to one side.
std::shared_ptr<const design::StoneModel> wedge() {
    return std::make_shared<const design::StoneModel>(design::StoneModel{
        {{-1, -1, 0}, {1, -1, 0}, {1, 1, 0}, {-1, 1, 0}, {0.1, 0, 0.3}, {0.2, 0.1, -1}},
        {{0, 1, 4}, {1, 2, 4}, {2, 3, 4}, {3, 0, 4}, {1, 0, 5}, {2, 1, 5}, {3, 2, 5}, {0, 3, 5}}});
}

double areaOf(const Boundary& body, Tag tag) {
    Boundary part = body;
    std::erase_if(part.faces, [&](const BoundaryFace& face) { return face.tag != tag; });
    return enclosed(part).area;
}

double areaOf(const Mesh& mesh, Tag tag) {
    Mesh part = mesh;
    part.triangles.clear();
    for (const MeshFace& face : mesh.faces) {
        const auto first = mesh.triangles.begin() + face.firstTriangle;
        if (face.tag == tag) part.triangles.insert(part.triangles.end(), first, first + face.triangleCount);
    }
    return area(part);
}

TEST(Boundaries, OfTheSamplesAreSound) {
    for (const auto& entry : std::filesystem::directory_iterator(BANDWRIGHT_MODELS)) {
        if (!entry.path().string().ends_with(".ring.json")) continue;
        SCOPED_TRACE(entry.path().filename());
        design::Design design = design::readDesign(entry.path());
        for (design::Setting& setting : design.settings) {
            if (setting.stone && !setting.stone->model.empty()) setting.stone->solid = wedge();
        }
        expectSound(design);
    }
}

TEST(Boundaries, AtEveryStageOfTwoSamplesAreSound) {
    for (const char* ring : {"harbour", "night-ferry"}) {
        SCOPED_TRACE(ring);
        const design::Design design = sample(ring);
        for (const design::Stage stage : design.route)
            expectSound(design, stage);
    }
}

/// Area by tag; small fillets of the mesh lack most.
TEST(Boundaries, HaveTheFacesOfTheMeshes) {
    for (const char* ring : {"harbour", "tide-mill", "lantern", "seven-lamps"}) {
        SCOPED_TRACE(ring);
        const design::Design design = sample(ring);
        const std::vector<Boundary> exact = boundaries(design);
        const std::vector<Part> meshed = buildParts(design, design::Stage::Finished, {base::Micrometres(2)});
        ASSERT_EQ(exact.size(), meshed.size());
        for (std::size_t i = 0; i < exact.size(); ++i) {
            SCOPED_TRACE(name(meshed[i]));
            EXPECT_EQ(name(exact[i].part), name(meshed[i]));
            std::vector<Tag> tags;
            for (const MeshFace& face : meshed[i].mesh.faces)
                tags.push_back(face.tag);
            for (const BoundaryFace& face : exact[i].faces)
                tags.push_back(face.tag);
            for (const Tag tag : tags) {
                const double area = areaOf(meshed[i].mesh, tag);
                EXPECT_NEAR(areaOf(exact[i], tag), area, 0.02 * area) << name(tag.feature);
            }
        }
    }
}

TEST(Boundaries, OfDesignsDrawnByLotAreSound) {
    const std::uint64_t count = designsToDraw(300);
    std::vector<std::uint64_t> seeds(count);
    std::iota(seeds.begin(), seeds.end(), std::uint64_t{0});
    // Holes that all but touch a side.
    seeds.insert(seeds.end(), {177, 270, 829, 1249, 2340});
    std::size_t made = 0, refused = 0;
    for (const std::uint64_t seed : seeds) {
        if (testing::Test::HasFailure()) break;
        SCOPED_TRACE(seed);
        const design::Design design = randomDesign(seed);
        try {
            requireBuildable(design);
        } catch (const base::InputError&) {
            continue;
        }
        const design::Stage stage =
            seed % 4 == 0 ? design.route[seed / 4 % design.route.size()] : design::Stage::Finished;
        try {
            boundaries(design, stage);
            ++made;
        } catch (const base::InputError&) {
            // Holes that run into each other are drawn all the same.
            for (const Part& part : buildParts(design, stage))
                EXPECT_EQ(defects(part.mesh), MeshDefects{});
            ++refused;
            continue;
        }
        expectSound(design, stage);
    }
    EXPECT_GT(made, count / 5);
    std::cout << made << " sound, " << refused << " refused; plain " << tally().plain << " to "
              << tally().worstPlain << ", drilled " << tally().drilled << " to " << tally().worstDrilled
              << '\n';
}

}  // namespace
}  // namespace bandwright::geometry
