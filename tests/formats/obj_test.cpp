#include "formats/obj.hpp"

#include <gtest/gtest.h>
#include <tiny_obj_loader.h>
#include <unistd.h>

#include <cmath>
#include <fstream>
#include <map>
#include <sstream>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

class Obj : public testing::Test {
  protected:
    void SetUp() override {
        folder_ = fs::temp_directory_path() / ("bandwright-obj-" + std::to_string(::getpid()));
        fs::create_directories(folder_);
    }
    void TearDown() override { fs::remove_all(folder_); }

    fs::path folder_;
};

geometry::Part partOf(geometry::PartRole role, int number, const std::string& material, geometry::Mesh mesh) {
    geometry::Part part;
    part.role = role;
    part.number = number;
    part.material = material;
    part.mesh = std::move(mesh);
    return part;
}

/// One of each role; shapes of our own, far enough apart to be told from each other.
std::vector<geometry::Part> parts() {
    design::Stone band;
    band.cut = design::StoneCut::Cabochon;
    band.diameter = 20;
    design::Stone square;
    square.cut = design::StoneCut::StepSquare;
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    return {partOf(geometry::PartRole::Band, 1, catalogue.metals.front().id, geometry::stoneMesh(band)),
            partOf(geometry::PartRole::Fill, 1, catalogue.fillers.front().id, geometry::stoneMesh(square)),
            partOf(geometry::PartRole::Tube, 1, catalogue.metals.back().id, geometry::stoneMesh(square)),
            partOf(geometry::PartRole::Stone, 1, catalogue.gems.front().id, geometry::stoneMesh({})),
            partOf(geometry::PartRole::Stone, 2, catalogue.gems.front().id, geometry::stoneMesh({}))};
}

std::string contents(const fs::path& file) {
    std::ostringstream text;
    text << std::ifstream(file, std::ios::binary).rdbuf();
    return text.str();
}

tinyobj::ObjReader read(const fs::path& file) {
    tinyobj::ObjReader reader;
    EXPECT_TRUE(reader.ParseFromFile(file.string())) << reader.Error();
    EXPECT_EQ(reader.Warning(), "");
    return reader;
}

/// A group as a mesh of ours, points as the file numbers them.
geometry::Mesh meshOf(const tinyobj::ObjReader& reader, const tinyobj::shape_t& shape) {
    const tinyobj::attrib_t& attributes = reader.GetAttrib();
    geometry::Mesh mesh;
    std::map<int, std::uint32_t> numbers;
    for (std::size_t i = 0; i + 2 < shape.mesh.indices.size(); i += 3) {
        std::array<std::uint32_t, 3> triangle{};
        for (std::size_t k = 0; k < 3; ++k) {
            const int v = shape.mesh.indices[i + k].vertex_index;
            const auto [at, isNew] = numbers.try_emplace(v, static_cast<std::uint32_t>(mesh.points.size()));
            if (isNew) {
                const double* p = &attributes.vertices[3 * static_cast<std::size_t>(v)];
                mesh.points.push_back({p[0], p[1], p[2]});
                mesh.pointOf.push_back(at->second);
            }
            triangle[k] = at->second;
        }
        mesh.triangles.push_back(triangle);
    }
    return mesh;
}

TEST_F(Obj, IsReadBackByAnotherReaderWithEveryGroupClosedAndOfTheSameVolume) {
    const std::vector<geometry::Part> written = parts();
    writeObj(written, trade::builtInCatalogue(), "Test", folder_ / "ring.obj");
    const tinyobj::ObjReader reader = read(folder_ / "ring.obj");
    ASSERT_EQ(reader.GetShapes().size(), written.size());
    for (std::size_t i = 0; i < written.size(); ++i) {
        const tinyobj::shape_t& shape = reader.GetShapes()[i];
        EXPECT_EQ(shape.name, geometry::name(written[i]));
        const geometry::Mesh mesh = meshOf(reader, shape);
        EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
        EXPECT_EQ(mesh.triangles.size(), written[i].mesh.triangles.size());
        EXPECT_EQ(mesh.points.size(), written[i].mesh.points.size());
        EXPECT_NEAR(geometry::volume(mesh) / geometry::volume(written[i].mesh), 1, 1e-6);
        EXPECT_NEAR(geometry::area(mesh) / geometry::area(written[i].mesh), 1, 1e-6);
    }
}

