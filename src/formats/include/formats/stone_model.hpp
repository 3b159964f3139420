#pragma once

#include <filesystem>

#include "base/input_error.hpp"
#include "design/design.hpp"
#include "geometry/mesh.hpp"

namespace bandwright::formats {

/// Reads a stone from a Wavefront OBJ file. Points in the same place are merged, and a model that is inside
/// out is turned back. Throws InputError when the file cannot be read, holds too much, or is not closed,
/// oriented and 2-manifold.
design::StoneModel readStoneModel(const std::filesystem::path& file);

/// Whether models outside the folder that their paths begin in may be read. A design that was received may
/// name any file of whoever opens it, so the person is asked first.
enum class Outside : bool { Refused, Allowed };

/// A model lies outside the folder, by its path or by a symbolic link.
struct ModelOutside : base::InputError {
    ModelOutside(const std::string& sentence, std::filesystem::path wanted)
        : InputError(sentence), model(std::move(wanted)) {}
    std::filesystem::path model;  ///< where it is in the end
};

/// Reads the models of a design's stones that have not been read yet; their paths begin in the folder. Throws
/// InputError with the stone's path in the design before the file's, and ModelOutside before any is read.
void readStoneModels(design::Design& design, const std::filesystem::path& folder,
                     Outside outside = Outside::Refused);

/// A stone of these proportions from any closed OBJ model: see `stoneMesh`.
geometry::Mesh stoneFromObj(const std::filesystem::path& file, const design::Stone& stone);

}  // namespace bandwright::formats
