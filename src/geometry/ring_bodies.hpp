#pragma once

#include <array>
#include <functional>
#include <span>
#include <utility>
#include <vector>

#include "geometry/part.hpp"
#include "geometry/ring.hpp"
#include "geometry/workpiece.hpp"
#include "revolve.hpp"

/// What meshes, masses and boundaries of a ring's bodies share.
namespace bandwright::geometry {

/// Where a tube or stone stands: its x round the band, its y along the ring's axis, its own axis outwards.
struct Stand {
    std::array<Vec3, 3> axes;
    Vec3 origin;
};
Stand standAt(double angle, double offset, double height);

/// The bodies that are turned about the ring's axis, each with its plain section, which is one of `plain`.
std::vector<std::pair<Part, const Section*>> turnedBodies(const design::Design& design,
                                                          const RingSections& plain);

/// About how many triangles the ring's meshes have within this tolerance in mm, told from the numbers of
/// steps alone: between half and twice as many within 100 micrometres or less.
double expectedTriangles(const design::Design& design, design::Stage stage, const Workpiece& piece,
                         const RingSections& plain, std::span<const HoleRow> holes, double tolerance);

/// Throws InputError with the least tolerance that is allowed where `expected` tells of more than
/// `kMostTriangles`.
void requireFewTriangles(const std::function<double(double)>& expected, double tolerance);

}  // namespace bandwright::geometry
