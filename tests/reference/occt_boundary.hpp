#pragma once

#include <TopoDS_Shape.hxx>

#include "geometry/boundary.hpp"

/// Boundaries as solids of another kernel, OpenCASCADE.
namespace bandwright::reference {

/// As STEP files are written from (formats/step_solid.hpp).
TopoDS_Shape solidOf(const geometry::Boundary& body);

/// Whether the kernel calls it valid, and all its shells closed.
bool isSound(const TopoDS_Shape& shape);

/// mm3, by adaptive Gauss-Kronrod integration.
double exactVolume(const TopoDS_Shape& shape);

}  // namespace bandwright::reference
