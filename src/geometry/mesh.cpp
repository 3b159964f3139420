#include "geometry/mesh.hpp"

#include <algorithm>
#include <cmath>
#include <span>

namespace bandwright::geometry {

namespace {

/// A triangle lower than this over its longest edge, in mm, has no area: it is within the rounding of its own
/// points.
constexpr double kLeastHeight = 1e-12;

/// One triangle at a point: the points that follow and precede it there.
struct Corner {
    std::uint32_t next, previous;
};

/// The triangles at each point, those at point p in [first[p], first[p + 1]). Every edge is seen from both
/// its ends: towards q it is used as often as q is a `next`, back from q as often as q is a `previous`.
struct Corners {
    std::vector<std::uint32_t> first;
    std::vector<Corner> corners;
    std::size_t triangles = 0;  ///< those that name three points

    std::span<Corner> at(std::size_t point) {
        return std::span(corners).subspan(first[point], first[point + 1] - first[point]);
    }
    std::size_t points() const { return first.size() - 1; }
};

std::array<std::uint32_t, 3> pointsOf(const Mesh& mesh, const std::array<std::uint32_t, 3>& triangle) {
    return {mesh.pointOf[triangle[0]], mesh.pointOf[triangle[1]], mesh.pointOf[triangle[2]]};
}

bool namesPointTwice(const std::array<std::uint32_t, 3>& p) {
    return p[0] == p[1] || p[1] == p[2] || p[2] == p[0];
}

Corners cornersOf(const Mesh& mesh) {
    Corners result;
    result.first.assign(mesh.points.size() + 1, 0);
    for (const auto& triangle : mesh.triangles) {
        const auto p = pointsOf(mesh, triangle);
        if (namesPointTwice(p)) continue;
        ++result.triangles;
        for (const std::uint32_t point : p)
            ++result.first[point + 1];
    }
    for (std::size_t i = 1; i < result.first.size(); ++i)
        result.first[i] += result.first[i - 1];
    result.corners.resize(3 * result.triangles);
    std::vector<std::uint32_t> end(result.first.begin(), result.first.end() - 1);
    for (const auto& triangle : mesh.triangles) {
        const auto p = pointsOf(mesh, triangle);
        if (namesPointTwice(p)) continue;
        for (std::size_t i = 0; i < 3; ++i) {
            result.corners[end[p[i]]++] = {p[(i + 1) % 3], p[(i + 2) % 3]};
        }
    }
    return result;
}

/// How one point's triangles hang together; `previous` is room to work in.
struct Star {
    std::size_t edges = 0;      ///< to points of a higher number
    std::size_t openEdges = 0;  ///< of those
    bool oneFan = true;
};

void countEdges(std::size_t point, std::span<const Corner> byNext, std::span<const std::uint32_t> previous,
                Star& star) {
    std::size_t i = 0;
    std::size_t j = 0;
    while (i < byNext.size() || j < previous.size()) {
        const std::uint32_t other =
            j == previous.size() || (i < byNext.size() && byNext[i].next < previous[j]) ? byNext[i].next
                                                                                        : previous[j];
        const std::size_t i0 = i;
        const std::size_t j0 = j;
        while (i < byNext.size() && byNext[i].next == other)
            ++i;
        while (j < previous.size() && previous[j] == other)
            ++j;
        if (other < point) continue;
        ++star.edges;
        if (i - i0 != 1 || j - j0 != 1) ++star.openEdges;
    }
}

/// Walks from triangle to triangle round the point; a fan that is open starts at its first triangle.
bool isOneFan(std::span<const Corner> byNext, std::span<const std::uint32_t> previous) {
    if (byNext.empty()) return true;
    std::uint32_t start = byNext[0].next;
    for (const Corner& corner : byNext) {
        if (!std::binary_search(previous.begin(), previous.end(), corner.next)) start = corner.next;
    }
    std::uint32_t at = start;
    std::size_t steps = 0;
    do {
        const auto corner =
            std::lower_bound(byNext.begin(), byNext.end(), at,
                             [](const Corner& c, std::uint32_t next) { return c.next < next; });
        if (corner == byNext.end() || corner->next != at) break;
        at = corner->previous;
        ++steps;
    } while (at != start && steps <= byNext.size());
    return steps == byNext.size();
}

template <typename Visit>
void forEachStar(Corners& corners, Visit visit) {
    std::vector<std::uint32_t> previous;
    for (std::size_t point = 0; point < corners.points(); ++point) {
        const std::span<Corner> at = corners.at(point);
        std::sort(at.begin(), at.end(), [](const Corner& a, const Corner& b) { return a.next < b.next; });
        previous.clear();
        for (const Corner& corner : at)
            previous.push_back(corner.previous);
        std::sort(previous.begin(), previous.end());
        Star star;
        countEdges(point, at, previous, star);
        star.oneFan = isOneFan(at, previous);
        visit(at, star);
    }
}

bool hasArea(const Vec3& a, const Vec3& b, const Vec3& c) {
    const double longest = std::max({distance(a, b), distance(b, c), distance(c, a)});
    return length(cross(b - a, c - a)) > kLeastHeight * longest;
}

}  // namespace

MeshDefects defects(const Mesh& mesh) {
    MeshDefects result;
    for (const auto& triangle : mesh.triangles) {
        const auto p = pointsOf(mesh, triangle);
        if (!hasArea(mesh.points[p[0]], mesh.points[p[1]], mesh.points[p[2]])) ++result.degenerateTriangles;
    }
    Corners corners = cornersOf(mesh);
    forEachStar(corners, [&](std::span<const Corner>, const Star& star) {
        result.openEdges += star.openEdges;
        if (!star.oneFan) ++result.splitPoints;
    });
    return result;
}

int eulerCharacteristic(const Mesh& mesh) {
    Corners corners = cornersOf(mesh);
    std::size_t used = 0;
    std::size_t edges = 0;
    forEachStar(corners, [&](std::span<const Corner> at, const Star& star) {
        if (!at.empty()) ++used;
        edges += star.edges;
    });
    return static_cast<int>(static_cast<std::ptrdiff_t>(used + corners.triangles) -
                            static_cast<std::ptrdiff_t>(edges));
}

double volume(const Mesh& mesh) {
    if (mesh.points.empty()) return 0;
    // Seen from a point of the mesh itself, so that a small body far from the axis keeps its digits.
    const Vec3 origin = mesh.points.front();
    double sum = 0;
    for (const auto& triangle : mesh.triangles) {
        const auto p = pointsOf(mesh, triangle);
        sum += dot(mesh.points[p[0]] - origin, cross(mesh.points[p[1]] - origin, mesh.points[p[2]] - origin));
    }
    return sum / 6;
}

double area(const Mesh& mesh) {
    double sum = 0;
    for (const auto& triangle : mesh.triangles) {
        const auto p = pointsOf(mesh, triangle);
        const Vec3& a = mesh.points[p[0]];
        sum += length(cross(mesh.points[p[1]] - a, mesh.points[p[2]] - a));
    }
    return sum / 2;
}

}  // namespace bandwright::geometry
