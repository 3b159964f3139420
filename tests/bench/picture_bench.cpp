// Frames of the samples: while the ring turns, one pass of a picture at rest, and the time until it rests.
// Name of the device first. A frame counts as done when the device says so (glFinish). Usage: picture_bench
// MODELS_FOLDER [Google Benchmark's options]

#include <benchmark/benchmark.h>
#include <glad/gl.h>

#include <cstdio>
#include <exception>
#include <filesystem>
#include <functional>
#include <map>
#include <memory>
#include <string>

#include "design/design_file.hpp"
#include "formats/stone_model.hpp"
#include "geometry/ring.hpp"
#include "platform/offscreen_context.hpp"
#include "render/renderer.hpp"

namespace bandwright::bench {

namespace {

constexpr scene::Size kSizes[] = {{1280, 800}, {1920, 1080}};

design::Design withMetal(design::Design design, const std::string& metal, design::Finish outside) {
    design.band.metal = metal;
    design.band.surface.outside = outside;
    return design;
}

/// The samples, and slow looks that no sample has.
std::map<std::string, design::Design> rings(const std::filesystem::path& folder) {
    std::map<std::string, design::Design> all;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) {
        const std::string name = entry.path().filename().string();
        if (const auto at = name.find(".ring.json"); at != std::string::npos)
            formats::readStoneModels(all[name.substr(0, at)] = design::readDesign(entry.path()), folder);
    }
    const design::Design harbour = all.at("harbour");
    all["hammered"] = withMetal(harbour, "gold-18k-yellow", design::Finish::Hammered);
    all["walnut"] = withMetal(harbour, "walnut", design::Finish::Polished);
    all["carbon-fibre"] = withMetal(harbour, "carbon-fibre", design::Finish::Polished);
    all["opal"] = harbour;
    all["opal"].settings[0].stone->gem = "opal";
    all["cabochon"] = all["opal"];
    all["cabochon"].settings[0].stone->cut = design::StoneCut::Cabochon;
    all["raindrop"] = all.at("anvil-road");
    all["raindrop"].band.layers.pattern = design::LayerPattern::Raindrop;
    return all;
}

/// GPU time between two places in the stream of commands, where the driver tells it.
class GpuClock {
  public:
    GpuClock() { glGenQueries(1, &query_); }
    ~GpuClock() { glDeleteQueries(1, &query_); }
    GpuClock(const GpuClock&) = delete;
    GpuClock& operator=(const GpuClock&) = delete;

    void start() const { glBeginQuery(GL_TIME_ELAPSED, query_); }
    void stop() {
        glEndQuery(GL_TIME_ELAPSED);
        GLuint64 nanoseconds = 0;
        glGetQueryObjectui64v(query_, GL_QUERY_RESULT, &nanoseconds);
        sum_ += static_cast<double>(nanoseconds) * 1e-6;
        ++count_;
    }
    double mean() const { return count_ > 0 ? sum_ / count_ : 0; }

  private:
    GLuint query_ = 0;
    double sum_ = 0;
    int count_ = 0;
};

struct Drawing {
    platform::OffscreenContext context;
    render::Renderer renderer{context.loader()};
};

/// The one that all but `start` share; made when first asked for.
std::unique_ptr<Drawing>& held() {
    static std::unique_ptr<Drawing> drawing;
    return drawing;
}

render::Renderer& renderer() {
    if (!held()) held() = std::make_unique<Drawing>();
    return held()->renderer;
}

void rest(const scene::Scene& scene, scene::Size size) {
    do {
        renderer().draw(scene, size);
    } while (!renderer().settled());
    glFinish();
}

// Pixels across that were drawn.
int widthOf(unsigned texture) {
    GLint width = 0;
    glBindTexture(GL_TEXTURE_2D, texture);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_WIDTH, &width);
    return width;
}

