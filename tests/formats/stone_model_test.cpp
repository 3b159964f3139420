#include "formats/stone_model.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>
#include <unistd.h>

#include <cmath>
#include <fstream>
#include <random>
#include <sstream>

#include "base/input_error.hpp"
#include "formats/obj.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

/// A box of 2 x 4 x 6 that stands apart from the origin, its facets four-sided.
const std::string kBox =
    "v 1 1 1\nv 3 1 1\nv 3 5 1\nv 1 5 1\nv 1 1 7\nv 3 1 7\nv 3 5 7\nv 1 5 7\n"
    "f 1 4 3 2\nf 5 6 7 8\nf 1 2 6 5\nf 2 3 7 6\nf 3 4 8 7\nf 4 1 5 8\n";

#if defined(__SANITIZE_ADDRESS__)
constexpr bool kCountsMemory = false;  // it keeps what was given back
#elif defined(__has_feature)
constexpr bool kCountsMemory = !__has_feature(address_sanitizer);
#else
constexpr bool kCountsMemory = true;
#endif

/// The most that this process has had, in kilobytes (getrusage).
long peakMemory() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

class StoneModel : public testing::Test {
  protected:
    void SetUp() override {
        file_ = fs::temp_directory_path() / ("bandwright-stone-" + std::to_string(::getpid()) + ".obj");
    }
    void TearDown() override {
        fs::remove(file_);
        fs::remove(fs::path(file_).replace_extension(".mtl"));
    }

    geometry::Mesh read(const std::string& text, const design::Stone& stone = {}) {
        std::ofstream(file_, std::ios::binary) << text;
        return stoneFromObj(file_, stone);
    }

    void expectRefused(const std::string& text, const std::string& part) {
        try {
            read(text);
            ADD_FAILURE() << "accepted, expected: " << part;
        } catch (const base::InputError& error) {
            EXPECT_NE(std::string(error.what()).find(part), std::string::npos) << error.what();
            EXPECT_TRUE(std::string(error.what()).starts_with(file_.string())) << error.what();
        }
    }

    fs::path file_;
};

