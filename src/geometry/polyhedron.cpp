#include "geometry/polyhedron.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numeric>
#include <optional>

#include "base/input_error.hpp"

namespace bandwright::geometry {

namespace {

/// The piece of a plane that each facet is cut out of reaches this many times farther than the farthest
/// plane.
constexpr double kReach = 100;
/// A point off a plane by less than this share of the reach lies on it: the rest is rounding.
constexpr double kNoise = 1e-14;
/// Corners nearer than this share of the solid's size are one. Computed corners are about 1e-13 apart when
/// they should be the same, and no facet is meant to be 1e-9 wide; between the two the choice is free. The
/// wider ones are tried when an edge of just that length leaves the solid open.
constexpr std::array kMerge = {1e-9, 1e-8, 1e-7, 1e-6, 1e-5, 1e-4};

using Polygon = std::vector<Vec3>;

double height(const Plane& plane, const Vec3& point) {
    return dot(plane.normal, point) - plane.offset;
}

Vec3 unit(const Vec3& v) {
    return (1 / length(v)) * v;
}

/// Two unit vectors that make a right-handed frame with the normal.
std::pair<Vec3, Vec3> inPlane(const Vec3& normal) {
    const Vec3 least = std::abs(normal.z) < 0.7 ? Vec3{0, 0, 1} : Vec3{1, 0, 0};
    const Vec3 u = unit(cross(least, normal));
    return {u, cross(normal, u)};
}

/// A sphere round a polygon, to see quickly that a plane passes it by.
struct Ball {
    Vec3 centre;
    double radius = 0;
};

Ball ballRound(const Polygon& polygon) {
    Ball ball;
    for (const Vec3& p : polygon)
        ball.centre = ball.centre + p;
    ball.centre = (1.0 / static_cast<double>(polygon.size())) * ball.centre;
    double square = 0;
    for (const Vec3& p : polygon)
        square = std::max(square, dot(p - ball.centre, p - ball.centre));
    ball.radius = std::sqrt(square);
    return ball;
}

/// Keeps what lies inside the plane (Sutherland and Hodgman, Reentrant polygon clipping, 1974).
void clip(Polygon& polygon, const Plane& plane, Polygon& result) {
    result.clear();
    Vec3 a = polygon.back();
    double ha = height(plane, a);
    for (const Vec3& b : polygon) {
        const double hb = height(plane, b);
        if ((ha < 0 && hb > 0) || (ha > 0 && hb < 0)) result.push_back(a + (ha / (ha - hb)) * (b - a));
        if (hb <= 0) result.push_back(b);
        a = b;
        ha = hb;
    }
    polygon.swap(result);
}

/// A step that visits all of n places, far from the last each time.
std::size_t stride(std::size_t n) {
    auto step = static_cast<std::size_t>(0.618 * static_cast<double>(n));
    while (std::gcd(step, n) != 1)
        ++step;
    return step;
}

bool standsOut(const Polygon& polygon, const Plane& plane, double noise) {
    return std::any_of(polygon.begin(), polygon.end(),
                       [&](const Vec3& p) { return height(plane, p) > noise; });
}

/// The part of plane `own` inside all others. Planes listed next to each other are mostly neighbours on the
/// solid, so they go first; the others follow from all sides, so that the polygon soon becomes small.
Polygon cutOut(std::span<const Plane> planes, std::size_t own, double reach) {
    const Plane& plane = planes[own];
    const auto [u, v] = inPlane(plane.normal);
    const Vec3 foot = plane.offset * plane.normal;
    Polygon polygon = {foot - reach * u - reach * v, foot + reach * u - reach * v,
                       foot + reach * u + reach * v, foot - reach * u + reach * v};
    Polygon spare;
    Ball ball = ballRound(polygon);
    const auto cutBy = [&](std::size_t other) {
        if (other == own || polygon.empty() || height(planes[other], ball.centre) < -ball.radius) return;
        if (!standsOut(polygon, planes[other], kNoise * reach)) return;
        clip(polygon, planes[other], spare);
        if (!polygon.empty()) ball = ballRound(polygon);
    };
    const std::size_t n = planes.size();
    cutBy((own + 1) % n);
    cutBy((own + n - 1) % n);
    const std::size_t step = stride(n);
    for (std::size_t k = 1, other = (own + step) % n; k < n; ++k, other = (other + step) % n)
        cutBy(other);
    return polygon;
}

base::InputError notClosed() {
    return base::InputError("The facets of the stone do not enclose a solid.");
}

std::vector<Vec3> allCorners(std::span<const Plane> planes) {
    double farthest = 0;
    for (const Plane& plane : planes)
        farthest = std::max(farthest, std::abs(plane.offset));
    std::vector<Vec3> corners;
    for (std::size_t i = 0; i < planes.size(); ++i) {
        const Polygon polygon = cutOut(planes, i, kReach * farthest);
        corners.insert(corners.end(), polygon.begin(), polygon.end());
    }
    for (const Vec3& corner : corners) {
        if (!(length(corner) < kReach * farthest)) throw notClosed();
    }
    std::sort(corners.begin(), corners.end(), [](const Vec3& a, const Vec3& b) { return a.x < b.x; });
    return corners;
}

/// One point of each group of corners nearer than `merge`; the corners come sorted by x.
std::vector<Vec3> merged(const std::vector<Vec3>& corners, double merge) {
    std::vector<Vec3> points;
    for (const Vec3& corner : corners) {
        bool known = false;
        for (std::size_t i = points.size(); i > 0 && !known && corner.x - points[i - 1].x <= merge; --i) {
            known = distance(points[i - 1], corner) <= merge;
        }
        if (!known) points.push_back(corner);
    }
    return points;
}

/// Which facets meet in which points: the topology, kept as lists both ways.
struct Meetings {
    std::vector<std::vector<std::uint32_t>> pointsOfPlane;
    std::vector<std::vector<std::uint32_t>> planesOfPoint;
};

Meetings meetings(std::span<const Plane> planes, const std::vector<Vec3>& points, double tolerance) {
    Meetings result;
    result.pointsOfPlane.resize(planes.size());
    result.planesOfPoint.resize(points.size());
    std::vector<double> x, y, z;  // apart from each other, for the vector unit: most of the time goes here
    for (const Vec3& p : points) {
        x.push_back(p.x);
        y.push_back(p.y);
        z.push_back(p.z);
    }
    std::vector<double> heights(points.size());
    for (std::uint32_t j = 0; j < planes.size(); ++j) {
        const auto& [normal, offset, tag] = planes[j];
        for (std::size_t i = 0; i < points.size(); ++i) {
            heights[i] = normal.x * x[i] + normal.y * y[i] + normal.z * z[i] - offset;
        }
        for (std::uint32_t i = 0; i < points.size(); ++i) {
            if (std::abs(heights[i]) > tolerance) continue;
            result.pointsOfPlane[j].push_back(i);
            result.planesOfPoint[i].push_back(j);
        }
    }
    return result;
}

/// Whether the points lie within `tolerance` of one line; fewer than three do.
bool onLine(const std::vector<std::uint32_t>& numbers, const std::vector<Vec3>& points, double tolerance) {
    if (numbers.size() < 3) return true;
    const Vec3& from = points[numbers.front()];
    Vec3 along;
    for (const std::uint32_t i : numbers) {
        if (dot(points[i] - from, points[i] - from) > dot(along, along)) along = points[i] - from;
    }
    const double most = tolerance * length(along);
    return std::all_of(numbers.begin(), numbers.end(),
                       [&](std::uint32_t i) { return length(cross(along, points[i] - from)) <= most; });
}

/// Takes out planes that touch in a point or along an edge, and points that then lie within an edge.
void dropTouching(Meetings& m, const std::vector<Vec3>& points, double tolerance) {
    const auto drop = [](std::uint32_t i, auto& list, auto& others) {
        for (const std::uint32_t j : list)
            std::erase(others[j], i);
        list.clear();
    };
    for (bool changed = true; changed;) {
        changed = false;
        for (std::uint32_t j = 0; j < m.pointsOfPlane.size(); ++j) {
            auto& through = m.pointsOfPlane[j];
            if (through.empty() || !onLine(through, points, tolerance)) continue;
            drop(j, through, m.planesOfPoint);
            changed = true;
        }
        for (std::uint32_t i = 0; i < m.planesOfPoint.size(); ++i) {
            auto& meeting = m.planesOfPoint[i];
            if (meeting.empty() || meeting.size() >= 3) continue;
            drop(i, meeting, m.pointsOfPlane);
            changed = true;
        }
    }
}

/// Moves a point to where its planes meet (least squares; more than three may pass through it).
Vec3 settled(const Vec3& point, std::span<const Plane> planes, const std::vector<std::uint32_t>& through) {
    Vec3 row0, row1, row2, right;
    for (const std::uint32_t j : through) {
        const Vec3& n = planes[j].normal;
        row0 = row0 + n.x * n;
        row1 = row1 + n.y * n;
        row2 = row2 + n.z * n;
        right = right - height(planes[j], point) * n;
    }
    const double determinant = dot(row0, cross(row1, row2));
    if (!(determinant > std::numeric_limits<double>::epsilon())) return point;
    const Vec3 step = right.x * cross(row1, row2) + right.y * cross(row2, row0) + right.z * cross(row0, row1);
    return point + (1 / determinant) * step;
}

/// Sorts the corners of a facet counter-clockwise.
void goRound(std::vector<std::uint32_t>& corners, const std::vector<Vec3>& points, const Vec3& normal) {
    const auto [u, v] = inPlane(normal);
    Vec3 middle;
    for (const std::uint32_t i : corners)
        middle = middle + points[i];
    middle = (1.0 / static_cast<double>(corners.size())) * middle;
    std::vector<std::pair<double, std::uint32_t>> byAngle;
    for (const std::uint32_t i : corners) {
        const Vec3 d = points[i] - middle;
        byAngle.emplace_back(std::atan2(dot(d, v), dot(d, u)), i);
    }
    std::sort(byAngle.begin(), byAngle.end());
    for (std::size_t i = 0; i < corners.size(); ++i)
        corners[i] = byAngle[i].second;
}

/// Whether every edge lies between two facets and the solid is one shell without handles.
bool isClosed(const Polyhedron& solid) {
    std::vector<std::pair<std::uint32_t, std::uint32_t>> edges;
    for (const Facet& facet : solid.facets) {
        for (std::size_t i = 0; i < facet.corners.size(); ++i) {
            const std::uint32_t a = facet.corners[i];
            const std::uint32_t b = facet.corners[i + 1 == facet.corners.size() ? 0 : i + 1];
            edges.emplace_back(std::min(a, b), std::max(a, b));
        }
    }
    std::sort(edges.begin(), edges.end());
    if (edges.empty() || edges.size() % 2 != 0) return false;
    for (std::size_t i = 0; i < edges.size(); i += 2) {
        if (edges[i] != edges[i + 1] || (i > 0 && edges[i] == edges[i - 1])) return false;
    }
    return solid.points.size() + solid.facets.size() == edges.size() / 2 + 2;
}

/// The solid whose corners within `merge` of each other are one; nothing when it does not close.
std::optional<Polyhedron> assembled(std::span<const Plane> planes, const std::vector<Vec3>& corners,
                                    double merge) {
    const std::vector<Vec3> points = merged(corners, merge);
    Meetings m = meetings(planes, points, 2 * merge);
    dropTouching(m, points, 2 * merge);
    Polyhedron solid;
    std::vector<std::uint32_t> numbered(points.size());
    for (std::size_t i = 0; i < points.size(); ++i) {
        if (m.planesOfPoint[i].empty()) continue;
        numbered[i] = static_cast<std::uint32_t>(solid.points.size());
        solid.points.push_back(settled(points[i], planes, m.planesOfPoint[i]));
    }
    for (std::uint32_t j = 0; j < planes.size(); ++j) {
        if (m.pointsOfPlane[j].empty()) continue;
        Facet facet{j, {}};
        for (const std::uint32_t i : m.pointsOfPlane[j])
            facet.corners.push_back(numbered[i]);
        goRound(facet.corners, solid.points, planes[j].normal);
        solid.facets.push_back(std::move(facet));
    }
    if (!isClosed(solid)) return std::nullopt;
    return solid;
}

std::array<float, 3> toFloat(const Vec3& v) {
    return {static_cast<float>(v.x), static_cast<float>(v.y), static_cast<float>(v.z)};
}

}  // namespace

Polyhedron polyhedron(std::span<const Plane> planes) {
    const std::vector<Vec3> corners = allCorners(planes);
    double size = 0;
    for (const Vec3& corner : corners)
        size = std::max(size, length(corner));
    for (const double merge : kMerge) {
        if (auto solid = assembled(planes, corners, merge * size)) return *std::move(solid);
    }
    throw notClosed();
}

Mesh mesh(const Polyhedron& solid, std::span<const Plane> planes) {
    Mesh result;
    result.points = solid.points;
    for (const Facet& facet : solid.facets) {
        const Plane& plane = planes[facet.plane];
        const auto first = static_cast<std::uint32_t>(result.pointOf.size());
        const auto count = static_cast<std::uint32_t>(facet.corners.size());
        const auto triangle = static_cast<std::uint32_t>(result.triangles.size());
        result.pointOf.insert(result.pointOf.end(), facet.corners.begin(), facet.corners.end());
        result.normals.insert(result.normals.end(), count, toFloat(plane.normal));
        for (std::uint32_t i = 2; i < count; ++i)
            result.triangles.push_back({first, first + i - 1, first + i});
        if (result.faces.empty() || result.faces.back().tag != plane.tag) {
            result.faces.push_back({plane.tag, triangle, 0});
        }
        result.faces.back().triangleCount += count - 2;
    }
    return result;
}

double volume(const Polyhedron& solid) {
    double sum = 0;
    for (const Facet& facet : solid.facets) {
        const Vec3& a = solid.points[facet.corners[0]];
        for (std::size_t i = 2; i < facet.corners.size(); ++i) {
            sum += dot(a, cross(solid.points[facet.corners[i - 1]], solid.points[facet.corners[i]]));
        }
    }
    return sum / 6;
}

}  // namespace bandwright::geometry