/// A frame while the ring turns.
void turning(benchmark::State& state, scene::Scene scene, scene::Size size) {
    for (int i = 0; i < 3; ++i)
        renderer().draw(scene, size, render::Quality::Moving);
    GpuClock clock;
    for (auto _ : state) {
        scene.view.camera.azimuth += 5;
        clock.start();
        renderer().draw(scene, size, render::Quality::Moving);
        glFinish();
        clock.stop();
    }
    state.counters["gpu_ms"] = clock.mean();
    state.counters["width"] = widthOf(renderer().draw(scene, size, render::Quality::Moving));
}

/// One pass of the picture at rest, in full quality.
void fullFrame(benchmark::State& state, scene::Scene scene, scene::Size size) {
    rest(scene, size);
    GpuClock clock;
    for (auto _ : state) {
        scene.view.camera.azimuth += 5;
        clock.start();
        renderer().draw(scene, size);
        glFinish();
        clock.stop();
    }
    state.counters["gpu_ms"] = clock.mean();
}

/// From the last turn until the picture rests.
void comingToRest(benchmark::State& state, scene::Scene scene, scene::Size size) {
    rest(scene, size);
    for (auto _ : state) {
        scene.view.camera.azimuth += 5;
        rest(scene, size);
    }
}

/// A turning frame after a change of one number: every body goes to the device anew.
void changedMeshes(benchmark::State& state, const scene::Scene& scene, scene::Size size) {
    scene::Scene copy = scene;
    for (scene::Body& body : copy.bodies)
        body.mesh = std::make_shared<const scene::BodyMesh>(*body.mesh);
    bool other = false;
    for (auto _ : state) {
        other = !other;
        renderer().draw(other ? copy : scene, size, render::Quality::Moving);
        glFinish();
    }
}

/// A context, a renderer and its first frame: shaders compiled, light computed.
void start(benchmark::State& state, const scene::Scene& scene, scene::Size size) {
    held().reset();
    for (auto _ : state) {
        Drawing drawing;
        drawing.renderer.draw(scene, size, render::Quality::Moving);
        glFinish();
    }
}

int run(int argc, char** argv) {
    benchmark::Initialize(&argc, argv);
    if (argc != 2) {
        std::fputs("Usage: picture_bench MODELS_FOLDER [--benchmark_filter=...]\n", stderr);
        return 2;
    }
    std::map<std::string, scene::Scene> scenes;
    for (const auto& [name, design] : rings(argv[1]))
        scenes[name] = scene::makeScene(design, geometry::buildParts(design), trade::builtInCatalogue());

    const auto add = [](const std::string& title, const std::function<void(benchmark::State&)>& measure) {
        benchmark::RegisterBenchmark(title.c_str(), measure)
            ->Unit(benchmark::kMillisecond)
            ->MeasureProcessCPUTime()
            ->UseRealTime();
    };
    const std::map<std::string, void (*)(benchmark::State&, scene::Scene, scene::Size)> frames = {
        {"Turning", turning}, {"FullFrame", fullFrame}, {"ComingToRest", comingToRest}};
    for (const auto& [what, measure] : frames) {
        for (const scene::Size size : kSizes) {
            const std::string at = "/" + std::to_string(size.width) + "x" + std::to_string(size.height) + "/";
            for (const auto& [name, scene] : scenes)
                add(what + at + name, [&scene = scene, measure = measure, size](benchmark::State& state) {
                    measure(state, scene, size);
                });
        }
    }
    for (const auto& [name, scene] : scenes) {
        add("ChangedMeshes/" + name,
            [&scene = scene](benchmark::State& state) { changedMeshes(state, scene, kSizes[0]); });
        add("Start/" + name, [&scene = scene](benchmark::State& state) { start(state, scene, kSizes[0]); });
    }
    renderer();
    std::printf("%s, OpenGL %s\n", reinterpret_cast<const char*>(glGetString(GL_RENDERER)),
                reinterpret_cast<const char*>(glGetString(GL_VERSION)));
    benchmark::RunSpecifiedBenchmarks();
    held().reset();
    return 0;
}

}  // namespace

}  // namespace bandwright::bench

int main(int argc, char** argv) {
    try {
        return bandwright::bench::run(argc, argv);
    } catch (const std::exception& problem) {
        std::fprintf(stderr, "%s\n", problem.what());
        return 1;
    }
}
