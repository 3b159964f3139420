#pragma once

#include <array>

#include "geometry/mesh.hpp"
#include "geometry/section.hpp"
#include "geometry/vector.hpp"

/// What a body weighs and how its weight is spread, for a density of 1: integrals over its inside, without a
/// mesh wherever the body is not made of flat facets.
namespace bandwright::geometry {

struct SolidProperties {
    double volume = 0;              ///< mm3
    double area = 0;                ///< mm2, of its whole surface
    Vec3 first;                     ///< mm4: integrals of x, y, z
    double xx = 0, yy = 0, zz = 0;  ///< mm5: integrals of the squares
    double xy = 0, yz = 0, zx = 0;  ///< and of the products
    Vec3 centroid() const;          ///< mm; the origin for a body of no volume
    SolidProperties& operator+=(const SolidProperties& other);
    friend SolidProperties operator*(double factor, SolidProperties solid);
};

/// Second moments about the axes through the centroid, as of a mass: xx is the integral of y y + z z, xy that
/// of x y without the minus of the tensor.
struct Inertia {
    double xx = 0, yy = 0, zz = 0, xy = 0, yz = 0, zx = 0;
};
Inertia inertia(const SolidProperties& solid);

/// The same body moved: what lay along its x, y and z lies along `axes` (unit, square to each other), and its
/// origin comes to lie at `origin`.
SolidProperties placed(const SolidProperties& solid, const std::array<Vec3, 3>& axes, Vec3 origin);

/// The body a section turned about the z axis leaves, exact.
SolidProperties turnedSolid(const Section& section);

/// Of a closed mesh, exact for its flat triangles.
SolidProperties meshSolid(const Mesh& mesh);

}  // namespace bandwright::geometry
