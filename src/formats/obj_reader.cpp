#include <tiny_obj_loader.h>

#include <algorithm>
#include <fstream>
#include <sstream>

#include "facets.hpp"

namespace bandwright::formats {

namespace {

std::size_t cornersOn(std::string_view line) {
    Words words(line);
    std::size_t corners = 0;
    while (!words.next().empty())
        ++corners;
    return corners;
}

/// The lines of vertices and faces alone, each vertex three numbers. What else a file may hold is not read: a
/// few bytes of it make the reader take gigabytes, and it takes what is no number for nought. What it makes
/// of these lines is some hundred bytes each, so they are counted before it reads them.
std::string shapeLines(const std::filesystem::path& file, const ReadLimits& limits, std::istream& in) {
    std::string kept;
    std::string line;
    std::size_t triangles = 0, vertices = 0;
    for (std::size_t number = 1; std::getline(in, line); ++number) {
        const std::size_t start = line.find_first_not_of(" \t");
        if (start == std::string::npos || start + 1 >= line.size()) continue;
        const bool isVertex = line[start] == 'v', isFace = line[start] == 'f';
        if ((!isVertex && !isFace) || (line[start + 1] != ' ' && line[start + 1] != '\t')) continue;
        if (isVertex) {
            Words words(std::string_view(line).substr(start + 1));
            for (int i = 0; i < 3; ++i) {
                double value = 0;
                if (!words.number(value))
                    refuse(file, limits,
                           "has a vertex on line " + std::to_string(number) + " that is not three numbers");
            }
            ++vertices;
        } else {
            // A line of less than three corners counts too: the reader keeps something of each.
            triangles += std::max<std::size_t>(cornersOn(std::string_view(line).substr(start + 1)), 3) - 2;
        }
        if (triangles > limits.triangles)
            refuse(file, limits, "has more than " + std::to_string(limits.triangles) + " triangles");
        if (vertices > 3 * limits.triangles)
            refuse(file, limits,
                   "has more vertices than " + std::to_string(limits.triangles) +
                       " triangles, the most that are read, have corners");
        kept += line;
        kept += '\n';
    }
    return kept;
}

}  // namespace

Facets readObj(const std::filesystem::path& file, const ReadLimits& limits) {
    requireSize(file, limits);
    std::ifstream stream(file, std::ios::binary);
    if (!stream) refuse(file, limits, "cannot be read");
    tinyobj::attrib_t attributes;
    std::vector<tinyobj::shape_t> shapes;
    {
        std::vector<tinyobj::material_t> materials;
        std::string warnings;
        std::string errors;
        std::istringstream lines(shapeLines(file, limits, stream));
        if (!tinyobj::LoadObj(&attributes, &shapes, &materials, &warnings, &errors, &lines, nullptr, false))
            refuse(file, limits, "cannot be read as an OBJ file");
    }
    Facets facets;
    facets.points.reserve(attributes.vertices.size() / 3);
    for (std::size_t i = 0; i + 2 < attributes.vertices.size(); i += 3)
        facets.points.push_back(
            {attributes.vertices[i], attributes.vertices[i + 1], attributes.vertices[i + 2]});
    for (const tinyobj::shape_t& shape : shapes) {
        for (const auto size : shape.mesh.num_face_vertices)
            facets.sizes.push_back(static_cast<std::uint32_t>(size));
        // A corner that does not exist is below 0, which no point's number is either.
        for (const tinyobj::index_t& index : shape.mesh.indices)
            facets.corners.push_back(static_cast<std::uint32_t>(index.vertex_index));
    }
    return facets;
}

}  // namespace bandwright::formats
