#pragma once

#include "compare/compare.hpp"
#include "nominal.hpp"

/// Private to the room.
namespace bandwright::compare {

Fit fitted(const Nominal& nominal, const geometry::Triangles& body, const FitOptions& options);

/// Calls `take` with the middle and the area of each piece of a triangle, none longer than `longest`.
void forEachPiece(const std::array<Vec3, 3>& triangle, double longest,
                  const std::function<void(const Vec3& middle, double area)>& take);

/// The unit normal of a triangle, by its corners in order.
Vec3 normalOf(const std::array<Vec3, 3>& triangle);

}  // namespace bandwright::compare
