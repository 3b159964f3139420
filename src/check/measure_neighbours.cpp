#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <string>
#include <utility>

#include "geometry/land.hpp"
#include "geometry/tolerance.hpp"
#include "measure.hpp"

/// Holes side by side round the band: their axes meet in the ring's axis, so they come nearest towards the
/// finger, or, with a countersink, at the outside.
namespace bandwright::check {

namespace {

/// One angle of each setting, radians: all pairs that are as near to each other round the band as any.
std::vector<std::pair<double, double>> nearestAngles(const design::Design& design, std::size_t a,
                                                     std::size_t b) {
    const std::vector<double> as = design::placedAngles(design.settings[a].placement);
    const std::vector<double> bs = design::placedAngles(design.settings[b].placement);
    const auto forEachPair = [&](auto&& visit) {
        for (std::size_t i = 0; i < as.size(); ++i) {
            for (std::size_t j = a == b ? i + 1 : 0; j < bs.size(); ++j)
                visit(as[i], bs[j], std::abs(std::remainder(as[i] - bs[j], 360)));
        }
    };
    double least = std::numeric_limits<double>::infinity();
    forEachPair([&](double, double, double turn) { least = std::min(least, turn); });
    constexpr double kSame = 1e-7;  // degrees
    std::vector<std::pair<double, double>> pairs;
    forEachPair([&](double p, double q, double turn) {
        if (turn <= least + kSame) pairs.emplace_back(p * std::numbers::pi / 180, q * std::numbers::pi / 180);
    });
    return pairs;
}

/// Whether the two are no neighbours: another hole lies on the way, or they have no land at the outside at
/// all because they run into each other there, which the land between the holes tells.
bool isInterrupted(const design::Design& design, const std::vector<geometry::HoleProfile>& profiles,
                   geometry::LandEnds ends, const geometry::Land& land) {
    if (land.value < geometry::kFilm) return ends == geometry::LandEnds::AtOutside;
    for (std::size_t i = 0; i < profiles.size(); ++i) {
        for (const double degrees : design::placedAngles(design.settings[i].placement)) {
            if (geometry::runsThrough({&profiles[i], degrees * std::numbers::pi / 180}, land.from, land.to))
                return true;
        }
    }
    return false;
}

/// The land between each setting's holes and their nearest neighbours.
void measureLands(const StagedRing& ring, const char* id, const std::string& where, geometry::LandEnds ends,
                  Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    std::vector<geometry::HoleProfile> profiles;
    profiles.reserve(count);
    for (std::size_t i = 0; i < count; ++i)
        profiles.push_back(geometry::settingHole(ring.design, i));
    const std::array<const geometry::Section*, 2> metal{&ring.plain.band, &ring.plain.liner};
    for (std::size_t a = 0; a < count; ++a) {
        std::optional<geometry::Land> best;
        std::size_t other = a;
        for (std::size_t b = a; b < count; ++b) {
            for (const auto& [atA, atB] : nearestAngles(ring.design, a, b)) {
                const double below = best ? best->value : std::numeric_limits<double>::infinity();
                const auto land =
                    geometry::shortestLand(metal, {&profiles[a], atA}, {&profiles[b], atB}, ends, below);
                // Pairs as near as this one have as much between them, unless another hole interrupts it.
                if (!land) break;
                if (isInterrupted(ring.design, profiles, ends, *land)) continue;
                best = land;
                other = b;
                break;
            }
        }
        if (!best) continue;
        std::string label = "Land between the holes";
        if (other == a) {
            label += ofSetting(ring.design, a);
        } else {
            label += " of settings " + std::to_string(a + 1) + " and " + std::to_string(other + 1);
        }
        label += where;
        measures.push_back({numbered(id, a), label, ring.stage, best->value, "mm", best->from, best->to,
                            best->fromTag, best->toTag, static_cast<std::uint16_t>(a)});
    }
}

}  // namespace

void measureNeighbours(const StagedRing& ring, Measures& measures) {
    measureLands(ring, "hole-to-hole", "", geometry::LandEnds::Anywhere, measures);
}

void measureMouths(const StagedRing& ring, Measures& measures) {
    measureLands(ring, "mouth-to-mouth", " at the outside", geometry::LandEnds::AtOutside, measures);
}

}  // namespace bandwright::check
