#pragma once

#include "geometry/hole.hpp"
#include "geometry/mesh.hpp"

namespace bandwright::geometry {

/// What the drills take away, as a closed mesh: from the hole's bottom to where its profile ends outside the
/// ring. `angle` is the hole's own round the ring, radians. Chords stand off the wall by at most `sagitta`
/// mm; the first of them begins at `phase` radians about the hole's axis.
Mesh holeBody(const HoleProfile& profile, double angle, double sagitta, double phase);

}  // namespace bandwright::geometry
