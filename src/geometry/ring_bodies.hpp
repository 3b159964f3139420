#pragma once

#include <array>
#include <utility>
#include <vector>

#include "geometry/part.hpp"
#include "geometry/ring.hpp"

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

}  // namespace bandwright::geometry
