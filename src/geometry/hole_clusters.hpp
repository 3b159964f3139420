#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "arithmetic.hpp"
#include "revolve.hpp"
#include "sector.hpp"

/// Which holes of a ring stand so near each other that they must be worked out together.
namespace bandwright::geometry {

/// One hole as it stands in the ring: the row of holes it is of, and its angle in radians.
struct PlacedHole {
    std::size_t row = 0;
    double angle = 0;
};

/// Holes that overlap in angle, wherever they stand across the width, in order of angle.
struct HoleCluster {
    double from = 0, to = 0;  ///< what its holes take, radians
    std::vector<PlacedHole> holes;

    bool isWholeTurn() const { return to - from >= kTurn; }
};

/// Holes that do not touch the body are left out. `cuts` are those of the rows.
std::vector<HoleCluster> clustersOf(std::span<const HoleRow> rows, const std::vector<HoleCut>& cuts);

/// Of a cluster's holes those that run into one before them or come nearer to it than `clearance` mm.
std::vector<PlacedHole> tooNear(const HoleCluster& cluster, const std::vector<HoleProfile>& profiles,
                                const std::vector<HoleCut>& cuts, double clearance);

/// Those that reach over the middle of the cluster's first hole.
std::vector<PlacedHole> overFirst(const HoleCluster& cluster, const std::vector<HoleCut>& cuts);

/// The same cluster as seen from a line across the band, which is then at angle 0 and meets a hole only in
/// the hole's middle; `zero` is where that line stands. Nothing when there is none.
std::optional<HoleCluster> fromFreeLine(const HoleCluster& cluster, const std::vector<HoleCut>& cuts,
                                        double& zero);

/// Throws InputError when two of the holes meet or come nearer to each other than `clearance` mm. Their
/// angles count from `zero`.
void requireApart(std::span<const SectorHole> holes, double clearance, double zero);

}  // namespace bandwright::geometry
