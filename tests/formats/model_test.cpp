// The files of the table, read back by programs that did not write them: admesh (STL), lib3mf (3MF), assimp
// (PLY, OBJ, STL), CGAL (PLY).

#include "formats/model.hpp"

#include <CGAL/IO/PLY.h>
#include <CGAL/Simple_cartesian.h>
#include <Model/COM/NMR_DLLInterfaces.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#include <gtest/gtest.h>

#include <assimp/Exporter.hpp>
#include <assimp/Importer.hpp>
#include <cmath>
#include <fstream>
#include <map>
#include <numeric>
#include <tuple>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "formats/body.hpp"
#include "formats/stone_model.hpp"
#include "geometry/ring.hpp"
#include "mesh_checks.hpp"
#include "program.hpp"
#include "random_design.hpp"

namespace bandwright::formats {
namespace {

namespace fs = std::filesystem;

design::Design sample(const std::string& name) {
    const fs::path folder = BANDWRIGHT_MODELS;
    design::Design design = design::readDesign(folder / (name + ".ring.json"));
    readStoneModels(design, folder);
    return design;
}

/// A body as another program read it.
struct ReadBody {
    std::string name;
    geometry::Mesh mesh;
};

/// Points in the same place made one, as STL needs.
geometry::Mesh welded(const std::vector<geometry::Vec3>& corners) {
    geometry::Mesh mesh;
    std::map<std::tuple<double, double, double>, std::uint32_t> numbers;
    std::vector<std::uint32_t> all;
    for (const geometry::Vec3& p : corners) {
        const auto [at, isNew] =
            numbers.try_emplace({p.x, p.y, p.z}, static_cast<std::uint32_t>(mesh.points.size()));
        if (isNew) mesh.points.push_back(p);
        all.push_back(at->second);
    }
    for (std::size_t i = 0; i + 2 < all.size(); i += 3)
        mesh.triangles.push_back({all[i], all[i + 1], all[i + 2]});
    mesh.pointOf.resize(mesh.points.size());
    std::iota(mesh.pointOf.begin(), mesh.pointOf.end(), 0U);
    return mesh;
}

std::vector<ReadBody> readByAssimp(const fs::path& file) {
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(file.string(), 0);
    if (scene == nullptr) {
        ADD_FAILURE() << importer.GetErrorString();
        return {};
    }
    std::vector<ReadBody> bodies;
    for (unsigned i = 0; i < scene->mNumMeshes; ++i) {
        const aiMesh& from = *scene->mMeshes[i];
        std::vector<geometry::Vec3> corners;
        for (unsigned f = 0; f < from.mNumFaces; ++f)
            for (unsigned k = 0; k < from.mFaces[f].mNumIndices; ++k) {
                const aiVector3D& p = from.mVertices[from.mFaces[f].mIndices[k]];
                corners.push_back({p.x, p.y, p.z});
            }
        bodies.push_back({from.mName.C_Str(), welded(corners)});
    }
    return bodies;
}

/// Points of a file are floats: about 5e-7 mm at the outside of a ring.
void expectSame(const geometry::Mesh& read, const geometry::Mesh& written, double away) {
    EXPECT_EQ(geometry::defects(read).openEdges, 0U);
    EXPECT_NEAR(geometry::volume(read), geometry::volume(written),
                away * geometry::area(written) + 1e-9 * geometry::volume(written));
}
constexpr double kFloat = 1e-6;

void expectNothingToRepair(const fs::path& file) {
    const app::Outcome told = app::runProgram({"admesh", file.string()});
    ASSERT_EQ(told.code, 0) << told.err;
    std::istringstream lines(told.out);
    std::size_t seen = 0;
    for (std::string line; std::getline(lines, line);) {
        for (const std::string what : {"Degenerate facets", "Edges fixed", "Facets removed", "Facets added",
                                       "Facets reversed", "Backwards edges", "Normals fixed"}) {
            const std::size_t at = line.find(what);
            if (at == std::string::npos) continue;
            ++seen;
            EXPECT_EQ(std::stol(line.substr(line.find(':', at) + 1)), 0) << line << "\n" << file;
        }
        if (line.starts_with("Total disconnected facets")) {
            ++seen;
            EXPECT_EQ(std::stol(line.substr(line.find(':') + 1)), 0) << line << "\n" << file;
        }
    }
    EXPECT_EQ(seen, 8U) << told.out;
}

void expectStl(const design::Design& design, const ModelOptions& options,
               const std::vector<geometry::Part>& parts, const app::ScratchFolder& folder) {
    const std::vector<fs::path> files =
        writeModel(design, trade::builtInCatalogue(), options, folder / "ring.stl");
    ASSERT_EQ(files.size(), parts.size());
    for (std::size_t i = 0; i < files.size(); ++i) {
        SCOPED_TRACE(files[i]);
        expectNothingToRepair(files[i]);
        const std::vector<ReadBody> read = readByAssimp(files[i]);
        ASSERT_EQ(read.size(), 1U);
        expectSame(read[0].mesh, parts[i].mesh, kFloat);
    }
}

void expectObj(const design::Design& design, const ModelOptions& options,
               const std::vector<geometry::Part>& parts, const app::ScratchFolder& folder) {
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.obj");
    const std::vector<ReadBody> read = readByAssimp(folder / "ring.obj");
    ASSERT_EQ(read.size(), parts.size());
    for (std::size_t i = 0; i < read.size(); ++i) {
        EXPECT_EQ(read[i].name, geometry::name(parts[i]));
        expectSame(read[i].mesh, parts[i].mesh, kFloat);
    }
}

void expectPly(const design::Design& design, const ModelOptions& options,
               const std::vector<geometry::Part>& parts, const app::ScratchFolder& folder) {
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.ply");
    double volume = 0, area = 0;
    std::size_t triangles = 0;
    for (const geometry::Part& part : parts) {
        volume += geometry::volume(part.mesh);
        area += geometry::area(part.mesh);
        triangles += part.mesh.triangles.size();
    }
    const std::vector<ReadBody> byAssimp = readByAssimp(folder / "ring.ply");
    ASSERT_EQ(byAssimp.size(), 1U);
    EXPECT_EQ(byAssimp[0].mesh.triangles.size(), triangles);
    EXPECT_NEAR(geometry::volume(byAssimp[0].mesh), volume, kFloat * area);

    std::vector<CGAL::Simple_cartesian<double>::Point_3> points;
    std::vector<std::vector<std::size_t>> polygons;
    std::ifstream in(folder / "ring.ply", std::ios::binary);
    ASSERT_TRUE(CGAL::IO::read_PLY(in, points, polygons));
    ASSERT_EQ(polygons.size(), triangles);
    geometry::Mesh mesh;
    for (const auto& p : points)
        mesh.points.push_back({p.x(), p.y(), p.z()});
    mesh.pointOf.resize(mesh.points.size());
    std::iota(mesh.pointOf.begin(), mesh.pointOf.end(), 0U);
    for (const auto& polygon : polygons)
        mesh.triangles.push_back({static_cast<std::uint32_t>(polygon[0]),
                                  static_cast<std::uint32_t>(polygon[1]),
                                  static_cast<std::uint32_t>(polygon[2])});
    EXPECT_EQ(geometry::defects(mesh), geometry::MeshDefects{});
    EXPECT_NEAR(geometry::volume(mesh), volume, 1e-12 * volume);
}

struct Model3Mf {
    NMR::PLib3MFModel* model = nullptr;
    NMR::PLib3MFModelReader* reader = nullptr;

