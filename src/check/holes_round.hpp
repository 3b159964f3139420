#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <optional>
#include <vector>

#include "geometry/hole.hpp"
#include "geometry/land.hpp"
#include "staged_ring.hpp"

/// All holes of a ring, by settings: which are near each other round the band, and which lie in the way.
namespace bandwright::check {

inline constexpr double kEquallyNear = 1e-7;  ///< degrees; pairs whose turns differ by less are equally near

constexpr double radians(double degrees) {
    return degrees * std::numbers::pi / 180;
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
            return goesOn(hole, std::abs(std::remainder(angle - angles_[hole], 360)));
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

/// One hole of a setting.
struct OneHole {
    std::size_t setting, hole;

    bool operator==(const OneHole&) const = default;
};

/// All holes, and the metal they stand in.
struct Holes {
    std::vector<geometry::HoleProfile> profiles;
    std::vector<RowOfHoles> rows;
    std::vector<double> reaches;  ///< mm: no place in the hole is further from its axis
    std::vector<double> widest;   ///< mm, the same of places in the metal
    std::array<const geometry::Section*, 2> metal;
    /// Mm from the ring's axis, of the metal.
    double innermost = std::numeric_limits<double>::infinity(), outermost = 0;

    explicit Holes(const StagedRing& ring);

    std::size_t count() const { return profiles.size(); }

    /// Degrees between the two holes of two settings that are nearest to each other round the band.
    double leastTurn(std::size_t a, std::size_t b) const;

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
    double leastLand(std::size_t a, std::size_t b, double turn) const;

    /// A hole, and how far round the band it is from a half-plane, degrees.
    struct Beside {
        std::size_t setting;
        double turn;
    };
    /// Those that the half-plane at an angle in degrees may cut, in order. Where they are the same, so is the
    /// cut.
    std::vector<Beside> beside(double angle) const;

    /// Whether a hole lies on a straight way, but for that from whose wall the way leads.
    bool anyRunsThrough(const geometry::Vec3& from, const geometry::Vec3& to,
                        std::optional<OneHole> but = std::nullopt) const;
};

}  // namespace bandwright::check
