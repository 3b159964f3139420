#include "hole_clusters.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

/// Whether a point of one hole's wall lies in another hole or nearer to it than `clearance`. Radial holes
/// come nearest to each other at the inner end of each of their steps, and there are points there.
bool reaches(const SectorHole& a, const SectorHole& b, double clearance) {
    const double apart = std::abs(std::remainder(a.angle - b.angle, kTurn));
    constexpr double kRoom = 0.01;
    if (apart > a.cut->halfAngle + b.cut->halfAngle + kRoom) return false;
    const double c = std::cos(a.angle - b.angle);
    const double s = std::sin(a.angle - b.angle);
    for (const Vec3& p : a.cut->points) {
        for (const double y : {p.y, -p.y}) {
            const double x = c * p.x - s * y;
            const double across = std::hypot(s * p.x + c * y, p.z - b.profile->offset);
            if (across < radiusAt(*b.profile, x) + clearance) return true;
        }
    }
    return false;
}

std::string roundedDegrees(double angle) {
    return base::shortestNumber(std::round(positive(angle) * 360 / kTurn * 10) / 10);
}

[[noreturn]] void refuseMeeting(const SectorHole& a, const SectorHole& b, double zero) {
    const auto setting = [](const SectorHole& hole) {
        return "settings[" + std::to_string(hole.profile->pieces.front().tag.owner) + "]";
    };
    throw base::InputError((setting(a) == setting(b) ? setting(a) : setting(a) + " and " + setting(b)) +
                           ": the holes at " + roundedDegrees(zero + a.angle) + " and " +
                           roundedDegrees(zero + b.angle) +
                           " degrees run into each other; allowed: holes with metal between them");
}

}  // namespace

std::vector<HoleCluster> clustersOf(std::span<const HoleRow> rows, const std::vector<HoleCut>& cuts) {
    std::vector<HoleCluster> single;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (!cuts[i].touches()) continue;
        for (const double angle : rows[i].angles) {
            const double from = positive(angle - cuts[i].halfAngle);
            single.push_back({from, from + 2 * cuts[i].halfAngle, {{i, from + cuts[i].halfAngle}}});
        }
    }
    std::sort(single.begin(), single.end(),
              [](const HoleCluster& a, const HoleCluster& b) { return a.from < b.from; });
    constexpr double kApart = 1e-7;
    std::vector<HoleCluster> merged;
    for (HoleCluster& next : single) {
        if (merged.empty() || next.from > merged.back().to + kApart) {
            merged.push_back(std::move(next));
            continue;
        }
        merged.back().to = std::max(merged.back().to, next.to);
        merged.back().holes.push_back(next.holes.front());
    }
    // The last may reach round to the first.
    while (merged.size() > 1 && merged.back().to + kApart >= merged.front().from + kTurn) {
        HoleCluster& last = merged.back();
        for (PlacedHole hole : merged.front().holes)
            last.holes.push_back({hole.row, hole.angle + kTurn});
        last.to = std::max(last.to, merged.front().to + kTurn);
        merged.erase(merged.begin());
    }
    return merged;
}

std::vector<PlacedHole> tooNear(const HoleCluster& cluster, const std::vector<HoleProfile>& profiles,
                                const std::vector<HoleCut>& cuts, double clearance) {
    std::vector<SectorHole> apart;
    std::vector<PlacedHole> result;
    for (const PlacedHole& hole : cluster.holes) {
        const SectorHole own{&profiles[hole.row], &cuts[hole.row], hole.angle};
        const bool meets = std::ranges::any_of(apart, [&](const SectorHole& before) {
            return reaches(own, before, clearance) || reaches(before, own, clearance);
        });
        if (meets) {
            result.push_back(hole);
        } else {
            apart.push_back(own);
        }
    }
    return result;
}

namespace {

bool reachesOver(const PlacedHole& hole, double angle, const std::vector<HoleCut>& cuts) {
    const double off = std::abs(std::remainder(hole.angle - angle, kTurn));
    return off >= kSameAngle && off <= cuts[hole.row].halfAngle + kSameAngle;
}

}  // namespace

std::vector<PlacedHole> overFirst(const HoleCluster& cluster, const std::vector<HoleCut>& cuts) {
    std::vector<PlacedHole> over;
    for (const PlacedHole& hole : cluster.holes) {
        if (reachesOver(hole, cluster.holes.front().angle, cuts)) over.push_back(hole);
    }
    return over;
}

std::optional<HoleCluster> fromFreeLine(const HoleCluster& cluster, const std::vector<HoleCut>& cuts,
                                        double& zero) {
    const auto first = std::ranges::find_if(cluster.holes, [&](const PlacedHole& own) {
        return std::ranges::none_of(
            cluster.holes, [&](const PlacedHole& hole) { return reachesOver(hole, own.angle, cuts); });
    });
    if (first == cluster.holes.end()) return std::nullopt;
    HoleCluster turned{0, kTurn, {}};
    for (const PlacedHole& hole : cluster.holes) {
        const double angle = positive(hole.angle - first->angle);
        turned.holes.push_back({hole.row, angle > kTurn - kSameAngle || angle < kSameAngle ? 0 : angle});
    }
    std::stable_sort(turned.holes.begin(), turned.holes.end(),
                     [](const PlacedHole& a, const PlacedHole& b) { return a.angle < b.angle; });
    zero = first->angle;
    return turned;
}

void requireApart(std::span<const SectorHole> holes, double clearance, double zero) {
    for (const SectorHole& a : holes) {
        for (const SectorHole& b : holes) {
            if (&a != &b && reaches(a, b, clearance)) refuseMeeting(a, b, zero);
        }
    }
}

}  // namespace bandwright::geometry
