#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "design/design.hpp"
#include "geometry/mesh.hpp"
#include "geometry/ring.hpp"
#include "geometry/section.hpp"
#include "revolve.hpp"

/// Where the pieces of a setting come to stand. Heights are distances from the ring's axis along the hole's
/// own axis, mm.
namespace bandwright::geometry {

/// The holes of every setting, where they stand round the band.
std::vector<HoleRow> holeRows(const design::Design& design);

/// Height of the flat the tube stands on: the floor of the widest step or, without steps, of a blind pilot.
double tubeBase(const design::Design& design, std::size_t setting);

/// Height of the middle of the girdle of a stone (in its own frame) that rests on the edge of the tube's
/// ledge or, without a tube, on the first ledge or bearing of the hole that it meets.
double girdleHeight(const design::Design& design, std::size_t setting, const Mesh& stone);

/// The lowest place of a stone on the upright cylinder of this radius about its axis or outside it: there a
/// round edge of that radius carries it. In the stone's frame; its girdle's middle (0) when it falls through.
double restingPlace(const Mesh& stone, double radius);

/// The part of a closed lip that is turned over the stone: as many places outside as inside, from the bend to
/// the end, as the tube's wall is drawn. It keeps its wall, and so much length that the volume stays the
/// same.
struct ClosedLip {
    std::vector<Vec2> inside;  ///< the first where the girdle's upper edge meets the seat
    std::vector<Vec2> outside;
};

/// The lip of a tube closed over a stone (in its own frame) whose girdle's middle stands at a height: laid on
/// the outline that the stone leaves when it is turned about its axis. Nothing where the lip has to stay
/// upright: it does not reach above the girdle, is too short to be turned or too long to leave an opening, or
/// the stone reaches out over the seat.
std::optional<ClosedLip> closedLip(const design::Tube& tube, double base, const Mesh& stone, double girdle);

/// The tube's wall on the side of larger z, its axis at z = 0.
Loop tubeWall(const design::Tube& tube, double base, const std::optional<ClosedLip>& lip,
              std::size_t setting);

/// The wall of a setting's tube at a stage: the lip is open until it is closed over the stone, if there is
/// one.
Loop tubeWall(const design::Design& design, std::size_t setting, design::Stage stage);

/// The tube's wall as a section about its own axis: z up the tube, r away from its axis.
Section tubeSection(const design::Design& design, std::size_t setting, design::Stage stage);

/// Where a stone is cut by the plane through its axis and its width: z along the width, r up its axis. One
/// loop when it is convex.
Section stoneOutline(const Mesh& stone, std::size_t setting);

}  // namespace bandwright::geometry
