// What the program does at each change of a number.

#include <benchmark/benchmark.h>
#include <malloc.h>

#include "app/session.hpp"
#include "bench_ring.hpp"
#include "check/check.hpp"
#include "geometry/ring.hpp"
#include "geometry/wall.hpp"

namespace bandwright::bench {

namespace {

// As the program does, see main.cpp.
[[maybe_unused]] const bool kKeepsMemory =
    mallopt(M_MMAP_THRESHOLD, 64 << 20) == 1 && mallopt(M_TRIM_THRESHOLD, 128 << 20) == 1;

std::size_t triangles(const std::vector<geometry::Part>& parts) {
    std::size_t count = 0;
    for (const geometry::Part& part : parts)
        count += part.mesh.triangles.size();
    return count;
}

void meshes(benchmark::State& state, const design::Design& design, double tolerance) {
    std::size_t count = 0;
    for (auto _ : state) {
        const std::vector<geometry::Part> parts =
            geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(tolerance)});
        count = triangles(parts);
        benchmark::DoNotOptimize(count);
    }
    state.counters["triangles"] = static_cast<double>(count);
    state.counters["triangles/s"] =
        benchmark::Counter(static_cast<double>(count), benchmark::Counter::kIsIterationInvariantRate);
}

void Sections(benchmark::State& state) {
    const design::Design design = harbour();
    for (auto _ : state)
        benchmark::DoNotOptimize(geometry::sections(design));
}
BENCHMARK(Sections)->Unit(benchmark::kMicrosecond);

/// What a change of one number costs the window: new meshes and sections, all measures at every stage and all
/// findings, on two cores. The sample has nothing to mend, so seeking remedies is left out, as it is while a
/// number is dragged.
void change(benchmark::State& state, design::Design design) {
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    double step = 1e-3;
    for (auto _ : state) {
        design.band.thickness += step;
        step = -step;
        benchmark::DoNotOptimize(
            app::derive(design, catalogue, design::Stage::Finished, {.remedies = false}));
    }
}

void ChangeWithOneStone(benchmark::State& state) {
    change(state, harbour());
}
BENCHMARK(ChangeWithOneStone)->Unit(benchmark::kMicrosecond)->UseRealTime();

void ChangeWith24Stones(benchmark::State& state) {
    change(state, withStones(24));
}
BENCHMARK(ChangeWith24Stones)->Unit(benchmark::kMicrosecond)->UseRealTime();

void Findings(benchmark::State& state) {
    const design::Design design = harbour();
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    for (auto _ : state)
        benchmark::DoNotOptimize(check::check(design, catalogue, {.remedies = false}));
}
BENCHMARK(Findings)->Unit(benchmark::kMicrosecond);

/// 480 and 3,840 holes: only neighbours are held against each other, so it should grow no worse than the
/// count.
void FindingsOfManyHoles(benchmark::State& state) {
    const design::Design design = withRows(static_cast<int>(state.range(0)));
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    for (auto _ : state)
        benchmark::DoNotOptimize(check::check(design, catalogue, {.remedies = false}));
}
BENCHMARK(FindingsOfManyHoles)->Arg(4)->Arg(32)->Unit(benchmark::kMillisecond);

/// Many findings, all with remedies sought: the work is bounded, however much a ring has.
void RemediesOfManyHoles(benchmark::State& state) {
    const design::Design design = withRows(static_cast<int>(state.range(0)));
    const trade::Catalogue& catalogue = trade::builtInCatalogue();
    for (auto _ : state)
        benchmark::DoNotOptimize(check::check(design, catalogue));
}
BENCHMARK(RemediesOfManyHoles)->Arg(4)->Arg(32)->Unit(benchmark::kMillisecond);

void MeshesOfOneStoneAt10um(benchmark::State& state) {
    meshes(state, harbour(), 10);
}
BENCHMARK(MeshesOfOneStoneAt10um)->Unit(benchmark::kMicrosecond);

/// 24 -> 240 stones, both of the small size, should grow no worse than the count.
void MeshesOfManyStonesAt10um(benchmark::State& state) {
    constexpr double kSeat = 0.22;  // so narrow that 240 find room
    meshes(state, withStones(static_cast<int>(state.range(0)), kSeat), 10);
}
BENCHMARK(MeshesOfManyStonesAt10um)->Arg(24)->Arg(240)->Unit(benchmark::kMicrosecond);

/// How thick the metal is under every point of the band; its mesh exists already.
void WallMap(benchmark::State& state) {
    const design::Design design = withStones(static_cast<int>(state.range(0)));
    const geometry::Part band =
        geometry::buildParts(design, design::Stage::Finished, {base::Micrometres(4)}).front();
    for (auto _ : state)
        benchmark::DoNotOptimize(geometry::wallMap(band, design));
    state.counters["points"] = static_cast<double>(band.mesh.pointOf.size());
    state.counters["points/s"] = benchmark::Counter(static_cast<double>(band.mesh.pointOf.size()),
                                                    benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(WallMap)->Arg(1)->Arg(24)->Unit(benchmark::kMillisecond);

/// Linear in the triangles: each quarter of the tolerance has about four times as many.
void MeshesByTolerance(benchmark::State& state) {
    meshes(state, harbour(), 10.0 / static_cast<double>(state.range(0)));
}
BENCHMARK(MeshesByTolerance)->RangeMultiplier(4)->Range(1, 256)->Unit(benchmark::kMillisecond);

}  // namespace

}  // namespace bandwright::bench
