#pragma once

#include <array>
#include <filesystem>
#include <string>
#include <vector>

#include "geometry/triangles.hpp"

/// A real body, as a scanner or another program measured or made it.
namespace bandwright::formats {

/// Reads a closed surface from an STL (text or binary), OBJ or PLY file (text, binary of either byte order),
/// in the lengths of the file. Points in the same place are merged, and a body that is inside out is turned
/// back. At most 10 million triangles, 10,000 pieces and 1 GiB. Throws InputError when the file cannot be
/// read, is not what its ending says, is cut short, has too much or nothing in it, or its surface is not
/// closed.
geometry::Triangles readBody(const std::filesystem::path& file);

/// A value in mm and a colour, sRGB, at each point of a body.
struct PointValue {
    float value = 0;
    std::array<unsigned char, 3> colour{};
};

/// Writes a body as a binary PLY file, lengths in mm as doubles, each point with its colour and its value as
/// the property `name`. The file is replaced whole or not at all. Throws InputError when it cannot be
/// written.
void writeBody(const std::filesystem::path& file, const geometry::Triangles& body,
               const std::vector<PointValue>& values, const std::string& name);

}  // namespace bandwright::formats
