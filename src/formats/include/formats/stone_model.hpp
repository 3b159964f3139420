#pragma once

#include <filesystem>

#include "design/design.hpp"
#include "geometry/mesh.hpp"

namespace bandwright {

/// A stone from any closed OBJ model with the crown up along z, moved and scaled to the stone's girdle: its
/// narrower side across becomes the stone's width (`diameter`) along y; the longer one lies along x and
/// becomes `length` when that is set, else it keeps the model's shape. z = 0 is the middle of the girdle,
/// where the model is widest. Points in the same place are one; normals are those of the flat triangles.
/// Throws InputError when the file cannot be read, holds too much, or is not closed, oriented and 2-manifold.
Mesh stoneFromObj(const std::filesystem::path& file, const Stone& stone);

}  // namespace bandwright
