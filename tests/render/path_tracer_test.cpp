#include <algorithm>
#include <cmath>
#include <random>
#include <vector>

#include "geometry/stone.hpp"
#include "gl_fixture.hpp"
#include "read_png.hpp"
#include "render/renderer.hpp"
#include "shapes.hpp"

/// The brightness pattern of a round brilliant against a path tracer that shares nothing with the shader: it
/// works in double precision on the planes the stone was cut to, decides at random at each facet whether the
/// ray is reflected, and follows it until it leaves.
namespace bandwright::render {
namespace {

constexpr scene::Size kTracedSize{96, 96};
constexpr double kFar = 10;  // mm from the ring's axis to the girdle

geometry::Vec3 outToX(geometry::Vec3 p) {
    return {p.z, p.x, p.y};
}

struct Tracer {
    std::vector<geometry::Plane> planes;
    double index;
    std::mt19937 dice{1};
    std::uniform_real_distribution<double> chance{0, 1};

    // Light that comes from a direction, as the picture has it in even light over a black seat: none from
    // below the girdle.
    static double beyond(geometry::Vec3 d) {
        const double t = std::clamp(-d.x / 0.25, 0.0, 1.0);
        return 1 - t * t * (3 - 2 * t);
    }

    // Fresnel by Snell's angle (Born and Wolf, Principles of Optics, 1.5.2).
    static double reflectance(double cosine, double ratio) {
        const double sine = std::sqrt(std::max(0.0, 1 - cosine * cosine)) / ratio;
        if (sine >= 1) return 1;
        const double other = std::sqrt(1 - sine * sine);
        const double s = (cosine - ratio * other) / (cosine + ratio * other);
        const double p = (ratio * cosine - other) / (ratio * cosine + other);
        return (s * s + p * p) / 2;
    }

    // `n` faces the side the light comes from; ratio: index beyond over index before.
    static geometry::Vec3 bent(geometry::Vec3 d, geometry::Vec3 n, double ratio) {
        const double c = -geometry::dot(d, n),
                     k = std::sqrt(std::max(0.0, 1 - (1 - c * c) / (ratio * ratio)));
        return (1 / ratio) * d + (c / ratio - k) * n;
    }

    double path(geometry::Vec3 p, geometry::Vec3 d) {
        for (int bounce = 0; bounce < 200; ++bounce) {
            double nearest = 1e30;
            const geometry::Plane* met = nullptr;
            for (const geometry::Plane& plane : planes) {
                const double towards = geometry::dot(plane.normal, d);
                if (towards <= 1e-12) continue;
                const double t = (plane.offset - geometry::dot(plane.normal, p)) / towards;
                if (t < nearest) nearest = t, met = &plane;
            }
            p = p + std::max(nearest, 0.0) * d;
            const double cosine = geometry::dot(d, met->normal);
            if (chance(dice) >= reflectance(cosine, 1 / index))
                return beyond(bent(d, -1.0 * met->normal, 1 / index));
            d = d - (2 * cosine) * met->normal;
        }
        return 0;
    }

