#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/vector.hpp"

namespace bandwright::geometry {

/// A surface of triangles as another program or a scanner left it: no features, no normals. Triangles that
/// meet share their points.
struct Triangles {
    std::vector<Vec3> points;
    std::vector<std::array<std::uint32_t, 3>> triangles;  ///< counter-clockwise seen from outside
};

/// Makes points in exactly the same place one; the first of them stays. Returns the new number of each.
std::vector<std::uint32_t> weld(std::vector<Vec3>& points);

/// The edges along which a surface is not closed: those that are not used as often one way as the other.
struct OpenEdges {
    std::size_t count = 0;
    Vec3 first;  ///< the middle of the first of them, in the order of the triangles
};
OpenEdges openEdges(const Triangles& surface);

/// How many pieces hang together by none of their points.
std::size_t pieces(const Triangles& surface);

/// What it encloses, by the divergence theorem; negative when it is inside out.
double volume(const Triangles& surface);

}  // namespace bandwright::geometry
