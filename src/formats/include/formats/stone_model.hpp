#pragma once

#include <filesystem>

#include "design/design.hpp"
#include "geometry/mesh.hpp"

namespace bandwright::formats {

/// Reads a stone from a Wavefront OBJ file. Points in the same place are merged, and a model that is inside
/// out is turned back. Throws InputError when the file cannot be read, holds too much, or is not closed,
/// oriented and 2-manifold.
design::StoneModel readStoneModel(const std::filesystem::path& file);

/// Reads the models of a design's stones that have not been read yet; their paths begin in the folder. Throws
/// InputError with the stone's path in the design before the file's.
void readStoneModels(design::Design& design, const std::filesystem::path& folder);

/// A stone of these proportions from any closed OBJ model: see `stoneMesh`.
geometry::Mesh stoneFromObj(const std::filesystem::path& file, const design::Stone& stone);

}  // namespace bandwright::formats
