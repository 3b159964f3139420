#include "holes_round.hpp"

namespace bandwright::check {

namespace {

double degrees(double angle) {
    return angle * 180 / std::numbers::pi;
}

}  // namespace

Holes::Holes(const StagedRing& ring) : metal{&ring.plain.band, &ring.plain.liner} {
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

double Holes::leastTurn(std::size_t a, std::size_t b) const {
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

double Holes::leastLand(std::size_t a, std::size_t b, double turn) const {
    const double reach = std::max(widest[a], widest[b]);
    const double begins = std::sqrt(std::max(0.0, innermost * innermost - reach * reach));
    const double round = 2 * begins * std::sin(radians(std::min(turn, 180.0) / 2));
    return std::hypot(round, profiles[a].offset - profiles[b].offset) - widest[a] - widest[b];
}

std::vector<Holes::Beside> Holes::beside(double angle) const {
    std::vector<Beside> result;
    for (std::size_t i = 0; i < count(); ++i) {
        constexpr double kRoom = 1e-6;  // degrees
        const double most = widest[i] < innermost ? degrees(std::asin(widest[i] / innermost)) + kRoom : 180;
        std::vector<double> turns;
        rows[i].eachNear(angle, [&](std::size_t hole, double turn) {
            if (turn > most) return false;
            turns.push_back(std::remainder(rows[i].angle(hole) - angle, 360));
            return true;
        });
        std::ranges::sort(turns);
        for (std::size_t k = 0; k < turns.size(); ++k)
            if (k == 0 || turns[k] != turns[k - 1]) result.push_back({i, turns[k]});
    }
    return result;
}

bool Holes::anyRunsThrough(const geometry::Vec3& from, const geometry::Vec3& to,
                           std::optional<OneHole> but) const {
    // Only one that is beside it along and round the band can.
    const double begin = std::atan2(from.y, from.x);
    const double half = std::remainder(std::atan2(to.y, to.x) - begin, 2 * std::numbers::pi) / 2;
    const double middle = degrees(begin + half);
    const geometry::Segment flat = geometry::line({from.x, from.y}, {to.x, to.y}, {});
    const double inner = geometry::length(geometry::nearestOn(flat, {0, 0}));
    const auto [low, high] = std::minmax(from.z, to.z);
    for (std::size_t i = 0; i < count(); ++i) {
        if (profiles[i].offset + reaches[i] < low || profiles[i].offset - reaches[i] > high) continue;
        constexpr double kRoom = 1e-6;  // degrees
        const double width = reaches[i] < inner ? std::asin(reaches[i] / inner) : std::numbers::pi;
        const double most = degrees(std::abs(half) + width) + kRoom;
        bool runs = false;
        rows[i].eachNear(middle, [&](std::size_t hole, double turn) {
            if (turn > most) return false;
            runs = runs || (but != OneHole{i, hole} &&
                            geometry::runsThrough({&profiles[i], radians(rows[i].angle(hole))}, from, to));
            return !runs;
        });
        if (runs) return true;
    }
    return false;
}

}  // namespace bandwright::check
