#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "geometry/mesh.hpp"

namespace bandwright::geometry {

/// A half-space: a point p is inside when dot(normal, p) <= offset.
struct Plane {
    Vec3 normal;        ///< unit, outward
    double offset = 0;  ///< mm from the origin
    Tag tag;
};

/// One flat face of a polyhedron.
struct Facet {
    std::uint32_t plane = 0;             ///< place among the planes it was made from
    std::vector<std::uint32_t> corners;  ///< points, counter-clockwise seen from outside
};

/// A closed convex solid. A plane that only touches it has no facet.
struct Polyhedron {
    std::vector<Vec3> points;  ///< mm
    std::vector<Facet> facets;
};

/// The solid inside all planes, which contains the origin and of which no two are the same. Corners nearer to
/// each other than a billionth of its size are one, so planes that are meant to meet in a point do. Throws
/// InputError when the planes do not enclose a solid.
Polyhedron polyhedron(std::span<const Plane> planes);

/// Its surface, flat facets as fans of triangles; one face for each run of facets with the same tag.
Mesh mesh(const Polyhedron& solid, std::span<const Plane> planes);

/// Volume in mm3.
double volume(const Polyhedron& solid);

}  // namespace bandwright::geometry
