#pragma once

#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "geometry/ring.hpp"

namespace bandwright::geometry {

/// How thick the metal is under each vertex of the band's mesh, mm: the diameter of the largest ball inside
/// the metal that touches the surface there and is stopped by a surface facing it, one whose normal stands at
/// 120 degrees or more to this one's. (Without that condition it would be 0 along every edge, which says
/// nothing of the wall.) `band` is the band of `buildParts` for the same design and stage.
///
/// Where the surface is turned about the ring's axis, and for cylinders and flats of holes, each contact is
/// the root of a linear or quadratic equation; the others, where the distance is a root of the radius, are
/// found by iteration to 1e-9 mm.
///
/// Where the mesh is enlarged for casting by `factor`, walls are still those of the ring itself.
std::vector<float> wallMap(const Part& band, const design::Design& design,
                           design::Stage stage = design::Stage::Finished, double factor = 1);

/// The same at one place, within the mesh's tolerance of the surface that the tag made. Ring frame, mm;
/// `outward` is the normal there, out of the metal; in a hole the answer is good to 0.01 mm or so.
double wallAt(const design::Design& design, design::Stage stage, Tag tag, const Vec3& place,
              const Vec3& outward);

}  // namespace bandwright::geometry
