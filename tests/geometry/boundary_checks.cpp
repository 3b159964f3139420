#include "boundary_checks.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <vector>

#include "gauss.hpp"

namespace bandwright::geometry {

namespace {

constexpr double kTurn = 2 * std::numbers::pi;

std::uint32_t startOf(const Boundary& body, EdgeUse use) {
    const BoundaryEdge& edge = body.edges[use.edge];
    return use.forward ? edge.from : edge.to;
}

std::uint32_t endOf(const Boundary& body, EdgeUse use) {
    return startOf(body, {use.edge, !use.forward});
}

Vec3 placeOn(const Boundary& body, EdgeUse use, double t) {
    return pointAt(body, use.edge, use.forward ? t : 1 - t);
}

Vec3 local(const AxisPlacement& place, const Vec3& p) {
    const Vec3 d = p - place.origin;
    return {dot(d, place.x), dot(d, cross(place.axis, place.x)), dot(d, place.axis)};
}

/// A place of a surface and the cross product of its derivatives, both in the surface's own frame.
struct Patch {
    Vec3 place, normal;
};

Patch patchAt(const FaceSurface& s, double u, double v) {
    const double cu = std::cos(u), su = std::sin(u), cv = std::cos(v), sv = std::sin(v);
    const auto round = [&](double r, double z, double dr, double dz) {
        return Patch{{r * cu, r * su, z}, {r * dz * cu, r * dz * su, -r * dr}};
    };
    const auto stretched = [&](double a, double b, double c) {
        return Patch{{a * cv * cu, b * cv * su, c * sv},
                     {b * c * cv * cv * cu, a * c * cv * cv * su, a * b * sv * cv}};
    };
    switch (s.kind) {
        case SurfaceKind::Plane:
            break;
        case SurfaceKind::Cylinder:
            return round(s.radius, v, 0, 1);
        case SurfaceKind::Cone:
            return round(s.radius + s.slope * v, v, s.slope, 1);
        case SurfaceKind::Torus:
            return round(s.major + s.radius * cv, s.radius * sv, -s.radius * sv, s.radius * cv);
        case SurfaceKind::Sphere:
            return stretched(s.radius, s.radius, s.radius);
        case SurfaceKind::EllipticCylinder:
            return {{s.a * cu, s.b * su, v}, {s.b * cu, s.a * su, 0}};
        case SurfaceKind::Ellipsoid:
            return stretched(s.a, s.b, s.c);
    }
    return {};
}

/// Integrals of a third of the place along the normal, and of the normal's length.
using Pair = std::array<double, 2>;

/// Across the surface from one v to another.
Pair across(const FaceSurface& s, const Vec3& origin, double u, double from, double to) {
    Pair sum{};
    const int parts = s.kind == SurfaceKind::Ellipsoid ? 2 : 1;
    for (int part = 0; part < parts; ++part) {
        gauss([&](double t, double weight) {
            const Patch at = patchAt(s, u, from + (to - from) * (part + t) / parts);
            const double dv = weight * (to - from) / parts;
            sum[0] += dot(origin + at.place, at.normal) / 3 * dv;
            sum[1] += length(at.normal) * dv;
        });
    }
    return sum;
}

/// Romberg's rule: sums over 8, 16, 32, ... parts, whose errors run in even powers.
template <class Sum>
Pair romberg(const Sum& sum) {
    std::vector<Pair> row;
    Pair best{};
    for (int level = 0, parts = 8; level < 8; ++level, parts *= 2) {
        std::vector<Pair> next{sum(parts)};
        double power = 1;
        for (const Pair& before : row) {
            power *= 4;
            const Pair& last = next.back();
            next.push_back({last[0] + (last[0] - before[0]) / (power - 1),
                            last[1] + (last[1] - before[1]) / (power - 1)});
        }
        const Pair change{next.back()[0] - best[0], next.back()[1] - best[1]};
        best = next.back();
        row = std::move(next);
        if (level >= 2 && std::abs(change[0]) < 1e-13 + 1e-13 * std::abs(best[0]) &&
            std::abs(change[1]) < 1e-13 + 1e-13 * std::abs(best[1]))
            break;
    }
    return best;
}

Pair ofPlane(const Boundary& body, const BoundaryFace& face) {
    double area = 0;
    for (const BoundaryLoop& loop : face.loops) {
        for (const EdgeUse& use : loop) {
            const auto sum = [&](int parts) {
                double twice = 0;
                Vec3 a = local(face.surface.place, placeOn(body, use, 0));
                for (int k = 1; k <= parts; ++k) {
                    const Vec3 b =
                        local(face.surface.place, placeOn(body, use, static_cast<double>(k) / parts));
                    twice += a.x * b.y - b.x * a.y;
                    a = b;
                }
                return Pair{0, twice / 2};
            };
            area += romberg(sum)[1];
        }
    }
    return {dot(face.surface.place.origin, face.surface.place.axis) / 3 * area, area};
}

/// Where the integrals across a face begin: on its axis, where it holds that.
double firstAcross(const Boundary& body, const BoundaryFace& face) {
    const FaceSurface& s = face.surface;
    if (face.span == FaceSpan::Cap)
        return s.kind == SurfaceKind::Cone ? -s.radius / s.slope : std::numbers::pi / 2;
    return parametersAt(s, placeOn(body, face.loops[0][0], 0)).v;
}

Pair ofCurved(const Boundary& body, const BoundaryFace& face) {
    const FaceSurface& s = face.surface;
    const Vec3 origin = local({{}, s.place.axis, s.place.x}, s.place.origin);
    const double first = firstAcross(body, face);
    const bool turns = s.kind == SurfaceKind::Torus;
    Pair all{};
    for (const BoundaryLoop& loop : face.loops) {
        for (const EdgeUse& use : loop) {
            const auto sum = [&](int parts) {
                Pair total{};
                Pair before{};
                double u = 0;
                for (int k = 0; k <= parts; ++k) {
                    const auto at = parametersAt(s, placeOn(body, use, static_cast<double>(k) / parts));
                    const double v = turns ? first + std::remainder(at.v - first, kTurn) : at.v;
                    const double du = k == 0 ? 0 : std::remainder(at.u - u, kTurn);
                    u = k == 0 ? at.u : u + du;
                    const Pair here = across(s, origin, u, first, v);
                    for (std::size_t i = 0; i < 2; ++i)
                        total[i] -= (before[i] + here[i]) / 2 * du;
                    before = here;
                }
                return total;
            };
            const Pair added = romberg(sum);
            all = {all[0] + added[0], all[1] + added[1]};
        }
    }
    return {all[0], face.reversed ? -all[1] : all[1]};
}

}  // namespace

SurfaceParameters parametersAt(const FaceSurface& s, const Vec3& point) {
    const Vec3 p = local(s.place, point);
    const double out = std::hypot(p.x, p.y);
    switch (s.kind) {
        case SurfaceKind::Plane:
            return {p.x, p.y};
        case SurfaceKind::Cylinder:
        case SurfaceKind::Cone:
            return {std::atan2(p.y, p.x), p.z};
        case SurfaceKind::Torus:
            return {std::atan2(p.y, p.x), std::atan2(p.z, out - s.major)};
        case SurfaceKind::Sphere:
            return {std::atan2(p.y, p.x), std::atan2(p.z, out)};
        case SurfaceKind::EllipticCylinder:
            return {std::atan2(p.y / s.b, p.x / s.a), p.z};
        case SurfaceKind::Ellipsoid:
            return {std::atan2(p.y / s.b, p.x / s.a),
                    std::atan2(p.z / s.c, std::hypot(p.x / s.a, p.y / s.b))};
    }
    return {};
}

std::size_t brokenEdges(const Boundary& body) {
    std::vector<std::array<int, 2>> uses(body.edges.size());
    for (const BoundaryFace& face : body.faces) {
        for (const BoundaryLoop& loop : face.loops) {
            for (const EdgeUse& use : loop)
                ++uses[use.edge][use.forward ? 1 : 0];
        }
    }
    return static_cast<std::size_t>(
        std::count_if(uses.begin(), uses.end(), [](const auto& n) { return n[0] != 1 || n[1] != 1; }));
}

std::size_t brokenLoops(const Boundary& body) {
    std::size_t broken = 0;
    for (const BoundaryFace& face : body.faces) {
        for (const BoundaryLoop& loop : face.loops) {
            bool follows = !loop.empty();
            for (std::size_t i = 0; i < loop.size(); ++i)
                follows = follows && endOf(body, loop[i]) == startOf(body, loop[(i + 1) % loop.size()]);
            broken += follows ? 0 : 1;
        }
    }
    return broken;
}

int eulerCharacteristic(const Boundary& body) {
    int sum = static_cast<int>(body.vertices.size()) - static_cast<int>(body.edges.size());
    for (const BoundaryFace& face : body.faces)
        sum += 2 - static_cast<int>(face.loops.size());
    return sum;
}

Stray farthestOff(const Boundary& body) {
    Stray stray;
    for (const BoundaryFace& face : body.faces) {
        for (const BoundaryLoop& loop : face.loops) {
            for (const EdgeUse& use : loop) {
                for (const double t : {0.0, 1e-6, 0.03, 0.2, 0.5, 0.77, 0.999}) {
                    const double off = std::abs(heightOver(face.surface, placeOn(body, use, t)));
                    double& most = t == 0 ? stray.vertex : stray.edge;
                    most = std::max(most, off);
                }
            }
        }
    }
    return stray;
}

Enclosed enclosed(const Boundary& body) {
    Enclosed sum{0, 0, std::numeric_limits<double>::infinity()};
    for (const BoundaryFace& face : body.faces) {
        const Pair own = face.surface.kind == SurfaceKind::Plane ? ofPlane(body, face) : ofCurved(body, face);
        sum.volume += own[0];
        sum.area += own[1];
        sum.leastFace = std::min(sum.leastFace, own[1]);
    }
    return sum;
}

}  // namespace bandwright::geometry
