#pragma once

#include <TopoDS_Shape.hxx>

#include "geometry/boundary.hpp"

/// Boundaries as solids of OpenCASCADE, made from the values alone. Private to what writes STEP.
namespace bandwright::formats {

/// `geometry::pointAt`, which a module loaded at run time is handed.
using PointAt = geometry::Vec3 (*)(const geometry::Boundary&, std::uint32_t, double);

/// A compound with a solid for each shell. Surfaces, lines and circles are the kernel's own; an intersection
/// is a cubic spline through exact places, in space and on both surfaces, that stands off the curve by less
/// than 1e-9 mm. A face that runs round an axis gets a seam here. Throws std::runtime_error where it cannot
/// be drawn.
TopoDS_Shape solidOf(const geometry::Boundary& body, PointAt pointAt);

/// A cabochon longer than wide: its dome is a rational spline, exactly, its wall a girdle moved along a line.
TopoDS_Shape longCabochon(const geometry::Boundary& body);

}  // namespace bandwright::formats
