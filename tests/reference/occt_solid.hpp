#pragma once

#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Shape.hxx>
#include <vector>

#include "design/design.hpp"
#include "geometry/hole.hpp"
#include "geometry/section.hpp"
#include "geometry/solid.hpp"

/// The same bodies built by another kernel: OpenCASCADE, by revolving and cutting true arcs and cylinders.
namespace bandwright::reference {

/// A segment and what a loop encloses, in the half-plane y = 0, x > 0.
TopoDS_Edge edge(const geometry::Segment& segment);
TopoDS_Face face(const geometry::Loop& loop);

/// The section turned about the ring's axis, a solid for each of its bodies.
TopoDS_Shape turned(const geometry::Section& section);

/// The hole as a solid, its axis at `angle` radians round the band.
TopoDS_Shape hole(const geometry::HoleProfile& profile, double angle);

/// The section turned, less every hole of the design.
TopoDS_Shape drilled(const geometry::Section& section, const design::Design& design);

/// The surfaces, not a solid, that the segments make when turned about the ring's axis.
TopoDS_Shape turnedSurfaces(const std::vector<geometry::Segment>& segments);

/// What two solids share.
TopoDS_Shape common(const TopoDS_Shape& a, const TopoDS_Shape& b);

/// mm3 and mm2 by OpenCASCADE's own integration.
double volume(const TopoDS_Shape& shape);
double area(const TopoDS_Shape& shape);

/// A solid's centroid and its moments of inertia about it, or a flat shape's, by OpenCASCADE's own
/// integration.
struct Spread {
    double size = 0;  ///< mm3, or mm2 of a flat shape
    geometry::Vec3 centroid;
    geometry::Inertia inertia;
};
Spread spread(const TopoDS_Shape& solid);
Spread spreadOfFlat(const TopoDS_Shape& shape);

/// What the half-plane through the ring's axis at `angle` radians cuts out of a solid.
TopoDS_Shape cutAt(const TopoDS_Shape& solid, double angle);

/// The upright box around the shape, from a mesh of it that stands off by `tolerance` mm at most: the box
/// that OpenCASCADE finds for trimmed surfaces may be far too large.
struct Box {
    geometry::Vec3 least, most;
};
Box box(const TopoDS_Shape& shape, double tolerance);

/// How far along a line, from its beginning and in mm, it meets the shape's faces; rising. The direction is a
/// unit vector.
std::vector<double> crossings(const TopoDS_Shape& shape, geometry::Vec3 from, geometry::Vec3 direction);

/// Shortest distance between two shapes by OpenCASCADE's extrema, mm.
double shortest(const TopoDS_Shape& a, const TopoDS_Shape& b);

/// Triangulates the shape's faces to a chord tolerance in mm and returns how many triangles there are.
std::size_t triangulate(const TopoDS_Shape& shape, double tolerance);

}  // namespace bandwright::reference
