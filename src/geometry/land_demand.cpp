#include "land_demand.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

struct Extent {
    double from = 0, to = 0;
};

/// The distances from the ring's axis that occur in a box.
Extent radii(const PlaceBox& box) {
    const double nearest = box.low.y > 0 ? box.low.y : std::max(0.0, -box.high.y);
    return {planeNorm(std::max(0.0, box.low.x), nearest),
            planeNorm(box.high.x, std::max(-box.low.y, box.high.y))};
}

bool overlaps(const Extent& r, double low, double high) {
    return low <= r.to + kSamePoint && high >= r.from - kSamePoint;
}

PlaceBox roundBoth(const PlaceBox& a, const PlaceBox& b) {
    return {{std::min(a.low.x, b.low.x), std::min(a.low.y, b.low.y), std::min(a.low.z, b.low.z)},
            {std::max(a.high.x, b.high.x), std::max(a.high.y, b.high.y), std::max(a.high.z, b.high.z)}};
}

PlaceBox between(const PlaceBox& a, const PlaceBox& b, double share) {
    return {(1 - share) * a.low + share * b.low, (1 - share) * a.high + share * b.high};
}

/// Each cell that reaches into a box, with the part of it that does.
void forEachCell(const PlaceBox& box, std::span<const CellStack> stacks, auto&& visit) {
    const Extent r = radii(box);
    for (const CellStack& stack : stacks) {
        const double z0 = std::max(stack.from, box.low.z), z1 = std::min(stack.to, box.high.z);
        if (z1 < z0 - kSamePoint) continue;
        for (const LandCell& cell : stack.cells) {
            // Branches rise or fall all through a cell.
            if (overlaps(r, std::min(cell.low.at(z0), cell.low.at(z1)),
                         std::max(cell.high.at(z0), cell.high.at(z1))))
                visit(cell, std::min(z0, z1), std::max(z0, z1));
        }
    }
}

std::optional<Extent> metalIn(const PlaceBox& box, std::span<const CellStack> stacks) {
    std::optional<Extent> result;
    forEachCell(box, stacks, [&](const LandCell&, double z0, double z1) {
        if (!result) result = Extent{z0, z1};
        result = Extent{std::min(result->from, z0), std::max(result->to, z1)};
    });
    return result;
}

/// The outline turned about the axis bends away from the plane that touches it at a turn: by how much at most
/// in a box, mm for each mm of radius.
double bendIn(const PlaceBox& box, const Vec3& outwards) {
    double tangent = 0;
    for (const double x : {box.low.x, box.high.x}) {
        for (const double y : {box.low.y, box.high.y}) {
            const double along = outwards.x * x + outwards.y * y;
            if (along <= 0) return 1;
            tangent = std::max(tangent, std::abs(outwards.x * y - outwards.y * x) / along);
        }
    }
    return 1 - 1 / std::sqrt(1 + square(tangent));
}

Vec3 outwardsAt(const Vec3& place) {
    const double r = planeNorm(place.x, place.y);
    return {place.x / r, place.y / r, 0};
}

Vec3 gradientOf(Bound bound, const Vec3& outwards, double slope) {
    return signOf(bound) * Vec3{outwards.x, outwards.y, -slope};
}

/// Of a place somewhere in a box: beyond the plane of this slope that the boundary does not come past there.
Demanded demandIn(const PlaceBox& box, std::span<const CellStack> stacks, double share, Bound bound,
                  const Vec3& place, double slope) {
    double least = kNever, highest = 0;
    forEachCell(box, stacks, [&](const LandCell& cell, double z0, double z1) {
        const Branch& branch = branchOf(cell, bound);
        least = std::min(least, branch.leastOff(slope, signOf(bound), z0, z1));
        highest = std::max({highest, branch.at(z0), branch.at(z1)});
    });
    if (!std::isfinite(least)) return {std::nullopt, false};
    const Vec3 outwards = outwardsAt(place);
    if (bound == Bound::Low) least -= highest * bendIn(box, outwards);
    return {Demand{share, gradientOf(bound, outwards, slope), least}, true};
}

/// How much a boundary rises on the whole through a box.
double slopeThrough(const PlaceBox& box, std::span<const CellStack> stacks, Bound bound) {
    constexpr double kSteep = 4;
    std::optional<Vec2> first;
    Vec2 last;
    forEachCell(box, stacks, [&](const LandCell& cell, double z0, double z1) {
        const Branch& branch = branchOf(cell, bound);
        if (!first) first = Vec2{z0, branch.at(z0)};
        last = {z1, branch.at(z1)};
    });
    if (!first || last.z <= first->z) return 0;
    return std::clamp((last.r - first->r) / (last.z - first->z), -kSteep, kSteep);
}

