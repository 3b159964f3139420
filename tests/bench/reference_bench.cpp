// The same band by other kernels, for the ratio.

#include <CGAL/Exact_predicates_inexact_constructions_kernel.h>
#include <CGAL/Polygon_mesh_processing/corefinement.h>
#include <CGAL/Polygon_mesh_processing/transform.h>
#include <CGAL/Surface_mesh.h>
#include <benchmark/benchmark.h>

#include <numbers>

#include "bench_ring.hpp"
#include "geometry/ring.hpp"
#include "occt_solid.hpp"
#include "revolve.hpp"
#include "setting.hpp"

namespace bandwright::bench {

namespace {

using Kernel = CGAL::Exact_predicates_inexact_constructions_kernel;
using Surface = CGAL::Surface_mesh<Kernel::Point_3>;

Surface asSurface(const geometry::Mesh& mesh) {
    Surface surface;
    std::vector<Surface::Vertex_index> at;
    for (const geometry::Vec3& p : mesh.points)
        at.push_back(surface.add_vertex({p.x, p.y, p.z}));
    for (const auto& t : mesh.triangles)
        surface.add_face(at[mesh.pointOf[t[0]]], at[mesh.pointOf[t[1]]], at[mesh.pointOf[t[2]]]);
    return surface;
}

constexpr double kTolerance = 0.01;  // mm

/// Only our band with its holes, as the other two kernels make it.
void BandByUs(benchmark::State& state) {
    const design::Design design = withStones(static_cast<int>(state.range(0)));
    std::size_t triangles = 0;
    for (auto _ : state) {
        const geometry::Section band = geometry::sections(design).band;
        geometry::HoleRow row{geometry::settingHole(design, 0), {}};
        for (const double angle : design::placedAngles(design.settings[0].placement))
            row.angles.push_back(angle * std::numbers::pi / 180);
        triangles = geometry::revolved(band, std::array{row}, kTolerance).triangles.size();
        benchmark::DoNotOptimize(triangles);
    }
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(BandByUs)->Arg(1)->Arg(24)->Unit(benchmark::kMillisecond);

void BandByOpenCascade(benchmark::State& state) {
    const design::Design design = withStones(static_cast<int>(state.range(0)));
    const geometry::Section band = geometry::sections(design).band;
    std::size_t triangles = 0;
    for (auto _ : state)
        triangles = reference::triangulate(reference::drilled(band, design), kTolerance);
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(BandByOpenCascade)->Arg(1)->Arg(24)->Unit(benchmark::kMillisecond)->MinTime(1);

/// The plain band and the holes as triangles of the same tolerance, subtracted; making them is not counted.
void BandByCgalCorefinement(benchmark::State& state) {
    const design::Design design = withStones(static_cast<int>(state.range(0)));
    const Surface plain = asSurface(geometry::revolved(geometry::sections(design).band, {}, kTolerance));
    const geometry::HoleProfile profile = geometry::settingHole(design, 0);
    // The hole as a body of its own, turned about its axis.
    geometry::Loop outline;
    for (const geometry::HolePiece& p : profile.pieces) {
        const geometry::Vec2 from{p.x0, p.radius0};
        const geometry::Vec2 to{p.x1, p.radius1};
        if (!(from == to)) outline.push_back(geometry::line(to, from, p.tag));
    }
    std::reverse(outline.begin(), outline.end());
    const double low = profile.pieces.front().x0;
    const double high = profile.pieces.back().x1;
    constexpr double kThin = 1e-3;  // the axis itself is left open by a hair: the body is a ring
    outline.push_back(geometry::line(outline.back().to, {low, kThin}, {}));
    outline.push_back(geometry::line({low, kThin}, {high, kThin}, {}));
    outline.push_back(geometry::line({high, kThin}, outline.front().from, {}));
    const geometry::Mesh hole = geometry::revolved({outline}, {}, kTolerance);
    std::size_t triangles = 0;
    for (auto _ : state) {
        state.PauseTiming();
        Surface body = plain;
        std::vector<Surface> tools;
        for (const double degrees : design::placedAngles(design.settings[0].placement)) {
            const double angle = degrees * std::numbers::pi / 180;
            geometry::Mesh turned = hole;
            for (geometry::Vec3& p : turned.points) {
                const geometry::Vec3 q = {p.z, p.x, p.y};
                p = {q.x * std::cos(angle) - q.y * std::sin(angle),
                     q.x * std::sin(angle) + q.y * std::cos(angle), profile.offset + q.z};
            }
            tools.push_back(asSurface(turned));
        }
        state.ResumeTiming();
        for (Surface& tool : tools)
            CGAL::Polygon_mesh_processing::corefine_and_compute_difference(body, tool, body);
        triangles = body.number_of_faces();
    }
    state.counters["triangles"] = static_cast<double>(triangles);
}
BENCHMARK(BandByCgalCorefinement)->Arg(1)->Unit(benchmark::kMillisecond)->MinTime(1);

}  // namespace

}  // namespace bandwright::bench
