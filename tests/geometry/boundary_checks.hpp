#pragma once

#include "geometry/boundary.hpp"

/// Checks that a boundary is sound, for tests. Nothing here uses the sums or surfaces of the code that made
/// it.
namespace bandwright::geometry {

/// Edges that are not used once in each direction, and loops whose edges do not follow each other.
std::size_t brokenEdges(const Boundary& body);
std::size_t brokenLoops(const Boundary& body);

/// V - E + F, where each face counts 2 minus the number of its loops.
int eulerCharacteristic(const Boundary& body);

/// The most that a vertex, or a place on an edge, lies off the surface of a face it bounds, mm.
struct Stray {
    double vertex = 0, edge = 0;
};
Stray farthestOff(const Boundary& body);

struct Enclosed {
    double volume = 0;     ///< mm3
    double area = 0;       ///< mm2
    double leastFace = 0;  ///< mm2, area of the smallest face; negative when its loops run the wrong way
};

/// The divergence theorem over the faces and Green's theorem over their loops: Gauss' rule integrates across
/// each surface, Romberg's rule along the loops.
Enclosed enclosed(const Boundary& body);

/// A surface by two parameters: (u, v) of a place, the place, and the cross product of its derivatives.
struct SurfaceParameters {
    double u = 0, v = 0;
};
SurfaceParameters parametersAt(const FaceSurface& surface, const Vec3& p);

}  // namespace bandwright::geometry
