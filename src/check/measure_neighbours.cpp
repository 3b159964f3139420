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

constexpr double kEquallyNear = 1e-7;  ///< degrees; pairs whose turns differ by less are equally near

double radians(double degrees) {
    return degrees * std::numbers::pi / 180;
}

double degrees(double angle) {
    return angle * 180 / std::numbers::pi;
}

double turnBetween(double a, double b) {
    return std::abs(std::remainder(a - b, 360));
}

/// The holes of one setting, in their order and in that round the band.
class RowOfHoles {
  public:
    explicit RowOfHoles(const design::Placement& placement) : angles_(design::placedAngles(placement)) {
        for (std::size_t i = 0; i < angles_.size(); ++i)
            round_.push_back({positive(angles_[i]), i});
        std::ranges::sort(round_, {}, &Place::at);
    }

    std::size_t size() const { return angles_.size(); }
    double angle(std::size_t i) const { return angles_[i]; }

    /// Visits the holes from an angle on, the nearest first, and on each side while `goesOn(hole, turn)`.
    void eachNear(double angle, auto&& goesOn) const {
        const std::size_t count = round_.size();
        const auto next = static_cast<std::size_t>(
            std::ranges::lower_bound(round_, positive(angle), {}, &Place::at) - round_.begin());
        const auto visit = [&](std::size_t place) {
            const std::size_t hole = round_[place % count].hole;
            return goesOn(hole, turnBetween(angle, angles_[hole]));
        };
        for (std::size_t i = 0; i < count && visit(next + i);)
            ++i;
        for (std::size_t i = 1; i <= count && visit(next + count - i);)
            ++i;
    }

  private:
    struct Place {
        double at;  ///< degrees, from 0 to 360
        std::size_t hole;
    };
    static double positive(double degrees) {
        const double rest = std::fmod(degrees, 360);
        return rest < 0 ? rest + 360 : rest;
    }

    std::vector<double> angles_;
    std::vector<Place> round_;
};

/// All that the land between holes is sought in.
struct Holes {
    std::vector<geometry::HoleProfile> profiles;
    std::vector<RowOfHoles> rows;
    std::vector<double> reaches;  ///< mm: no place in the hole is further from its axis
    std::vector<double> widest;   ///< mm, the same of places in the metal
    std::array<const geometry::Section*, 2> metal;
    /// Mm from the ring's axis, of the metal.
    double innermost = std::numeric_limits<double>::infinity(), outermost = 0;

    explicit Holes(const StagedRing& ring) : metal{&ring.plain.band, &ring.plain.liner} {
        for (const geometry::Section* section : metal) {
            for (const geometry::Segment& s : geometry::segmentsWhere(*section, [](auto) { return true; })) {
                const auto rectangle = geometry::rectangleRound(s);
                innermost = std::min(innermost, rectangle.low.r);
                outermost = std::max(outermost, rectangle.high.r);
            }
        }
        for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
            profiles.push_back(geometry::settingHole(ring.design, i));
            rows.emplace_back(ring.design.settings[i].placement);
            const geometry::HolePiece& last = profiles.back().pieces.back();  // the radius never falls
            reaches.push_back(last.radius1);
            const double share = (outermost - last.x0) / (last.x1 - last.x0);
            widest.push_back(last.radius0 + std::clamp(share, 0.0, 1.0) * (last.radius1 - last.radius0));
        }
    }

    std::size_t count() const { return profiles.size(); }

    /// Degrees between the two holes of two settings that are nearest to each other round the band.
    double leastTurn(std::size_t a, std::size_t b) const {
        double least = std::numeric_limits<double>::infinity();
        for (std::size_t i = 0; i < rows[a].size(); ++i) {
            rows[b].eachNear(rows[a].angle(i), [&](std::size_t j, double turn) {
                if (a == b && i == j) return true;
                least = std::min(least, turn);
                return false;
            });
        }
        return least;
    }

    /// One angle of each setting, radians: visits the pairs that are as near to each other round the band as
    /// any, until `isEnough`.
    void eachNearest(std::size_t a, std::size_t b, double least, auto&& isEnough) const {
        std::vector<std::size_t> near;
        for (std::size_t i = 0; i < rows[a].size(); ++i) {
            near.clear();
            rows[b].eachNear(rows[a].angle(i), [&](std::size_t j, double turn) {
                if (a == b && i == j) return true;
                if (turn > least + kEquallyNear) return false;
                if (a != b || j > i) near.push_back(j);
                return true;
            });
            std::ranges::sort(near);
            near.erase(std::unique(near.begin(), near.end()), near.end());
            for (const std::size_t j : near)
                if (isEnough(radians(rows[a].angle(i)), radians(rows[b].angle(j)))) return;
        }
    }

    /// No land between holes of two settings with this turn between them is shorter: their axes part
    /// outwards, so that they are nearest where the metal begins.
    double leastLand(std::size_t a, std::size_t b, double turn) const {
        const double reach = std::max(widest[a], widest[b]);
        const double begins = std::sqrt(std::max(0.0, innermost * innermost - reach * reach));
        const double round = 2 * begins * std::sin(radians(std::min(turn, 180.0) / 2));
        return std::hypot(round, profiles[a].offset - profiles[b].offset) - widest[a] - widest[b];
    }

    /// Whether a hole lies on the way of a land. Only one that is beside it along and round the band can.
    bool anyRunsThrough(const geometry::Land& land) const {
        const double from = std::atan2(land.from.y, land.from.x), to = std::atan2(land.to.y, land.to.x);
        const double half = std::remainder(to - from, 2 * std::numbers::pi) / 2;
        const double middle = degrees(from + half);
        const geometry::Vec2 start{land.from.x, land.from.y}, end{land.to.x, land.to.y};
        const double inner = geometry::length(geometry::nearestOn(geometry::line(start, end, {}), {0, 0}));
        const auto [low, high] = std::minmax(land.from.z, land.to.z);
        for (std::size_t i = 0; i < count(); ++i) {
            if (profiles[i].offset + reaches[i] < low || profiles[i].offset - reaches[i] > high) continue;
            constexpr double kRoom = 1e-6;  // degrees
            const double width = reaches[i] < inner ? std::asin(reaches[i] / inner) : std::numbers::pi;
            const double most = degrees(std::abs(half) + width) + kRoom;
            bool runs = false;
            rows[i].eachNear(middle, [&](std::size_t hole, double turn) {
                if (turn > most) return false;
                runs = runs || geometry::runsThrough({&profiles[i], radians(rows[i].angle(hole))}, land.from,
                                                     land.to);
                return !runs;
            });
            if (runs) return true;
        }
        return false;
    }
};

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
            if (land->value >= geometry::kFilm && holes.anyRunsThrough(*land)) return false;
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