TEST_F(Obj, KeepsPlacesToATenMillionthOfAMillimetreAndNormalsOfLengthOne) {
    const std::vector<geometry::Part> written = parts();
    writeObj(written, trade::builtInCatalogue(), "Test", folder_ / "ring.obj");
    const tinyobj::attrib_t attributes = read(folder_ / "ring.obj").GetAttrib();
    std::size_t i = 0;
    std::size_t n = 0;
    for (const geometry::Part& part : written) {
        for (const geometry::Vec3& p : part.mesh.points) {
            EXPECT_LE(std::abs(attributes.vertices[i++] - p.x), 0.5001e-7);
            EXPECT_LE(std::abs(attributes.vertices[i++] - p.y), 0.5001e-7);
            EXPECT_LE(std::abs(attributes.vertices[i++] - p.z), 0.5001e-7);
        }
        for (const auto& normal : part.mesh.normals) {
            for (const float c : normal)
                EXPECT_NEAR(attributes.normals[n++], c, 0.51e-5);
        }
    }
    EXPECT_EQ(attributes.vertices.size(), i);
    EXPECT_EQ(attributes.normals.size(), n);
}

TEST_F(Obj, NamesItsMaterialsWithTheColoursOfTheCatalogue) {
    const std::vector<geometry::Part> written = parts();
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    writeObj(written, catalogue, "Test", folder_ / "ring.obj");
    const tinyobj::ObjReader reader = read(folder_ / "ring.obj");
    ASSERT_EQ(reader.GetMaterials().size(), 4U);
    for (std::size_t i = 0; i < written.size(); ++i) {
        const int id = reader.GetShapes()[i].mesh.material_ids.front();
        const tinyobj::material_t& material = reader.GetMaterials()[static_cast<std::size_t>(id)];
        EXPECT_TRUE(material.name.ends_with("-" + written[i].material)) << material.name;
    }
    // sRGB's decoding, IEC 61966-2-1, gives the catalogue's linear colour back.
    const auto linear = [](double c) {
        return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
    };
    const trade::LinearRgb& metal = catalogue.metals.front().reflectance;
    for (std::size_t c = 0; c < 3; ++c) {
        EXPECT_NEAR(linear(reader.GetMaterials()[0].diffuse[c]), std::min(metal[c], 1.0), 2e-4);
    }
    EXPECT_NEAR(reader.GetMaterials()[3].ior, catalogue.gems.front().refractiveIndex.value, 1e-4);
    EXPECT_LT(reader.GetMaterials()[3].dissolve, 1);
}

TEST_F(Obj, WritesTheSameBytesEachTimeAndHoldsTheTitleOnOneLine) {
    writeObj(parts(), trade::builtInCatalogue(), "One\nv 1 2 3", folder_ / "a ring.obj");
    const std::string first = contents(folder_ / "a ring.obj");
    writeObj(parts(), trade::builtInCatalogue(), "One\nv 1 2 3", folder_ / "a ring.obj");
    EXPECT_EQ(contents(folder_ / "a ring.obj"), first);
    EXPECT_TRUE(first.starts_with("# Bandwright: One v 1 2 3\n"));
    EXPECT_NE(first.find("\nmtllib a_ring.mtl\n"), std::string::npos);
    EXPECT_TRUE(fs::exists(folder_ / "a_ring.mtl"));
}

TEST_F(Obj, WritesNumbersInTheShortestForm) {
    geometry::Part part = parts()[0];
    part.mesh.points = {{1.25, -3, 0.0000001}, {-0.00000004, 12345.6789, -0.5}, {0.1, 0, -1e-7}};
    part.mesh.pointOf = {0, 1, 2};
    part.mesh.normals = {{0, 0, 1}, {0, 0, 1}, {0.5F, 0, -0.25F}};
    part.mesh.triangles = {{0, 1, 2}};
    writeObj({part}, trade::builtInCatalogue(), "Test", folder_ / "ring.obj");
    const std::string text = contents(folder_ / "ring.obj");
    EXPECT_NE(text.find("\nv 1.25 -3 0.0000001\nv 0 12345.6789 -0.5\nv 0.1 0 -0.0000001\n"),
              std::string::npos)
        << text;
    EXPECT_NE(text.find("\nvn 0.5 0 -0.25\nf 1//1 2//2 3//3\n"), std::string::npos) << text;
}

