#pragma once

#include <array>
#include <cstdint>
#include <stdexcept>
#include <vector>

namespace bandwright::geometry {

/// Number of a vertex, an edge or a triangle.
using Index = std::uint32_t;

/// A flat region to be cut into triangles: any number of closed outlines, each vertex on exactly one of them,
/// the region on the left of the way from each vertex to the next.
struct PlaneRegion {
    struct Vertex {
        double u = 0, v = 0;
        std::uint32_t next = 0, before = 0;
    };
    std::vector<Vertex> vertices;

    std::uint32_t add(double u, double v) {
        vertices.push_back({u, v, kOpen, kOpen});
        return static_cast<std::uint32_t>(vertices.size() - 1);
    }
    void join(std::uint32_t from, std::uint32_t to) {
        vertices[from].next = to;
        vertices[to].before = from;
    }

    static constexpr std::uint32_t kOpen = 0xffffffff;
};

/// Outlines that are not closed, or run through each other where the sweep can see it. Chords of curves that
/// nearly touch may do so; finer chords do not.
struct OutlinesCross : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Appends the triangles, counter-clockwise, with corners at the region's vertices only. A sweep in the order
/// of u, then v (Hertel and Mehlhorn 1983): neighbouring places along u are joined with each other, so long
/// strips become zigzags. Throws OutlinesCross.
void triangulate(const PlaneRegion& region, std::vector<std::array<std::uint32_t, 3>>& triangles);

/// Exchanges the diagonals of pairs of the region's triangles until none makes the smaller angles wider
/// (Lawson 1977), but for those that would reach further along u than `widest`: where u runs round a curve, a
/// wide chord stands off it.
void widenAngles(const PlaneRegion& region, double widest,
                 std::vector<std::array<std::uint32_t, 3>>& triangles);

/// The same for diagonals between two vertices of a curve, where the others of their triangles are not both
/// on it: a triangle that cuts off a bow of the curve leaves the surface beside it.
void leaveCurve(const PlaneRegion& region, double widest, const std::vector<bool>& onCurve,
                std::vector<std::array<std::uint32_t, 3>>& triangles);

}  // namespace bandwright::geometry