void expectExtents(const geometry::Mesh& mesh, geometry::Vec3 half) {
    geometry::Vec3 most = {-HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    geometry::Vec3 least = {HUGE_VAL, HUGE_VAL, HUGE_VAL};
    for (const geometry::Vec3& p : mesh.points) {
        most = {std::max(most.x, p.x), std::max(most.y, p.y), std::max(most.z, p.z)};
        least = {std::min(least.x, p.x), std::min(least.y, p.y), std::min(least.z, p.z)};
    }
    EXPECT_NEAR(geometry::distance(most, half), 0, 1e-12);
    EXPECT_NEAR(geometry::distance(least, -1 * half), 0, 1e-12);
}

TEST_F(StoneModel, IsCentredTurnedAndScaledToTheGirdle) {
    const geometry::Mesh mesh = read(kBox, {.diameter = 1});
    EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
    EXPECT_EQ(geometry::eulerCharacteristic(mesh), 2);
    expectExtents(mesh, {1, 0.5, 1.5});
    EXPECT_NEAR(geometry::volume(mesh), 6, 1e-12);
    const geometry::Mesh longer = read(kBox, {.diameter = 1, .length = 5});
    expectExtents(longer, {2.5, 0.5, 1.5});
    EXPECT_NEAR(geometry::volume(longer), 15, 1e-12);
}

TEST_F(StoneModel, OfABrilliantOfOursComesBackAsThatBrilliant) {
    geometry::Part part;
    part.role = geometry::PartRole::Stone;
    part.material = trade::builtInCatalogue().gems.front().id;
    part.mesh = geometry::stoneMesh({.diameter = 4});
    writeObj({part}, trade::builtInCatalogue(), "Test", file_);
    const geometry::Mesh mesh = stoneFromObj(file_, {.diameter = 8});
    EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
    EXPECT_NEAR(geometry::volume(mesh) / geometry::volume(part.mesh), 8, 1e-5);
    double low = 0;
    for (const geometry::Vec3& p : mesh.points)
        low = std::min(low, p.z);
    const geometry::StoneHeights h = geometry::heights({.diameter = 8});
    EXPECT_NEAR(low, -h.girdle / 2 - h.pavilion, 1e-6);
    ASSERT_EQ(mesh.faces.size(), 3U);
    EXPECT_EQ(mesh.faces[0].tag.feature, geometry::Feature::Crown);
    EXPECT_EQ(mesh.faces[1].tag.feature, geometry::Feature::Girdle);
    EXPECT_EQ(mesh.faces[2].tag.feature, geometry::Feature::Pavilion);
}

TEST_F(StoneModel, MayHaveItsPointsWrittenOnceForEachFacetAndFaceInwards) {
    // The box again, each facet with corners of its own, turned inside out, with a point no facet uses.
    std::istringstream lines(kBox);
    std::vector<std::string> points;
    std::string own = "v 100 100 100\n";
    int count = 1;
    for (std::string key; lines >> key;) {
        std::string rest;
        std::getline(lines, rest);
        if (key == "v") {
            points.push_back("v" + rest + "\n");
            continue;
        }
        std::istringstream corners(rest);
        for (std::size_t corner = 0; corners >> corner; ++count)
            own += points[corner - 1];
        own += "f";
        for (int i = 0; i < 4; ++i)
            own += " " + std::to_string(count - i);
        own += "\n";
    }
    const geometry::Mesh mesh = read(own, {.diameter = 2});
    EXPECT_EQ(mesh.points.size(), 8U);
    EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
    EXPECT_NEAR(geometry::volume(mesh), 48, 1e-12);
}

TEST_F(StoneModel, MayHaveCornersWithinAnEdge) {
    std::string text = kBox + "v 2 1 1\n";  // point 9, half-way from 1 to 2
    text.replace(text.find("f 1 4 3 2"), 9, "f 1 4 3 2 9");
    text.replace(text.find("f 1 2 6 5"), 9, "f 1 9 2 6 5");
    const geometry::Mesh mesh = read(text, {.diameter = 2});
    EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
    EXPECT_NEAR(geometry::volume(mesh), 48, 1e-12);
}

TEST_F(StoneModel, ThatIsOpenOrNotManifoldIsRefusedWithTheCount) {
    expectRefused(kBox.substr(0, kBox.rfind("f ")), "is not closed: 4 of its edges");
    std::string turned = kBox;
    turned.replace(turned.find("f 5 6 7 8"), 9, "f 8 7 6 5");
    expectRefused(turned, "is not closed: 4 of its edges");
    // A second box that touches the first at the point 3 5 7.
    const std::string second =
        "v 3 5 7\nv 4 5 7\nv 4 6 7\nv 3 6 7\nv 3 5 8\nv 4 5 8\nv 4 6 8\nv 3 6 8\n"
        "f 9 12 11 10\nf 13 14 15 16\nf 9 10 14 13\nf 10 11 15 14\nf 11 12 16 15\nf 12 9 13 16\n";
    expectRefused(kBox + second, "touches itself in 1 points");
}

TEST_F(StoneModel, ThatIsNoModelIsRefused) {
    expectRefused("", "no facets");
    expectRefused("v 0 0 0\nv 1 0 0\n", "no facets");
    expectRefused("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 9\n", "a corner that does not exist");
    expectRefused("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 -9\n", file_.string());
    expectRefused("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 3 2 1\n", "encloses no volume");
    for (const char* vertex : {"v 0 nought 0\n", "v 0 0\n", "v nan 0 0\n", "v 1e999 0 0\n"})
        expectRefused("v 0 0 0\n" + std::string(vertex), "line 2 that is not three numbers");
    EXPECT_THROW(stoneFromObj(file_.string() + ".none", {}), base::InputError);
    EXPECT_THROW(stoneFromObj(fs::temp_directory_path(), {}), base::InputError);
}

/// Lines of tags, points and lines mean nothing here; a few bytes of them made the reader take gigabytes.
TEST_F(StoneModel, MayHaveLinesThatAreNotRead) {
    std::string more;
    for (int i = 0; i < 1000; ++i)
        more += "t a 0/0/8192\np 1\nl 1 2\n";
    EXPECT_NO_THROW(read(kBox + more));
}

/// Whatever stands in a file, reading it takes no more than a few times its size.
TEST_F(StoneModel, TakesMemoryInProportionToItsSize) {
    constexpr std::size_t kLargest = 16U << 20U;
    for (const std::string line :
         {"v 0 0 0\n", "f 1 1 1\n", "f 1\n", "f 1 2 3 1 2 3 1 2 3 1 2 3 1 2 3 1 2 3\n"}) {
        std::string lines = line;
        while (2 * lines.size() < kLargest)
            lines += lines;
        std::string text = kBox + lines;
        lines = {};
        std::ofstream(file_, std::ios::binary) << text;
        text = {};
        const long before = peakMemory();
        try {
            stoneFromObj(file_, {});
        } catch (const base::InputError&) {
            // Refused or read: what counts is what it took.
        }
        if (kCountsMemory) {
            EXPECT_LT(peakMemory() - before, 8 * 16 * 1024) << line << "kilobytes";
        }
    }
}

TEST_F(StoneModel, CutShortAnywhereIsRefused) {
    for (std::size_t size = 0; size + 2 < kBox.size(); ++size) {
        EXPECT_THROW(read(kBox.substr(0, size)), base::InputError) << size;
    }
}

TEST_F(StoneModel, WithAnyBytesChangedIsReadOrRefused) {
    std::mt19937 random(1);
    int refused = 0;
    for (int i = 0; i < 2000; ++i) {
        std::string text = kBox;
        for (int k = 0; k < 3; ++k)
            text[random() % text.size()] = static_cast<char>(random() % 256);
        try {
            EXPECT_EQ(geometry::defects(read(text)).openEdges, 0U);
        } catch (const base::InputError&) {
            ++refused;
        }
    }
    EXPECT_GT(refused, 500);
}

TEST_F(StoneModel, InADesignIsSetWeighedAndDrawnAsItsFileHasIt) {
    std::ofstream(file_, std::ios::binary) << kBox;
    design::Design design;
    design.settings = {design::Setting{}, design::Setting{}};
    design.settings[1].placement.start = 90;
    for (design::Setting& setting : design.settings) {
        setting.tube.reset();
        setting.hole = {.pilotDiameter = 0.4, .steps = {{3, 0.5}}};
        setting.stone->model = file_.filename().string();
        setting.stone->diameter = 1;
    }
    readStoneModels(design, file_.parent_path());
    ASSERT_TRUE(design.settings[0].stone->solid);
    EXPECT_EQ(design.settings[0].stone->solid.operator->(), design.settings[1].stone->solid.operator->())
        << "read once";
    // The box of 2 x 4 x 6 scaled to a width of 1 is 1 x 2 x 3.
    EXPECT_NEAR(geometry::bodies(design).back().solid.volume, 6, 1e-9);
    EXPECT_NEAR(geometry::girdleLength(*design.settings[0].stone), 2, 1e-12);
    const auto parts = geometry::buildParts(design);
    EXPECT_EQ(geometry::name(parts.back()), "stone-2");
    EXPECT_NEAR(geometry::volume(parts.back().mesh), 6, 1e-9);
    // It stands on the ledge, and the plane along the ring's axis cuts it 1 wide and 3 high.
    const geometry::Section outline = geometry::settingBodies(design, 0).stone;
    EXPECT_NEAR(geometry::properties(outline).area, 3, 1e-6);
    EXPECT_NEAR(geometry::properties(outline).centroid.r, design::outsideRadius(design) - 0.5 + 1.5, 1e-6);
}

TEST_F(StoneModel, ReadTwiceMakesTheSameDesignAndAnotherMakesAnother) {
    const auto designOf = [&](const std::string& text) {
        std::ofstream(file_) << text;
        design::Design design;
        design.settings.resize(1);
        design.settings[0].stone->model = file_.filename().string();
        readStoneModels(design, file_.parent_path());
        return design;
    };
    const design::Design once = designOf(kBox);
    EXPECT_EQ(once, designOf(kBox));
    std::string higher = kBox;
    for (std::size_t at = 0; (at = higher.find(" 7\nv", at)) != std::string::npos; ++at)
        higher[at + 1] = '8';
    higher.replace(higher.find(" 7\nf"), 2, " 8");
    EXPECT_NE(once, designOf(higher));
}

TEST_F(StoneModel, ThatIsMissingOrOpenIsRefusedWithItsPlaceInTheDesign) {
    design::Design design;
    design.settings = {design::Setting{}};
    design.settings[0].stone->model = "none.obj";
    const auto refusal = [&] {
        try {
            readStoneModels(design, file_.parent_path());
            geometry::requireBuildable(design);
        } catch (const base::InputError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    EXPECT_TRUE(refusal().starts_with("settings[0].stone.model: ")) << refusal();
    EXPECT_NE(refusal().find("cannot be read"), std::string::npos) << refusal();
    std::ofstream(file_, std::ios::binary) << kBox.substr(0, kBox.rfind("f "));
    design.settings[0].stone->model = file_.filename().string();
    EXPECT_NE(refusal().find("is not closed: 4 of its edges"), std::string::npos) << refusal();
    EXPECT_THROW(geometry::requireBuildable(design), base::InputError) << "a model that has not been read";
}

TEST_F(StoneModel, WithAHollowHasAnOutlineForEachPieceOfTheCut) {
    // A stool: a plate 4 x 4 x 1 on two legs along x, open to the middle plane between them.
    const double y[] = {-2, -1, 1, 2};
    const double z[] = {0, 1, 2};
    const auto solid = [&](int j, int k) { return j >= 0 && j < 3 && k >= 0 && k < 2 && (k == 1 || j != 1); };
    std::string text;
    int count = 0;
    const auto quad = [&](std::initializer_list<geometry::Vec3> corners) {
        for (const geometry::Vec3& p : corners)
            text += "v " + std::to_string(p.x) + " " + std::to_string(p.y) + " " + std::to_string(p.z) + "\n";
        text += "f " + std::to_string(count + 1) + " " + std::to_string(count + 2) + " " +
                std::to_string(count + 3) + " " + std::to_string(count + 4) + "\n";
        count += 4;
    };
    for (int j = 0; j < 3; ++j) {
        for (int k = 0; k < 2; ++k) {
            if (!solid(j, k)) continue;
            const double a = y[j], b = y[j + 1], c = z[k], d = z[k + 1];
            quad({{-2, a, c}, {-2, a, d}, {-2, b, d}, {-2, b, c}});
            quad({{2, a, c}, {2, b, c}, {2, b, d}, {2, a, d}});
            if (!solid(j - 1, k)) quad({{-2, a, c}, {2, a, c}, {2, a, d}, {-2, a, d}});
            if (!solid(j + 1, k)) quad({{-2, b, c}, {-2, b, d}, {2, b, d}, {2, b, c}});
            if (!solid(j, k - 1)) quad({{-2, a, c}, {-2, b, c}, {2, b, c}, {2, a, c}});
            if (!solid(j, k + 1)) quad({{-2, a, d}, {2, a, d}, {2, b, d}, {-2, b, d}});
        }
    }
    std::ofstream(file_, std::ios::binary) << text;
    design::Design design;
    design.settings = {design::Setting{}};
    design.settings[0].tube.reset();
    design.settings[0].stone->model = file_.filename().string();
    readStoneModels(design, file_.parent_path());
    const geometry::Section outline = geometry::settingBodies(design, 0).stone;
    // 4 x 1 and two legs of 1 x 1, at the scale of a girdle of 4 mm.
    EXPECT_NEAR(geometry::properties(outline).area, 6, 1e-5);
    EXPECT_NEAR(geometry::bodies(design).back().solid.volume, 24, 1e-5);
}

}  // namespace
}  // namespace bandwright::formats
