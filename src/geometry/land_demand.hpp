#pragma once

#include <optional>
#include <span>
#include <vector>

#include "land_way.hpp"

/// What must hold of every straight way through the metal between two patches, in linear terms: so that the
/// shortest of them can be bounded from below.
namespace bandwright::geometry {

/// gradient . place >= least, where the place lies at `share` of the way.
struct Demand {
    double share = 0;
    Vec3 gradient;
    double least = 0;

    bool isMetAllOver(const WallPatch& a, const WallPatch& b) const;
    bool isMetNowhere(const WallPatch& a, const WallPatch& b) const;
};

/// A demand, nothing where there is none to make, or the certainty that no way is in metal.
struct Demanded {
    std::optional<Demand> demand;
    bool possible = true;
};

/// A patch with what is the same for all ways that end on it.
struct LandPatch {
    WallPatch wall;
    PlaceBox box;  ///< where there can be metal
    Vec3 middle;
    std::optional<Vec3> end;      ///< a place where a way may end
    std::vector<Demand> demands;  ///< of a way's end here
};
/// Nothing where no way can end on it.
std::optional<LandPatch> landPatch(const LandMetal& metal, const WallPatch& wall, double share);

/// What a boundary of the metal that comes near a way demands of all ways between two patches; `place` is
/// where it does.
Demanded demandBetween(const LandMetal& metal, const LandPatch& a, const LandPatch& b, const Nearness& near,
                       const Vec3& place);

/// The same for a boundary that ends at one of the patches.
Demanded demandAtEnd(const LandMetal& metal, const LandPatch& patch, const Nearness& near, const Vec3& place);

}  // namespace bandwright::geometry
