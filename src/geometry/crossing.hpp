#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <vector>

#include "geometry/vector.hpp"

namespace bandwright::geometry {

/// A triangle by the numbers of its points. Triangles of one surface share the points where they meet.
using CornerPoints = std::array<std::uint32_t, 3>;

/// Whether one of the first `suspects` triangles meets another of the triangles in more than the points that
/// they share: runs through it, or lies on it.
bool anyCross(std::span<const Vec3> points, std::span<const CornerPoints> triangles, std::size_t suspects);

}  // namespace bandwright::geometry
