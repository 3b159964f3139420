#pragma once

#include <array>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "geometry/feature.hpp"
#include "geometry/vector.hpp"

namespace bandwright::geometry {

/// Where one feature's triangles lie in a mesh.
struct MeshFace {
    Tag tag;
    std::uint32_t firstTriangle = 0;
    std::uint32_t triangleCount = 0;
};

/// A closed, oriented triangle mesh. Points carry the topology (two triangles share an edge when they share
/// its two points); vertices add the surface's own normal, so a sharp edge has two vertices at each of its
/// points.
struct Mesh {
    std::vector<Vec3> points;                             ///< mm
    std::vector<std::uint32_t> pointOf;                   ///< of each vertex
    std::vector<std::array<float, 3>> normals;            ///< of each vertex, unit, outward
    std::vector<std::array<std::uint32_t, 3>> triangles;  ///< vertices, counter-clockwise seen from outside
    std::vector<MeshFace> faces;                          ///< in order, covering all triangles
};

/// What is wrong with a mesh, counted; all zero when it is closed, oriented and 2-manifold.
struct MeshDefects {
    std::size_t openEdges = 0;            ///< edges not used once in each direction
    std::size_t degenerateTriangles = 0;  ///< triangles that name a point twice or have no area
    std::size_t splitPoints = 0;          ///< points whose triangles do not form one fan
    bool operator==(const MeshDefects&) const = default;
};

MeshDefects defects(const Mesh& mesh);

/// V - E + F over the points in use: 2 for each outer shell, less 2 for each handle.
int eulerCharacteristic(const Mesh& mesh);

/// Volume in mm3 by the divergence theorem; positive when the triangles face outward.
double volume(const Mesh& mesh);

/// Area in mm2.
double area(const Mesh& mesh);

}  // namespace bandwright::geometry
