#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <optional>
#include <utility>

#include "measure.hpp"

/// Holes side by side round the band. Their axes meet in the ring's axis, so they come nearest towards the
/// finger. Each hole is a stack of cylinders that open outwards, each convex; the shortest join of two such
/// cylinders starts on the inner rim of one of them, for their axes have no common perpendicular but on the
/// ring's axis. So it is enough to go round each rim and take the distance to the other cylinder, which has a
/// closed form and one lowest place.
namespace bandwright::check {

namespace {

/// A hole's cylinder from x outwards, its axis at an angle round the band.
struct Cylinder {
    double x, radius, offset, angle;
    geometry::Tag tag;

    geometry::Vec3 axis() const { return {std::cos(angle), std::sin(angle), 0}; }
    geometry::Vec3 across() const { return {-std::sin(angle), std::cos(angle), 0}; }

    geometry::Vec3 onRim(double turn) const {
        return x * axis() + radius * std::cos(turn) * across() +
               geometry::Vec3{0, 0, offset + radius * std::sin(turn)};
    }

    /// The place of the cylinder nearest to p.
    geometry::Vec3 nearest(const geometry::Vec3& p) const {
        const double along = std::max(x, geometry::dot(p, axis()));
        const geometry::Vec3 foot = along * axis() + geometry::Vec3{0, 0, offset};
        const double y = geometry::dot(p, across());
        const double z = p.z - offset;
        const double away = std::hypot(y, z);
        const double share = away > radius ? radius / away : 1;
        return foot + share * y * across() + geometry::Vec3{0, 0, share * z};
    }
};

struct Nearest {
    double value = std::numeric_limits<double>::infinity();
    geometry::Vec3 from, to;
    geometry::Tag fromTag, toTag;
};

/// The shortest join from the rim of `a` to `b`; nothing when it cannot be shorter than `known`.
std::optional<Nearest> fromRim(const Cylinder& a, const Cylinder& b, double known) {
    const auto apart = [&](double turn) {
        const geometry::Vec3 p = a.onRim(turn);
        return geometry::distance(p, b.nearest(p));
    };
    constexpr int kStarts = 24;
    constexpr double kStep = 2 * std::numbers::pi / kStarts;
    double nearest = std::numeric_limits<double>::infinity();
    double middle = 0;
    for (int k = 0; k < kStarts; ++k) {
        const double here = apart(k * kStep);
        if (here >= nearest) continue;
        nearest = here;
        middle = k * kStep;
    }
    if (nearest - a.radius * kStep > known) return std::nullopt;
    // Golden section (Kiefer, Sequential minimax search for a maximum, 1953).
    constexpr double kShare = 1 / std::numbers::phi;
    double low = middle - kStep;
    double high = middle + kStep;
    double left = high - kShare * (high - low);
    double right = low + kShare * (high - low);
    double atLeft = apart(left);
    double atRight = apart(right);
    while (high - low > 1e-7) {
        if (atLeft < atRight) {
            high = right;
            right = left;
            atRight = atLeft;
            left = high - kShare * (high - low);
            atLeft = apart(left);
        } else {
            low = left;
            left = right;
            atLeft = atRight;
            right = low + kShare * (high - low);
            atRight = apart(right);
        }
    }
    const geometry::Vec3 p = a.onRim((low + high) / 2);
    const geometry::Vec3 q = b.nearest(p);
    return Nearest{geometry::distance(p, q), p, q, a.tag, b.tag};
}

/// The cylinders of a setting's hole, from where they leave the bore.
std::vector<Cylinder> cylindersOf(const StagedRing& ring, std::size_t setting, double angle) {
    const geometry::HoleProfile profile = geometry::settingHole(ring.design, setting);
    const double bore = geometry::boreAt(ring.plain, profile.offset).value_or(ring.piece.bore);
    std::vector<Cylinder> result;
    for (const geometry::HolePiece& piece : profile.pieces) {
        if (!piece.isCylinder()) continue;
        const double r = piece.radius0;
        const double x = std::max(piece.x0, std::sqrt(std::max(0.0, bore * bore - r * r)));
        result.push_back({x, r, profile.offset, angle, piece.tag});
    }
    return result;
}

Nearest between(const std::vector<Cylinder>& a, const std::vector<Cylinder>& b) {
    Nearest best;
    for (const Cylinder& p : a) {
        for (const Cylinder& q : b) {
            for (const auto& [from, to] : {std::pair{&p, &q}, std::pair{&q, &p}}) {
                const auto near = fromRim(*from, *to, best.value);
                if (near && near->value < best.value) best = *near;
            }
        }
    }
    return best;
}

/// One angle of each setting: the two that are nearest to each other round the band; radians.
std::optional<std::pair<double, double>> nearestAngles(const design::Design& design, std::size_t a,
                                                       std::size_t b) {
    const std::vector<double> as = design::placedAngles(design.settings[a].placement);
    const std::vector<double> bs = design::placedAngles(design.settings[b].placement);
    std::optional<std::pair<double, double>> best;
    double least = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < as.size(); ++i) {
        for (std::size_t j = a == b ? i + 1 : 0; j < bs.size(); ++j) {
            const double turn = std::abs(std::remainder(as[i] - bs[j], 360));
            if (turn >= least) continue;
            least = turn;
            best = {as[i] * std::numbers::pi / 180, bs[j] * std::numbers::pi / 180};
        }
    }
    return best;
}

/// The widest part of a hole from where the outside is lowest over its rim.
std::vector<Cylinder> mouthOf(const StagedRing& ring, std::size_t setting, double angle) {
    const design::Setting& s = ring.design.settings[setting];
    const geometry::HoleSeat seat = geometry::seatOf(s.hole, setting);
    const double radius = seat.mouth / 2;
    const geometry::Tag tag =
        s.hole.countersink > 0 ? geometry::Tag(geometry::Feature::Countersink, setting) : seat.side;
    const double z = s.placement.offset;
    return {{geometry::lowestMouth(ring.design, z, radius), radius, z, angle, tag}};
}

/// The land between each setting's holes and their nearest neighbours.
void measureLands(const StagedRing& ring, const char* id, const std::string& where, auto&& cylindersAt,
                  Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    for (std::size_t a = 0; a < count; ++a) {
        Nearest best;
        std::size_t other = a;
        for (std::size_t b = a; b < count; ++b) {
            const auto angles = nearestAngles(ring.design, a, b);
            if (!angles || std::abs(std::remainder(angles->first - angles->second, 2 * std::numbers::pi)) >
                               std::numbers::pi / 2)
                continue;
            const Nearest near =
                between(cylindersAt(ring, a, angles->first), cylindersAt(ring, b, angles->second));
            if (near.value >= best.value) continue;
            best = near;
            other = b;
        }
        if (!std::isfinite(best.value)) continue;
        std::string label = "Land between the holes";
        if (other == a) {
            label += ofSetting(ring.design, a);
        } else {
            label += " of settings " + std::to_string(a + 1) + " and " + std::to_string(other + 1);
        }
        label += where;
        measures.push_back({numbered(id, a), label, ring.stage, best.value, "mm", best.from, best.to,
                            best.fromTag, best.toTag, static_cast<std::uint16_t>(a)});
    }
}

}  // namespace

void measureNeighbours(const StagedRing& ring, Measures& measures) {
    measureLands(ring, "hole-to-hole", "", cylindersOf, measures);
}

void measureMouths(const StagedRing& ring, Measures& measures) {
    measureLands(ring, "mouth-to-mouth", " at the outside", mouthOf, measures);
}

}  // namespace bandwright::check
