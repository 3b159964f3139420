#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>
#include <string>
#include <utility>

#include "geometry/land.hpp"
#include "geometry/tolerance.hpp"
#include "holes_round.hpp"
#include "measure.hpp"

/// Holes side by side round the band: their axes meet in the ring's axis, so they come nearest towards the
/// finger, or, with a countersink, at the outside.
namespace bandwright::check {

namespace {

/// The land between a setting's holes and the nearest of its own or of a later setting's.
struct NearestLand {
    geometry::Land land;
    std::size_t other;
};

std::optional<NearestLand> nearestLand(const Holes& holes, std::size_t a, geometry::LandEnds ends) {
    struct Other {
        std::size_t number;
        double turn, least;
    };
    std::vector<Other> others;
    for (std::size_t b = a; b < holes.count(); ++b) {
        const double turn = holes.leastTurn(a, b);
        others.push_back({b, turn, holes.leastLand(a, b, turn)});
    }
    std::ranges::stable_sort(others, {}, &Other::least);
    std::optional<NearestLand> best;
    for (const auto& [b, turn, least] : others) {
        constexpr double kRounding = 1e-9;  // mm
        // Of settings that are equally near the first counts, whichever is looked at first.
        const double below = best ? std::nextafter(best->land.value, std::numeric_limits<double>::infinity())
                                  : std::numeric_limits<double>::infinity();
        if (least - kRounding > below) break;
        holes.eachNearest(a, b, turn, [&, b = b](double atA, double atB) {
            const auto land = geometry::shortestLand(holes.metal, {&holes.profiles[a], atA},
                                                     {&holes.profiles[b], atB}, ends, below);
            // Pairs as near as this one have as much between them, unless another hole interrupts it.
            if (!land) return true;
            if (land->value >= geometry::kFilm && holes.anyRunsThrough(land->from, land->to)) return false;
            if (!best || land->value < best->land.value || b < best->other) best = NearestLand{*land, b};
            return true;
        });
    }
    return best;
}

void measureLands(const StagedRing& ring, const char* id, const std::string& where, geometry::LandEnds ends,
                  Measures& measures) {
    const Holes holes(ring);
    for (std::size_t a = 0; a < holes.count(); ++a) {
        const auto nearest = nearestLand(holes, a, ends);
        if (!nearest) continue;
        const auto& [land, other] = *nearest;
        std::string label = "Land between the holes";
        if (other == a) {
            label += ofSetting(ring.design, a);
        } else {
            label += " of settings " + std::to_string(a + 1) + " and " + std::to_string(other + 1);
        }
        label += where;
        measures.push_back({numbered(id, a), label, ring.stage, land.value, "mm", land.from, land.to,
                            land.fromTag, land.toTag, static_cast<std::uint16_t>(a)});
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
