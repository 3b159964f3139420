#pragma once

#include <optional>
#include <random>

#include "compare/compare.hpp"
#include "geometry/ring.hpp"

/// Bodies to compare: known ones moved, scaled and dented.
namespace bandwright::compare {

inline constexpr double kDentReach = 1.5, kDentDepth = 0.05;  // mm

/// The band of a design, its first part.
Designed bandOf(const design::Design& design);

geometry::Triangles plain(const geometry::Mesh& mesh);

/// Where a body is dented, and the middle of the dent then.
struct Dent {
    geometry::Vec3 at, bottom;
};

/// Presses a smooth dent into the outside, at a point by lot where nothing else of the surface is nearer to
/// its bottom; nothing where there is no such point. The mesh is that of the body.
std::optional<Dent> dented(geometry::Triangles& body, const geometry::Mesh& mesh, const Designed& designed,
                           std::mt19937_64& lot);

/// From the triangles, one after the other; true to their chord.
double toMesh(const geometry::Mesh& mesh, const geometry::Vec3& p);

/// Any turn, and a shift of some tens of mm.
Pose randomPose(std::mt19937_64& lot);

void move(geometry::Triangles& body, const Pose& pose);

}  // namespace bandwright::compare