    // Where a ray from outside meets the stone; nothing where it passes by.
    double seen(scene::Ray ray, int paths) {
        double in = -1e30, out = 1e30;
        const geometry::Plane* met = nullptr;
        for (const geometry::Plane& plane : planes) {
            const double towards = geometry::dot(plane.normal, ray.direction),
                         gap = plane.offset - geometry::dot(plane.normal, ray.from);
            if (towards < 0 && gap / towards > in) in = gap / towards, met = &plane;
            if (towards > 0) out = std::min(out, gap / towards);
        }
        if (met == nullptr || in >= out) return -1;
        const geometry::Vec3 p = ray.from + in * ray.direction;
        const double share = reflectance(-geometry::dot(ray.direction, met->normal), index);
        double sum = 0;
        for (int i = 0; i < paths; ++i)
            sum += path(p, bent(ray.direction, met->normal, index));
        // In even light whatever the surface mirrors is as bright as the light.
        return share + (1 - share) * sum / paths;
    }
};

double shown(double light) {  // Khronos PBR Neutral of grey light
    const double offset = light < 0.08 ? light - 6.25 * light * light : 0.04, peak = light - offset;
    return peak < 0.76 ? peak : 1 - 0.24 * 0.24 / (peak + 0.24 - 0.76);
}

class BrilliantInEvenLight : public GlTest {};

TEST_F(BrilliantInEvenLight, HasThePatternThatAPathTracerFinds) {
    design::Stone stone;
    stone.diameter = 6;
    Tracer tracer{{}, 2.417};
    for (const geometry::Plane& plane : geometry::facets(stone)) {
        const geometry::Vec3 n = outToX(plane.normal);
        tracer.planes.push_back({n, plane.offset + kFar * n.x, plane.tag});
    }
    geometry::Part part{geometry::PartRole::Stone, 1, "diamond", 0, geometry::stoneMesh(stone)};
    for (geometry::Vec3& p : part.mesh.points)
        p = outToX(p) + geometry::Vec3{kFar, 0, 0};
    for (auto& n : part.mesh.normals)
        n = {n[2], n[0], n[1]};
    design::Design design;
    design.settings = {design::Setting{}};
    scene::Scene scene = scene::makeScene(design, {part}, trade::builtInCatalogue());
    auto& gem = std::get<scene::GemLook>(scene.bodies[0].material);
    gem.refractiveIndex = tracer.index;
    gem.dispersion = 0;
    gem.transmission = {1, 1, 1};
    gem.seat = {0, 0, 0};
    scene.extent = {14, 3.5, 9, -14};
    scene.view.studio = scene::Studio::Even;
    scene.view.backdrop = scene::Backdrop::Transparent;
    scene.top = 0;  // the table faces up
    scene.view.camera = {0, 76, 4};
    scene.view.camera.pan = {0, 0};
    const scene::Viewpoint view = scene::viewpoint(scene, kTracedSize);
    const auto middle = scene::project(view, kTracedSize, scene::toStage({kFar, 0, 0}, 0));
    scene.view.camera.pan = {0.5 - (*middle)[0] / kTracedSize.width, (*middle)[1] / kTracedSize.height - 0.5};

    Renderer renderer(context_.loader());
    do {
        renderer.draw(scene, kTracedSize);
    } while (!renderer.settled());
    const Image image = renderer.read();

    const scene::Viewpoint here = scene::viewpoint(scene, kTracedSize);
    double squares = 0, sumA = 0, sumB = 0, sumAA = 0, sumBB = 0, sumAB = 0, count = 0;
    for (int y = 1; y < kTracedSize.height; y += 2) {
        for (int x = 1; x < kTracedSize.width; x += 2) {
            if (image.pixel(x, y)[3] < 255) continue;
            double light = 0;
            constexpr int kAcross = 3;  // rays a pixel each way
            for (int i = 0; i < kAcross * kAcross; ++i) {
                scene::Ray ray = scene::rayThrough(here, kTracedSize, x + (i % kAcross + 0.5) / kAcross,
                                                   y + (i / kAcross + 0.5) / kAcross);
                const geometry::Vec3 from = scene::toRing(ray.from, 0),
                                     direction = scene::toRing(ray.direction, 0);
                light += std::max(0.0, tracer.seen({from, direction}, 12)) / (kAcross * kAcross);
            }
            const double a = linear(image.pixel(x, y)[1]), b = shown(light);
            squares += (a - b) * (a - b);
            sumA += a, sumB += b, sumAA += a * a, sumBB += b * b, sumAB += a * b, ++count;
        }
    }
    ASSERT_GT(count, 400);
    const double correlation = (count * sumAB - sumA * sumB) /
                               std::sqrt((count * sumAA - sumA * sumA) * (count * sumBB - sumB * sumB));
    EXPECT_LT(std::sqrt(squares / count), 0.09);
    EXPECT_NEAR(sumA / count, sumB / count, 0.03);
    EXPECT_GT(correlation, 0.93);
}

}  // namespace
}  // namespace bandwright::render
