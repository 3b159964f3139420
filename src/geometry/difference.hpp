#pragma once

#include <optional>

#include "geometry/mesh.hpp"

namespace bandwright::geometry {

/// What is left of a closed mesh when another is taken out of it: closed again, and where it was cut with the
/// surface of `taken`, turned round. Points of both keep their places.
///
/// On which side of a triangle a point lies is answered exactly, for the points rounded to 2^-32 mm (0.23
/// nm). So triangles meet in pairs along whole lines, and what is left closes, whatever rounding does to the
/// new points. Nothing is answered where a point lies exactly on the other mesh, or where crossings lie
/// nearer to each other than they can be told apart: turn `taken` a little, or make it larger by a few
/// nanometres.
///
/// Coordinates within 64 mm.
std::optional<Mesh> difference(const Mesh& from, const Mesh& taken);

}  // namespace bandwright::geometry
