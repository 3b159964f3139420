#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "geometry/part.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::formats {

/// Writes the parts as a Wavefront OBJ file and their materials as an MTL file of the same name beside it
/// (spaces in its name become underscores, which the OBJ's reference to it needs). One closed group for each
/// part, named by its role; millimetres, rounded to 1e-7; the ring's axis is z. Points are shared within a
/// part, so that the group is closed by index. Each of the two files is replaced whole or not at all. Throws
/// InputError with the path and the reason when they cannot be written, or when a part's material is not in
/// the catalogue.
void writeObj(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue,
              const std::string& title, const std::filesystem::path& file);

}  // namespace bandwright::formats
