#pragma once

#include <span>
#include <vector>

#include "geometry/hole.hpp"
#include "geometry/mesh.hpp"
#include "geometry/section.hpp"

namespace bandwright::geometry {

/// The same hole at several angles round the band.
struct HoleRow {
    HoleProfile profile;
    std::vector<double> angles;  ///< radians
};

/// The closed surface of a section turned about the ring's axis, with holes taken out of it. Triangles stand
/// off the true surface by at most `tolerance` mm; see BuildOptions for `apart`. Holes may run into each
/// other. Throws InputError where one runs so nearly along another that both cannot be told apart, or leaves
/// a film so thin that the mesh would run through itself.
Mesh revolved(const Section& section, std::span<const HoleRow> holes, double tolerance, bool apart = true);

}  // namespace bandwright::geometry
