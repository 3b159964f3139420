#pragma once

#include <TopoDS_Shape.hxx>

#include "geometry/boundary.hpp"

/// Boundaries as solids of another kernel, OpenCASCADE, made from the values alone.
namespace bandwright::reference {

/// A solid for each shell. Surfaces, lines and circles are the kernel's own; an intersection is a cubic
/// spline through exact places, in space and on both surfaces, that stands off the curve by less than 1e-9
/// mm. A face that runs round an axis gets a seam here. Throws std::runtime_error where it cannot be drawn,
/// and for a long cabochon, whose dome is no surface of the kernel's.
TopoDS_Shape solidOf(const geometry::Boundary& body);

/// Whether the kernel calls it valid, and all its shells closed.
bool isSound(const TopoDS_Shape& shape);

/// mm3, by adaptive Gauss-Kronrod integration.
double exactVolume(const TopoDS_Shape& shape);

}  // namespace bandwright::reference