void expectRefused(const std::vector<geometry::Part>& written, const fs::path& file,
                   const std::string& part) {
    try {
        writeObj(written, trade::builtInCatalogue(), "Test", file);
        ADD_FAILURE() << "written, expected: " << part;
    } catch (const base::InputError& error) {
        EXPECT_NE(std::string(error.what()).find(part), std::string::npos) << error.what();
    }
}

TEST_F(Obj, ThatCannotBeWrittenLeavesNothingBehind) {
    expectRefused(parts(), folder_ / "nowhere" / "ring.obj", "nowhere");
    expectRefused(parts(), folder_ / "ring.mtl", ".obj");
    std::vector<geometry::Part> unknown = parts();
    unknown.back().material = "unobtainium";
    expectRefused(unknown, folder_ / "ring.obj", "The stone-2 is of 'unobtainium'");
    fs::create_directory(folder_ / "taken.obj");
    expectRefused(parts(), folder_ / "taken.obj", "taken.obj");
    fs::remove(folder_ / "taken.obj");
    EXPECT_TRUE(fs::is_empty(folder_));
}

TEST_F(Obj, KeepsTheOldFileWhenItsMaterialsCannotBeWritten) {
    writeObj(parts(), trade::builtInCatalogue(), "Old", folder_ / "ring.obj");
    const std::string old = contents(folder_ / "ring.obj");
    fs::remove(folder_ / "ring.mtl");
    fs::create_directory(folder_ / "ring.mtl");
    expectRefused(parts(), folder_ / "ring.obj", "ring.mtl");
    EXPECT_EQ(contents(folder_ / "ring.obj"), old);
    EXPECT_EQ(std::distance(fs::directory_iterator(folder_), {}), 2);
}

/// What a chord of that height leaves of a surface's volume: two thirds of the height, and the place of each
/// corner is rounded in the file.
double mostVolumeMissed(const geometry::Mesh& mesh, double micrometres) {
    return (1.01 * 2 / 3 * micrometres / 1000 + 1e-7) * geometry::area(mesh);
}

class ObjOfSample : public Obj, public testing::WithParamInterface<std::string> {};

TEST_P(ObjOfSample, HoldsEachBodyClosedAndComesNearerItsVolumeAsTheToleranceFalls) {
    const design::Design design =
        design::readDesign(fs::path(BANDWRIGHT_MODELS) / (GetParam() + ".ring.json"));
    const std::vector<geometry::SolidPart> exact = geometry::bodies(design);
    std::vector<double> missed;
    for (const double tolerance : {40.0, 2.5}) {
        const std::vector<geometry::Part> built =
            geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(tolerance)});
        writeObj(built, trade::builtInCatalogue(), design.title, folder_ / "ring.obj");
        const tinyobj::ObjReader reader = read(folder_ / "ring.obj");
        ASSERT_EQ(reader.GetShapes().size(), built.size());
        missed.push_back(0);
        for (std::size_t i = 0; i < built.size(); ++i) {
            const tinyobj::shape_t& shape = reader.GetShapes()[i];
            SCOPED_TRACE(shape.name);
            EXPECT_EQ(shape.name, geometry::name(built[i]));
            const geometry::Mesh mesh = meshOf(reader, shape);
            EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
            EXPECT_EQ(mesh.triangles.size(), built[i].mesh.triangles.size());
            if (built[i].role == geometry::PartRole::Stone) continue;
            EXPECT_NEAR(geometry::volume(mesh), exact[i].solid.volume, mostVolumeMissed(mesh, tolerance));
            missed.back() += std::abs(geometry::volume(mesh) - exact[i].solid.volume);
        }
    }
    // A quarter of the tolerance gives about four times as many triangles; the number of chords along a curve
    // is whole.
    EXPECT_NEAR(std::sqrt(missed[0] / missed[1]), 4, 1);
}

INSTANTIATE_TEST_SUITE_P(Of, ObjOfSample,
                         testing::Values("anvil-road", "first-frost", "harbour", "lantern", "night-ferry",
                                         "orchard-gate", "seven-lamps", "shallows", "tide-mill"),
                         [](const auto& sample) {
                             std::string word = sample.param;
                             std::erase(word, '-');
                             return word;
                         });

}  // namespace
}  // namespace bandwright::formats
