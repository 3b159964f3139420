#pragma once

#include <cstddef>
#include <cstdint>

#include "design/design.hpp"
#include "geometry/mesh.hpp"
#include "geometry/ring.hpp"
#include "geometry/section.hpp"

/// Where the pieces of a setting come to stand. Heights are distances from the ring's axis along the hole's
/// own axis, mm.
namespace bandwright {

/// Height of the flat the tube stands on: the floor of the widest step or, without steps, of a blind pilot.
double tubeBase(const Design& design, std::size_t setting);

/// Height of the middle of the girdle of a stone (in its own frame) that rests on the edge of the tube's
/// ledge or, without a tube, of the next narrower part of the hole; on the flat where nothing is narrower.
double girdleHeight(const Design& design, std::size_t setting, const Mesh& stone);

/// The lowest place at which a convex stone meets the upright cylinder of this radius about its axis: there a
/// round edge of that radius carries it. In the stone's frame; its girdle's middle (0) when it falls through.
double restingPlace(const Mesh& stone, double radius);

/// The tube's wall on the side of larger z, its axis at z = 0.
Loop tubeWall(const Tube& tube, double base, std::uint16_t setting);

/// Where a convex stone is cut by the plane through its axis and its width: z along the width, r up its axis.
Loop stoneOutline(const Mesh& stone, std::uint16_t setting);

}  // namespace bandwright