/// The least or most r, as the bound says, that is metal on both sides of a plane across the band.
Demanded demandAtCorner(const LandMetal& metal, const LandPatch& a, const LandPatch& b, const Nearness& near,
                        const Vec3& place) {
    const double z = near.corner;
    const bool falls = a.box.low.z >= z - kSamePoint && b.box.high.z <= z + kSamePoint;
    const bool rises = a.box.high.z <= z + kSamePoint && b.box.low.z >= z - kSamePoint;
    if (!falls && !rises) return {};
    const auto [nearA, farA] = std::minmax({std::abs(a.box.low.z - z), std::abs(a.box.high.z - z)});
    const auto [nearB, farB] = std::minmax({std::abs(b.box.low.z - z), std::abs(b.box.high.z - z)});
    if (nearA + farB < kSamePoint || farA + nearB < kSamePoint) return {};
    // The shares at which ways between the patches pass the plane.
    const double t0 = nearA / (nearA + farB), t1 = farA / (farA + nearB);
    PlaceBox box = roundBoth(between(a.box, b.box, t0), between(a.box, b.box, t1));
    box.low.z = box.high.z = z;
    const Extent r = radii(box);
    double least = -kNever;
    for (const CellStack& stack : metal.inside()) {
        if (std::abs(stack.from - z) > kSamePoint && std::abs(stack.to - z) > kSamePoint) continue;
        double here = kNever;
        for (const LandCell& cell : stack.cells) {
            if (overlaps(r, cell.low.at(z), cell.high.at(z)))
                here = std::min(here, signOf(near.bound) * branchOf(cell, near.bound).at(z));
        }
        if (!std::isfinite(here)) return {std::nullopt, false};
        least = std::max(least, here);
    }
    if (!std::isfinite(least)) return {};
    const Vec3 outwards = outwardsAt(place);
    if (near.bound == Bound::Low) least -= least * bendIn(box, outwards);
    // A way passes the plane at another share than the one the demand is made for.
    const Vec3 g = gradientOf(near.bound, outwards, near.slope);
    const double change = std::max(std::abs(b.wall.mostAlong(g) - a.wall.leastAlong(g)),
                                   std::abs(b.wall.leastAlong(g) - a.wall.mostAlong(g)));
    const double off = std::max(std::abs(t0 - near.share), std::abs(t1 - near.share));
    return {Demand{near.share, g, least + g.z * z - off * change}, true};
}

}  // namespace

bool Demand::isMetAllOver(const WallPatch& a, const WallPatch& b) const {
    return (1 - share) * a.leastAlong(gradient) + share * b.leastAlong(gradient) >= least;
}

bool Demand::isMetNowhere(const WallPatch& a, const WallPatch& b) const {
    return (1 - share) * a.mostAlong(gradient) + share * b.mostAlong(gradient) < least - kSamePoint;
}

std::optional<LandPatch> landPatch(const LandMetal& metal, const WallPatch& wall, double share) {
    LandPatch patch{wall, boxRound(wall), wall.middle(), metal.endOn(wall), {}};
    const std::optional<Extent> stretch = metalIn(patch.box, metal.ends());
    if (!stretch) return std::nullopt;
    const auto demand = [&](const Demand& d) {
        if (!d.isMetAllOver(wall, wall)) patch.demands.push_back(d);
        return !d.isMetNowhere(wall, wall);
    };
    if (!demand({share, {0, 0, 1}, stretch->from}) || !demand({share, {0, 0, -1}, -stretch->to}))
        return std::nullopt;
    const auto within = [&](double z) { return std::clamp(z, stretch->from, stretch->to); };
    patch.box.low.z = within(patch.box.low.z);
    patch.box.high.z = within(patch.box.high.z);
    patch.middle.z = within(patch.middle.z);
    for (const Bound bound : {Bound::Low, Bound::High}) {
        const double slope = slopeThrough(patch.box, metal.ends(), bound);
        const Demanded d = demandIn(patch.box, metal.ends(), share, bound, patch.middle, slope);
        if (!d.possible || !demand(*d.demand)) return std::nullopt;
    }
    return patch;
}

Demanded demandBetween(const LandMetal& metal, const LandPatch& a, const LandPatch& b, const Nearness& near,
                       const Vec3& place) {
    if (std::isfinite(near.corner)) return demandAtCorner(metal, a, b, near, place);
    return demandIn(between(a.box, b.box, near.share), metal.inside(), near.share, near.bound, place,
                    near.slope);
}

Demanded demandAtEnd(const LandMetal& metal, const LandPatch& patch, const Nearness& near,
                     const Vec3& place) {
    return demandIn(patch.box, metal.ends(), near.share, near.bound, place, near.slope);
}

}  // namespace bandwright::geometry