    explicit Model3Mf(const fs::path& file) {
        EXPECT_EQ(NMR::lib3mf_createmodel(&model), 0);
        EXPECT_EQ(NMR::lib3mf_model_queryreader(model, "3mf", &reader), 0);
        EXPECT_EQ(NMR::lib3mf_reader_readfromfileutf8(reader, file.c_str()), 0);
    }
    ~Model3Mf() {
        NMR::lib3mf_release(reader);
        NMR::lib3mf_release(model);
    }
    Model3Mf(const Model3Mf&) = delete;
    Model3Mf& operator=(const Model3Mf&) = delete;
};

ReadBody bodyOf(NMR::PLib3MFModelMeshObject* object) {
    ReadBody body;
    std::array<char, 256> name{};
    ULONG needed = 0;
    EXPECT_EQ(NMR::lib3mf_object_getnameutf8(object, name.data(), name.size(), &needed), 0);
    body.name = name.data();
    BOOL isClosed = 0;
    EXPECT_EQ(NMR::lib3mf_meshobject_ismanifoldandoriented(object, &isClosed), 0);
    EXPECT_TRUE(isClosed) << body.name;
    DWORD points = 0, triangles = 0;
    EXPECT_EQ(NMR::lib3mf_meshobject_getvertexcount(object, &points), 0);
    EXPECT_EQ(NMR::lib3mf_meshobject_gettrianglecount(object, &triangles), 0);
    for (DWORD i = 0; i < points; ++i) {
        NMR::MODELMESHVERTEX p{};
        NMR::lib3mf_meshobject_getvertex(object, i, &p);
        body.mesh.points.push_back({p.m_fPosition[0], p.m_fPosition[1], p.m_fPosition[2]});
        body.mesh.pointOf.push_back(static_cast<std::uint32_t>(i));
    }
    for (DWORD i = 0; i < triangles; ++i) {
        NMR::MODELMESHTRIANGLE t{};
        NMR::lib3mf_meshobject_gettriangle(object, i, &t);
        body.mesh.triangles.push_back({t.m_nIndices[0], t.m_nIndices[1], t.m_nIndices[2]});
    }
    return body;
}

void expectThreeMf(const design::Design& design, const ModelOptions& options,
                   const std::vector<geometry::Part>& parts, const app::ScratchFolder& folder) {
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.3mf");
    const Model3Mf read(folder / "ring.3mf");
    DWORD warnings = 1;
    EXPECT_EQ(NMR::lib3mf_reader_getwarningcount(read.reader, &warnings), 0);
    EXPECT_EQ(warnings, 0U);
    NMR::PLib3MFModelResourceIterator* objects = nullptr;
    ASSERT_EQ(NMR::lib3mf_model_getmeshobjects(read.model, &objects), 0);
    BOOL more = 0;
    std::size_t i = 0;
    while (NMR::lib3mf_resourceiterator_movenext(objects, &more) == 0 && more) {
        ASSERT_LT(i, parts.size());
        NMR::PLib3MFModelResource* object = nullptr;
        NMR::lib3mf_resourceiterator_getcurrent(objects, &object);
        const ReadBody body = bodyOf(object);
        NMR::lib3mf_release(object);
        EXPECT_EQ(body.name, geometry::name(parts[i]));
        EXPECT_EQ(body.mesh.triangles.size(), parts[i].mesh.triangles.size());
        expectSame(body.mesh, parts[i].mesh, kFloat);
        ++i;
    }
    EXPECT_EQ(i, parts.size());
    NMR::lib3mf_release(objects);
}

/// Pieces of a part that are finished otherwise are open; together they enclose it. glTF is in metres.
void expectGlb(const design::Design& design, const ModelOptions& options,
               const std::vector<geometry::Part>& parts, const app::ScratchFolder& folder) {
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.glb");
    double wanted = 0, area = 0;
    for (const geometry::Part& part : parts) {
        wanted += geometry::volume(part.mesh);
        area += geometry::area(part.mesh);
    }
    std::vector<geometry::Vec3> corners;
    for (const ReadBody& body : readByAssimp(folder / "ring.glb"))
        for (const auto& t : body.mesh.triangles)
            for (const std::uint32_t v : t)
                corners.push_back(1e3 * body.mesh.points[v]);
    const double found = geometry::volume(welded(corners));
    EXPECT_NEAR(found, wanted, kFloat * area);
}

void expectAllFormats(const design::Design& design, const ModelOptions& options) {
    const app::ScratchFolder folder;
    const std::vector<geometry::Part> parts = geometry::buildParts(design, options.stage, options.build);
    expectStl(design, options, parts, folder);
    expectObj(design, options, parts, folder);
    expectPly(design, options, parts, folder);
    expectThreeMf(design, options, parts, folder);
    expectGlb(design, options, parts, folder);
}

class ModelOfSample : public testing::TestWithParam<std::string> {};

TEST_P(ModelOfSample, IsReadBackByOtherProgramsClosedAndOfTheSameVolume) {
    expectAllFormats(sample(GetParam()), {});
}

INSTANTIATE_TEST_SUITE_P(Of, ModelOfSample,
                         testing::Values("anvil-road", "first-frost", "harbour", "honeycomb", "lantern",
                                         "night-ferry", "orchard-gate", "seven-lamps", "shallows",
                                         "tide-mill"),
                         [](const auto& ring) {
                             std::string word = ring.param;
                             std::erase(word, '-');
                             return word;
                         });

// The validator of Khronos, which glTF comes from: no error and no warning. `./dev test` fetches it.
TEST(Model, IsRightGltf) {
    ASSERT_TRUE(fs::exists(fs::path(BANDWRIGHT_NODE) / "node_modules/gltf-validator"))
        << "The glTF validator is not in " << BANDWRIGHT_NODE << "; ./dev test fetches it";
    const app::ScratchFolder folder;
    std::vector<std::string> call = {"node", std::string(BANDWRIGHT_TESTS) + "/formats/validate_glb.cjs",
                                     BANDWRIGHT_NODE};
    for (const std::string name : {"anvil-road", "first-frost", "harbour", "honeycomb", "lantern",
                                   "night-ferry", "orchard-gate", "seven-lamps", "shallows", "tide-mill"}) {
        const design::Design design = sample(name);
        call.push_back(folder / (name + ".glb"));
        writeModel(design, trade::builtInCatalogue(), {}, call.back());
        for (const design::Stage stage : design.route) {
            if (name != "harbour" && name != "night-ferry") break;
            ModelOptions options;
            options.stage = stage;
            options.build = {base::Micrometres(40)};
            call.push_back(folder / (name + "-" + design::name(stage) + ".glb"));
            writeModel(design, trade::builtInCatalogue(), options, call.back());
        }
    }
    const app::Outcome told = app::runProgram(call);
    EXPECT_EQ(told.code, 0) << told.out << told.err;
}

TEST(Model, OfEachStageIsReadBackToo) {
    for (const std::string name : {"harbour", "seven-lamps"}) {
        const design::Design design = sample(name);
        for (const design::Stage stage : design.route) {
            SCOPED_TRACE(name + " " + design::name(stage));
            ModelOptions options;
            options.stage = stage;
            options.build = {base::Micrometres(40)};
            expectAllFormats(design, options);
        }
    }
}

// BANDWRIGHT_DESIGNS=500 is the long run.
TEST(Model, OfDesignsDrawnByLotIsReadBackToo) {
    std::uint64_t left = geometry::designsToDraw(12);
    for (std::uint64_t seed = 1; left > 0; ++seed) {
        const design::Design design = geometry::randomDesign(seed);
        if (!geometry::partsOf(design)) continue;
        --left;
        SCOPED_TRACE(seed);
        expectAllFormats(design, {.build = {base::Micrometres(40)}});
    }
}

TEST(Model, HasTheSameBytesEachTime) {
    const app::ScratchFolder folder;
    const design::Design design = sample("lantern");
    for (const ModelFormat& format : modelFormats()) {
        const std::string ending(format.ending);
        const auto files = writeModel(design, trade::builtInCatalogue(), {}, folder / ("ring" + ending));
        std::vector<std::string> first;
        for (const fs::path& file : files)
            first.push_back(app::readFile(file));
        writeModel(design, trade::builtInCatalogue(), {}, folder / ("ring" + ending));
        for (std::size_t i = 0; i < files.size(); ++i)
            EXPECT_TRUE(app::readFile(files[i]) == first[i]) << files[i];
    }
}

TEST(Model, HoldsThePartsThatAreChosenAndIsEnlargedForCasting) {
    const app::ScratchFolder folder;
    const design::Design design = sample("harbour");
    ModelOptions options;
    options.parts = {"band"};
    options.factor = 1.0125;
    ASSERT_EQ(writeModel(design, trade::builtInCatalogue(), options, folder / "ring.stl"),
              std::vector<fs::path>{folder / "ring.stl"});
    const geometry::Mesh band = geometry::buildParts(design).front().mesh;
    EXPECT_NEAR(geometry::volume(readByAssimp(folder / "ring.stl")[0].mesh),
                std::pow(1.0125, 3) * geometry::volume(band), kFloat * geometry::area(band));
    options.parts = {"tube", "stone-1"};
    writeModel(design, trade::builtInCatalogue(), options, folder / "ring.obj");
    const std::vector<ReadBody> read = readByAssimp(folder / "ring.obj");
    ASSERT_EQ(read.size(), 2U);
    EXPECT_EQ(read[0].name, "tube-1");
    options.parts = {"crown"};
    EXPECT_THROW(writeModel(design, trade::builtInCatalogue(), options, folder / "ring.obj"),
                 base::InputError);
}

TEST(Model, OfOneBodyNamesNoMaterials) {
    const app::ScratchFolder folder;
    const design::Design design = sample("harbour");
    ModelOptions options;
    options.oneBody = true;
    ASSERT_EQ(writeModel(design, trade::builtInCatalogue(), options, folder / "ring.obj").size(), 1U);
    EXPECT_EQ(readByAssimp(folder / "ring.obj").size(), 1U);
    EXPECT_EQ(app::readFile(folder / "ring.obj").find("usemtl"), std::string::npos);
    ASSERT_EQ(writeModel(design, trade::builtInCatalogue(), options, folder / "ring.stl").size(), 1U);
    EXPECT_THROW(writeModel(design, trade::builtInCatalogue(), options, folder / "ring.3mf"),
                 base::InputError);
}

TEST(Model, ThatIsStoppedLeavesNothingBehind) {
    const design::Design design = sample("harbour");
    for (const ModelFormat& format : modelFormats()) {
        const app::ScratchFolder folder;
        ModelOptions options;
        options.progress = [](double share) {
            EXPECT_LE(share, 1);
            if (share > 0.5) throw std::runtime_error("stopped");
        };
        options.parts = {"band"};
        EXPECT_THROW(writeModel(design, trade::builtInCatalogue(), options,
                                folder / ("ring" + std::string(format.ending))),
                     std::runtime_error)
            << format.name;
        EXPECT_TRUE(fs::is_empty(folder.path())) << format.name;
    }
}

TEST(ReadBody, TakesWhatOtherProgramsWrite) {
    const design::Design design = sample("harbour");
    const app::ScratchFolder folder;
    ModelOptions options;
    options.parts = {"band"};
    options.build.tolerance = base::Micrometres(50);
    const fs::path ours = folder / "ours.stl";
    writeModel(design, trade::builtInCatalogue(), options, ours);
    const geometry::Triangles direct = readBody(ours);

    const fs::path text = folder / "admesh.stl";
    ASSERT_EQ(app::runProgram({"admesh", "-n", "-a", text.string(), ours.string()}).code, 0);
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(ours.string(), aiProcess_JoinIdenticalVertices);
    ASSERT_NE(scene, nullptr);
    std::vector<fs::path> files = {text};
    Assimp::Exporter exporter;
    for (const auto& [format, name] : {std::pair{"stl", "text.stl"},
                                       {"stlb", "binary.stl"},
                                       {"obj", "a.obj"},
                                       {"ply", "text.ply"},
                                       {"plyb", "binary.ply"}}) {
        files.push_back(folder / name);
        ASSERT_EQ(exporter.Export(scene, format, files.back().string()), aiReturn_SUCCESS);
    }
    for (const fs::path& file : files) {
        SCOPED_TRACE(file);
        const geometry::Triangles read = readBody(file);
        EXPECT_EQ(read.points.size(), direct.points.size());
        EXPECT_EQ(read.triangles.size(), direct.triangles.size());
        // Seven digits of text.
        EXPECT_NEAR(geometry::volume(read), geometry::volume(direct), 1e-6 * geometry::volume(direct));
    }
}

TEST(CastingShrink, IsTheSolidsFromWhereItBeginsToMelt) {
    // Fine copper: 16.8 millionths a degree from 1083 to 20 degrees C, by hand.
    EXPECT_NEAR(castingShrink(*trade::builtInCatalogue().metal("copper")).factor, 1.0178584, 1e-7);
    EXPECT_THROW(castingShrink(*trade::builtInCatalogue().metal("walnut")), base::InputError);
}

}  // namespace
}  // namespace bandwright::formats
