#include <algorithm>
#include <cmath>

#include "arithmetic.hpp"
#include "ellipse.hpp"
#include "gauss.hpp"
#include "geometry/stone.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

constexpr int kLeastRound = 24;
constexpr int kLeastRows = 4;

/// Steps for an angle so that a circle's chords stand off it by at most `sagitta`.
int steps(double angle, double radius, double sagitta, int least) {
    const double share = std::min(1.0, sagitta / radius);
    return std::max(least, static_cast<int>(std::ceil(angle / (2 * std::acos(1 - share)))));
}

/// The half axes along x, y and z.
struct Ellipsoid {
    double a = 0, b = 0, c = 0;
};

Ellipsoid domeOf(const design::Stone& stone) {
    return {girdleLength(stone) / 2, stone.diameter / 2, stone.dome / 100 * stone.diameter};
}

/// Area of the upper half of an ellipsoid.
double areaOfHalf(const Ellipsoid& e) {
    constexpr int kPieces = 4;  // along each angle, for ellipsoids that are far from round
    const double piece = kPi / 2 / kPieces;
    double sum = 0;
    for (int i = 0; i < kPieces * kPieces; ++i) {
        const int row = i / kPieces;
        const int column = i % kPieces;
        gauss([&](double s, double weightS) {
            const double rise = piece * (row + s);
            gauss([&](double t, double weightT) {
                const double round = piece * (column + t);
                const double out = std::cos(rise);
                const double size =
                    length(Vec3{e.b * e.c * out * std::cos(round), e.a * e.c * out * std::sin(round),
                                e.a * e.b * std::sin(rise)});
                sum += weightS * weightT * out * size;
            });
        });
    }
    return 4 * piece * piece * sum;
}

/// Adds rows of vertices one above the other and the triangles between them.
struct CabochonBuilder {
    Mesh mesh;
    Ellipsoid dome;
    double edge = 0;
    std::uint32_t round = 0;

    std::uint32_t addPoint(const Vec3& p) {
        mesh.points.push_back(p);
        return static_cast<std::uint32_t>(mesh.points.size() - 1);
    }

    std::uint32_t addVertex(std::uint32_t point, const Vec3& normal) {
        const Vec3 n = (1 / length(normal)) * normal;
        mesh.pointOf.push_back(point);
        mesh.normals.push_back({static_cast<float>(n.x), static_cast<float>(n.y), static_cast<float>(n.z)});
        return static_cast<std::uint32_t>(mesh.pointOf.size() - 1);
    }

    double angle(std::uint32_t i) const { return 2 * kPi * i / round; }

    /// A ring of points on the ellipsoid at `rise` radians above its equator, lifted to z.
    std::uint32_t addRing(double rise, double z) {
        const auto first = static_cast<std::uint32_t>(mesh.points.size());
        for (std::uint32_t i = 0; i < round; ++i) {
            const double r = std::cos(rise);
            addPoint({dome.a * r * std::cos(angle(i)), dome.b * r * std::sin(angle(i)), z});
        }
        return first;
    }

    /// Vertices on a ring of points with the ellipsoid's normals at `rise`.
    std::uint32_t addDomeVertices(std::uint32_t ring, double rise) {
        const auto first = static_cast<std::uint32_t>(mesh.pointOf.size());
        for (std::uint32_t i = 0; i < round; ++i) {
            const double r = std::cos(rise);
            addVertex(ring + i, {r * std::cos(angle(i)) / dome.a, r * std::sin(angle(i)) / dome.b,
                                 std::sin(rise) / dome.c});
        }
        return first;
    }

    void joinRings(std::uint32_t low, std::uint32_t high) {
        for (std::uint32_t i = 0; i < round; ++i) {
            const std::uint32_t j = (i + 1) % round;
            mesh.triangles.push_back({low + i, low + j, high + j});
            mesh.triangles.push_back({low + i, high + j, high + i});
        }
    }

    void closeFace(Feature feature) {
        const auto count = static_cast<std::uint32_t>(mesh.triangles.size());
        const std::uint32_t first =
            mesh.faces.empty() ? 0 : mesh.faces.back().firstTriangle + mesh.faces.back().triangleCount;
        mesh.faces.push_back({{feature, 0}, first, count - first});
    }

    /// Dome from the equator's ring of points to the top.
    void addDome(std::uint32_t equator, int rows) {
        std::uint32_t low = addDomeVertices(equator, 0);
        for (int row = 1; row < rows; ++row) {
            const double rise = kPi / 2 * row / rows;
            const std::uint32_t high = addDomeVertices(addRing(rise, edge + dome.c * std::sin(rise)), rise);
            joinRings(low, high);
            low = high;
        }
        const std::uint32_t top = addVertex(addPoint({0, 0, edge + dome.c}), {0, 0, 1});
        for (std::uint32_t i = 0; i < round; ++i)
            mesh.triangles.push_back({low + i, low + (i + 1) % round, top});
        closeFace(Feature::Crown);
    }

    void addBase(std::uint32_t ring) {
        const auto first = static_cast<std::uint32_t>(mesh.pointOf.size());
        for (std::uint32_t i = 0; i < round; ++i)
            addVertex(ring + i, {0, 0, -1});
        for (std::uint32_t i = 2; i < round; ++i)
            mesh.triangles.push_back({first, first + i, first + i - 1});
        closeFace(Feature::Pavilion);
    }
};

}  // namespace

Mesh cabochon(const design::Stone& stone, base::Micrometres tolerance) {
    CabochonBuilder builder;
    builder.dome = domeOf(stone);
    builder.edge = halfGirdle(stone);
    // An ellipsoid is a sphere stretched, so its chords stand off no more than those of its largest sphere; a
    // triangle stands off by what its row and its column allow together.
    const double largest = std::max(builder.dome.a, builder.dome.c);
    const double sagitta = tolerance.mm() / 2;
    builder.round = static_cast<std::uint32_t>(steps(2 * kPi, largest, sagitta, kLeastRound));
    const std::uint32_t equator = builder.addRing(0, builder.edge);
    builder.addDome(equator, steps(kPi / 2, largest, sagitta, kLeastRows));
    std::uint32_t base = equator;
    if (builder.edge > 0) {
        base = builder.addRing(0, -builder.edge);
        const std::uint32_t low = builder.addDomeVertices(base, 0);
        builder.joinRings(low, builder.addDomeVertices(equator, 0));
        builder.closeFace(Feature::Girdle);
    }
    builder.addBase(base);
    return builder.mesh;
}

SolidProperties cabochonSolid(const design::Stone& stone) {
    const Ellipsoid e = domeOf(stone);
    const double edge = halfGirdle(stone);
    const double base = kPi * e.a * e.b;
    const double wall = base * 2 * edge;
    const double dome = 2.0 / 3 * base * e.c;
    // The centroid of half an ellipsoid lies 3/8 of its height above its base.
    const double up = 3.0 / 8 * e.c;
    SolidProperties solid;
    solid.volume = wall + dome;
    solid.first.z = dome * (edge + up);
    solid.xx = (wall / 4 + dome / 5) * square(e.a);
    solid.yy = (wall / 4 + dome / 5) * square(e.b);
    solid.zz = wall * square(edge) / 3 + dome * (square(e.c) / 5 + 2 * edge * up + square(edge));
    solid.area = base + roundEllipse(e.a, e.b) * 2 * edge + areaOfHalf(e);
    return solid;
}

}  // namespace bandwright::geometry
