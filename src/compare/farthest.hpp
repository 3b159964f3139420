#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <vector>

#include "triangle_tree.hpp"

/// The greatest value over triangles, proven: branch and bound. Private to the room.
namespace bandwright::compare {

struct Looked {
    double value = 0;  ///< at the middle of a triangle
    double bound = 0;  ///< nowhere in it is the value more
};

/// A triangle, or a piece of one.
struct Piece {
    std::array<Vec3, 3> corners;
    std::uint32_t triangle = 0;  ///< that it is, or lies in
    double bound = 0;            ///< nowhere in it is the value more

    Vec3 middle() const { return 1.0 / 3 * (corners[0] + corners[1] + corners[2]); }
};

struct Farthest {
    double value = 0;  ///< the greatest that was found
    Vec3 at;
    std::uint32_t triangle = 0;  ///< that it lies in
    double bound = 0;            ///< nowhere is it more
};

/// mm between what was found and what it is never more than; where it is reached the search ends.
inline constexpr double kProvenTo = 0.003;

/// Pieces whose bound is greater than what was found are halved until none is, or `mostPieces` were looked
/// at; the bound is then what it is by then.
Farthest farthest(std::vector<Piece> pieces, Farthest found, const std::function<Looked(const Piece&)>& look,
                  std::size_t mostPieces);

/// A distance from a triangle is convex: over another triangle it is greatest at a corner.
double mostFrom(const std::array<Vec3, 3>& triangle, const std::array<Vec3, 3>& corners);

/// From the middle to the farthest corner: values that change by no more than the way differ by this at most.
double reachOf(const std::array<Vec3, 3>& corners);

/// A float that is no less.
float roundedUp(double value);

}  // namespace bandwright::compare
