// Writing a model, beside assimp's and lib3mf's writers, and comparing a body. Triangles a second say how
// long a million takes.

#include <Model/COM/NMR_DLLInterfaces.h>
#include <assimp/scene.h>
#include <benchmark/benchmark.h>
#include <unistd.h>

#include <assimp/Exporter.hpp>
#include <assimp/Importer.hpp>
#include <filesystem>
#include <string>
#include <vector>

#include "bench_ring.hpp"
#include "compare/compare.hpp"
#include "compare/deviation.hpp"
#include "formats/body.hpp"
#include "formats/model.hpp"

namespace bandwright::bench {

namespace {

namespace fs = std::filesystem;

constexpr double kChord = 0.2;  // micrometres; some 600,000 triangles

fs::path scratch(const std::string& name) {
    const fs::path folder = fs::temp_directory_path() / ("bandwright-bench-" + std::to_string(getpid()));
    fs::create_directories(folder);
    return folder / name;
}

formats::ModelOptions optionsOf(double chord) {
    formats::ModelOptions options;
    options.build = {base::Micrometres(chord)};
    options.build.apart = false;
    return options;
}

std::size_t trianglesAt(double chord) {
    std::size_t count = 0;
    for (const geometry::Part& part : formats::chosenParts(harbour(), optionsOf(chord)))
        count += part.mesh.triangles.size();
    return count;
}

void tell(benchmark::State& state, std::size_t triangles) {
    state.SetItemsProcessed(static_cast<std::int64_t>(triangles) *
                            static_cast<std::int64_t>(state.iterations()));
}

/// With the meshes, which assimp is handed ready.
void written(benchmark::State& state, const std::string& ending) {
    const design::Design design = harbour();
    for (auto _ : state)
        formats::writeModel(design, trade::builtInCatalogue(), optionsOf(kChord), scratch("ring." + ending));
    tell(state, trianglesAt(kChord));
    const fs::path file = scratch("ring." + ending);
    if (fs::exists(file)) state.counters["bytes"] = static_cast<double>(fs::file_size(file));
}

void meshesAlone(benchmark::State& state) {
    const design::Design design = harbour();
    for (auto _ : state)
        benchmark::DoNotOptimize(formats::chosenParts(design, optionsOf(kChord)));
    tell(state, trianglesAt(kChord));
}

void writtenByAssimp(benchmark::State& state, const std::string& format, const std::string& ending) {
    formats::writeModel(harbour(), trade::builtInCatalogue(), optionsOf(kChord), scratch("handed.ply"));
    Assimp::Importer importer;
    const aiScene* scene = importer.ReadFile(scratch("handed.ply"), 0);
    if (scene == nullptr) {
        state.SkipWithError(importer.GetErrorString());
        return;
    }
    for (auto _ : state) {
        Assimp::Exporter exporter;
        if (exporter.Export(scene, format, scratch("theirs." + ending)) != aiReturn_SUCCESS)
            state.SkipWithError(exporter.GetErrorString());
    }
    state.counters["bytes"] = static_cast<double>(fs::file_size(scratch("theirs." + ending)));
    tell(state, trianglesAt(kChord));
}

/// A model of lib3mf's that holds the parts.
NMR::PLib3MFModel* modelOf(const std::vector<geometry::Part>& parts) {
    NMR::PLib3MFModel* model = nullptr;
    NMR::lib3mf_createmodel(&model);
    for (const geometry::Part& part : parts) {
        std::vector<NMR::MODELMESHVERTEX> points;
        for (const geometry::Vec3& p : part.mesh.points)
            points.push_back({{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)}});
        std::vector<NMR::MODELMESHTRIANGLE> triangles;
        for (const auto& t : part.mesh.triangles)
            triangles.push_back(
                {{part.mesh.pointOf[t[0]], part.mesh.pointOf[t[1]], part.mesh.pointOf[t[2]]}});
        NMR::PLib3MFModelMeshObject* object = nullptr;
        NMR::PLib3MFModelBuildItem* item = nullptr;
        NMR::lib3mf_model_addmeshobject(model, &object);
        NMR::lib3mf_meshobject_setgeometry(object, points.data(), static_cast<DWORD>(points.size()),
                                           triangles.data(), static_cast<DWORD>(triangles.size()));
        NMR::lib3mf_model_addbuilditem(model, object, nullptr, &item);
        NMR::lib3mf_release(item);
        NMR::lib3mf_release(object);
    }
    return model;
}

/// It is handed the meshes as single precision; ours are made in the time that is measured.
void writtenByLib3mf(benchmark::State& state) {
    const std::vector<geometry::Part> parts = formats::chosenParts(harbour(), optionsOf(kChord));
    for (auto _ : state) {
        NMR::PLib3MFModel* model = modelOf(parts);
        NMR::PLib3MFModelWriter* writer = nullptr;
        NMR::lib3mf_model_querywriter(model, "3mf", &writer);
        if (NMR::lib3mf_writer_writetofileutf8(writer, scratch("theirs.3mf").c_str()) != 0)
            state.SkipWithError("lib3mf does not write");
        NMR::lib3mf_release(writer);
        NMR::lib3mf_release(model);
    }
    tell(state, trianglesAt(kChord));
    state.counters["bytes"] = static_cast<double>(fs::file_size(scratch("theirs.3mf")));
}

/// A body of about a million triangles: read, laid into the design and measured.
void Compare(benchmark::State& state) {
    constexpr double kFine = 0.06;
    formats::ModelOptions options = optionsOf(kFine);
    options.oneBody = true;
    formats::writeModel(harbour(), trade::builtInCatalogue(), options, scratch("body.stl"));
    std::size_t triangles = 0;
    for (auto _ : state) {
        const geometry::Triangles body = formats::readBody(scratch("body.stl"));
        const compare::Designed designed(formats::chosenParts(harbour(), {.build = {compare::kNominalChord}}),
                                         formats::chosenBoundaries(harbour(), {}));
        const compare::Fit fit = compare::fit(designed, body, {});
        benchmark::DoNotOptimize(compare::deviation(designed, body, fit.pose, {}));
        triangles = body.triangles.size();
    }
    tell(state, triangles);
    fs::remove_all(scratch("").parent_path());
}

BENCHMARK(meshesAlone)->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(written, stl, "stl")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(writtenByAssimp, stl, "stlb", "stl")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(written, ply, "ply")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(writtenByAssimp, ply, "plyb", "ply")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(written, obj, "obj")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(writtenByAssimp, obj, "obj", "obj")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(written, glb, "glb")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(writtenByAssimp, glb, "glb2", "glb")->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(written, 3mf, "3mf")->Unit(benchmark::kMillisecond);
BENCHMARK(writtenByLib3mf)->Unit(benchmark::kMillisecond);
BENCHMARK(Compare)->Unit(benchmark::kMillisecond)->Iterations(1);

}  // namespace

}  // namespace bandwright::bench
