#include "triangulate.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <random>
#include <set>

#include "random_design.hpp"

namespace bandwright::geometry {
namespace {

struct Place {
    double u, v;
};
using Polygon = std::vector<Place>;

/// Twice the area of the triangle, positive counter-clockwise.
double turn(const Place& a, const Place& b, const Place& c) {
    return (b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u);
}

/// Gauss's shoelace formula.
double area(const Polygon& polygon) {
    double sum = 0;
    for (std::size_t i = 0; i < polygon.size(); ++i)
        sum += turn({0, 0}, polygon[i], polygon[(i + 1) % polygon.size()]);
    return sum / 2;
}

PlaneRegion regionOf(const std::vector<Polygon>& outlines) {
    PlaneRegion region;
    for (const Polygon& outline : outlines) {
        const auto first = static_cast<std::uint32_t>(region.vertices.size());
        for (const Place& p : outline)
            region.add(p.u, p.v);
        const auto n = static_cast<std::uint32_t>(outline.size());
        for (std::uint32_t i = 0; i < n; ++i)
            region.join(first + i, first + (i + 1) % n);
    }
    return region;
}

/// Every triangle counter-clockwise, every edge either an outline's or between two triangles, and the areas
/// adding up to the region's: together they are the region, once. A region of n corners and h holes has
/// n + 2h - 2 triangles (Euler's formula; de Berg and others, "Computational Geometry", chapter 3).
void expectCovered(const std::vector<Polygon>& outlines, std::size_t holes, const PlaneRegion& region,
                   const std::vector<std::array<std::uint32_t, 3>>& triangles) {
    ASSERT_EQ(triangles.size() + 2, region.vertices.size() + 2 * holes);
    double wanted = 0;
    double scale = 0;
    for (const Polygon& outline : outlines) {
        wanted += area(outline);
        scale += std::abs(area(outline));
    }
    double found = 0;
    std::map<std::array<std::uint32_t, 2>, int> uses;
    for (const auto& t : triangles) {
        std::array<Place, 3> p{};
        for (std::size_t k = 0; k < 3; ++k) {
            p[k] = {region.vertices[t[k]].u, region.vertices[t[k]].v};
            const std::uint32_t next = t[(k + 1) % 3];
            const bool outline = region.vertices[t[k]].next == next;
            EXPECT_EQ((++uses[{t[k], next}]), 1);
            if (outline) ++uses[{next, t[k]}];
        }
        EXPECT_GT(turn(p[0], p[1], p[2]), 0);
        found += turn(p[0], p[1], p[2]) / 2;
    }
    for (const auto& [edge, count] : uses)
        EXPECT_EQ((uses[{edge[1], edge[0]}]), count);
    EXPECT_NEAR(found, wanted, 1e-12 * scale);
}

/// Delaunay's property of the edges between two triangles: the corner of one lies in the circle of the other
/// no deeper than rounding. The determinant is that of Guibas and Stolfi (1985).
void expectNoCornerInACircle(const PlaneRegion& region,
                             const std::vector<std::array<std::uint32_t, 3>>& triangles) {
    std::map<std::array<std::uint32_t, 2>, std::uint32_t> across;
    for (const auto& t : triangles) {
        for (std::size_t k = 0; k < 3; ++k)
            across[{t[k], t[(k + 1) % 3]}] = t[(k + 2) % 3];
    }
    for (const auto& [edge, corner] : across) {
        const auto other = across.find({edge[1], edge[0]});
        if (other == across.end()) continue;
        const auto& d = region.vertices[other->second];
        std::array<std::array<double, 3>, 3> m{};
        std::size_t row = 0;
        for (const std::uint32_t vertex : {edge[0], edge[1], corner}) {
            const double u = region.vertices[vertex].u - d.u;
            const double v = region.vertices[vertex].v - d.v;
            m[row++] = {u, v, u * u + v * v};
        }
        const double inside = m[0][0] * (m[1][1] * m[2][2] - m[2][1] * m[1][2]) -
                              m[0][1] * (m[1][0] * m[2][2] - m[2][0] * m[1][2]) +
                              m[0][2] * (m[1][0] * m[2][1] - m[2][0] * m[1][1]);
        EXPECT_LE(inside, 1e-7 * m[0][2] * std::max(m[1][2], m[2][2]));
    }
}

void expectCut(const std::vector<Polygon>& outlines, std::size_t holes) {
    const PlaneRegion region = regionOf(outlines);
    std::vector<std::array<std::uint32_t, 3>> triangles;
    triangulate(region, triangles);
    expectCovered(outlines, holes, region, triangles);
    widenAngles(region, std::numeric_limits<double>::infinity(), triangles);
    expectCovered(outlines, holes, region, triangles);
    expectNoCornerInACircle(region, triangles);
}

Polygon reversed(Polygon polygon) {
    std::reverse(polygon.begin(), polygon.end());
    return polygon;
}

Polygon turned(Polygon polygon, double angle) {
    for (Place& p : polygon)
        p = {p.u * std::cos(angle) - p.v * std::sin(angle), p.u * std::sin(angle) + p.v * std::cos(angle)};
    return polygon;
}

Polygon circle(double u, double v, double radius, int corners) {
    Polygon result;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2 * std::numbers::pi * i / corners;
        result.push_back({u + radius * std::cos(angle), v + radius * std::sin(angle)});
    }
    return result;
}

TEST(Triangulate, CutsConvexRegions) {
    for (int corners = 3; corners < 100; ++corners)
        expectCut({circle(1, 2, 3, corners)}, 0);
}

TEST(Triangulate, CutsCombs) {
    Polygon comb = {{50, -1}};
    for (int tooth = 49; tooth >= 0; --tooth) {
        comb.push_back({tooth + 0.75, 5});
        comb.push_back({tooth + 0.5, 0.25});
    }
    comb.push_back({0, -1});
    for (const double angle : {0.0, 0.3, std::numbers::pi / 2, 2.5, std::numbers::pi})
        expectCut({turned(comb, angle)}, 0);
}

TEST(Triangulate, CutsSpirals) {
    Polygon spiral;
    constexpr int kCorners = 200;
    const auto at = [](int i, double radius) {
        const double angle = 8 * std::numbers::pi * i / kCorners;
        return Place{(radius + angle) * std::cos(angle), (radius + angle) * std::sin(angle)};
    };
    for (int i = 0; i <= kCorners; ++i)
        spiral.push_back(at(i, 3));
    for (int i = kCorners; i >= 0; --i)
        spiral.push_back(at(i, 2));
    const double direction = area(spiral);
    expectCut({direction > 0 ? spiral : reversed(spiral)}, 0);
}

TEST(Triangulate, LeavesHolesOut) {
    std::vector<Polygon> outlines = {{{0, 0}, {10, 0}, {10, 10}, {0, 10}}};
    for (int i = 0; i < 5; ++i) {
        for (int j = 0; j < 5; ++j)
            outlines.push_back(reversed(circle(1 + 2 * i, 1 + 2 * j, 0.9, 3 + i + 5 * j)));
    }
    expectCut(outlines, 25);
}

TEST(Triangulate, CutsRegionsInsideTheHolesOfOthers) {
    // Two bodies: Euler's formula loses two triangles for each, and so the count is that of a hole less.
    expectCut({circle(0, 0, 10, 20), reversed(circle(0, 0, 8, 15)), circle(0, 0, 6, 10)}, 0);
}

TEST(Triangulate, CutsRandomStars) {
    std::mt19937_64 lot(1);
    std::uniform_real_distribution<double> share(0.05, 1);
    for (std::uint64_t round = 0; round < designsToDraw(3000); ++round) {
        const int corners = 3 + static_cast<int>(lot() % 60);
        Polygon star = circle(0, 0, 1, corners);
        for (Place& p : star) {
            const double radius = share(lot);
            p = {p.u * radius, p.v * radius};
        }
        expectCut({star}, 0);
    }
}

bool cross(const Place& a, const Place& b, const Place& c, const Place& d) {
    return (turn(a, b, c) > 0) != (turn(a, b, d) > 0) && (turn(c, d, a) > 0) != (turn(c, d, b) > 0);
}

/// Random points in a random order, in which crossing edges are exchanged until there are none ("2-opt
/// moves": Auer and Held, "Heuristics for the generation of random polygons", 1996).
Polygon randomPolygon(std::mt19937_64& lot, std::size_t corners) {
    std::uniform_real_distribution<double> place(0, 1);
    Polygon p(corners);
    for (Place& corner : p)
        corner = {place(lot), place(lot)};
    bool crossed = true;
    while (crossed) {
        crossed = false;
        for (std::size_t i = 0; i + 2 < corners; ++i) {
            for (std::size_t j = i + 2; j < corners; ++j) {
                if (i == 0 && j == corners - 1) continue;
                if (!cross(p[i], p[i + 1], p[j], p[(j + 1) % corners])) continue;
                std::reverse(p.begin() + static_cast<std::ptrdiff_t>(i + 1),
                             p.begin() + static_cast<std::ptrdiff_t>(j + 1));
                crossed = true;
            }
        }
    }
    return area(p) > 0 ? p : reversed(p);
}

TEST(Triangulate, CutsRandomSimplePolygons) {
    std::mt19937_64 lot(2);
    for (std::uint64_t round = 0; round < designsToDraw(2000); ++round)
        expectCut({randomPolygon(lot, 3 + lot() % 50)}, 0);
}

/// The outlines of the filled squares of a grid, every grid point on them a corner, so that most of the
/// corners lie in line and at the same u; nothing when two squares touch in a point only. The outlines come
/// with the number of bodies.
struct GridShape {
    std::vector<Polygon> outlines;
    std::size_t outer = 0;
};
GridShape gridShape(std::mt19937_64& lot, int size) {
    std::set<std::array<int, 2>> filled;
    for (int i = 0; i < size; ++i) {
        for (int j = 0; j < size; ++j) {
            if (lot() % 4 != 0) filled.insert({i, j});
        }
    }
    const auto isFilled = [&](int i, int j) { return filled.contains({i, j}); };
    std::map<std::array<int, 2>, std::array<int, 2>> next;
    for (const auto& [i, j] : filled) {
        if ((!isFilled(i + 1, j) && !isFilled(i, j + 1) && isFilled(i + 1, j + 1)) ||
            (!isFilled(i - 1, j) && !isFilled(i, j + 1) && isFilled(i - 1, j + 1)))
            return {};
        if (!isFilled(i, j - 1)) next[{i, j}] = {i + 1, j};
        if (!isFilled(i + 1, j)) next[{i + 1, j}] = {i + 1, j + 1};
        if (!isFilled(i, j + 1)) next[{i + 1, j + 1}] = {i, j + 1};
        if (!isFilled(i - 1, j)) next[{i, j + 1}] = {i, j};
    }
    GridShape shape;
    while (!next.empty()) {
        Polygon outline;
        auto at = next.begin();
        while (at != next.end()) {
            outline.push_back({static_cast<double>(at->first[0]), static_cast<double>(at->first[1])});
            const std::array<int, 2> to = at->second;
            next.erase(at);
            at = next.find(to);
        }
        if (area(outline) > 0) ++shape.outer;
        shape.outlines.push_back(std::move(outline));
    }
    return shape;
}

TEST(Triangulate, CutsShapesWhoseCornersLieInLine) {
    std::mt19937_64 lot(3);
    const std::uint64_t rounds = designsToDraw(20000);
    std::uint64_t cut = 0;
    for (std::uint64_t round = 0; round < rounds; ++round) {
        const GridShape shape = gridShape(lot, 2 + static_cast<int>(lot() % 4));
        if (shape.outer != 1) continue;
        ++cut;
        expectCut(shape.outlines, shape.outlines.size() - 1);
    }
    EXPECT_GT(cut, rounds / 10);
}

TEST(WidenAngles, ReachesNoFurtherAlongUThanAsked) {
    // Two distant rows, out of step: the widest angles lie far to the side.
    Polygon strip;
    for (int i = 0; i <= 30; ++i)
        strip.push_back({0.1 * i, 0.3 * i});
    for (int i = 30; i >= 0; --i)
        strip.push_back({0.1 * i + 0.02, 0.3 * i + 4});
    const PlaneRegion region = regionOf({strip});
    const auto reach = [&](double widest) {
        std::vector<std::array<std::uint32_t, 3>> triangles;
        triangulate(region, triangles);
        widenAngles(region, widest, triangles);
        expectCovered({strip}, 0, region, triangles);
        double most = 0;
        for (const auto& t : triangles) {
            for (std::size_t k = 0; k < 3; ++k)
                most = std::max(most, std::abs(region.vertices[t[k]].u - region.vertices[t[(k + 1) % 3]].u));
        }
        return most;
    };
    EXPECT_LE(reach(0.15), 0.15);
    EXPECT_GT(reach(10), 0.5);
}

TEST(Triangulate, RefusesOutlinesThatAreOpenOrCross) {
    std::vector<std::array<std::uint32_t, 3>> triangles;
    PlaneRegion open = regionOf({{{0, 0}, {1, 0}, {0, 1}}});
    open.vertices[1].next = PlaneRegion::kOpen;
    EXPECT_THROW(triangulate(open, triangles), OutlinesCross);
    EXPECT_THROW(triangulate(regionOf({{{0, 0}, {2, 0}, {0, 2}, {1, -1}}}), triangles), OutlinesCross);
}

}  // namespace
}  // namespace bandwright::geometry
