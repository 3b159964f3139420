#include "geometry/floor_land.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <vector>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/tolerance.hpp"
#include "land_cells.hpp"

/// At one place of the width a floor's height above the bore grows away from the plane through the hole's
/// middle. So where the floor is left in metal, the least under it lies in that plane or at the inner rim.
namespace bandwright::geometry {

namespace {

bool isSurface(const Segment& s) {
    return regionOf(s.tag.feature) != Region::LinerJoint;
}

/// The inner rim of a floor of one hole, seen from the hole: x along it, y across the ring, z from mid-width.
class Rim {
  public:
    /// What is below the rim, a cylinder or a cone that widens outwards, is no metal.
    Rim(const RingSections& plain, const Section& metal, double offset, const HolePiece& floor,
        const HolePiece& below)
        : plain_(plain),
          metal_(metal),
          offset_(offset),
          floor_(floor),
          slope_(below.isFlat() ? 0 : slopeOf(below)),
          bore_(segmentsWhere(plain.liner.empty() ? plain.band : plain.liner, isBore)) {}

    /// The shortest way to the bore from a place of the rim at an angle from the plane across the ring.
    /// Where the nearest place of the bore lies behind what is below the rim, the way keeps to the plane that
    /// touches it there, and in it to the metal.
    Land wayFrom(double angle) const {
        const double c = std::cos(angle), n = std::sin(angle);
        const Vec3 from{floor_.x0, floor_.radius0 * c, offset_ + floor_.radius0 * n};
        const Vec2 flat{from.z, planeNorm(from.x, from.y)};
        Land way{kNever, from, from, floor_.tag, {}};
        for (const Segment& s : bore_) {
            const Vec2 foot = nearestOn(s, flat);
            const double value = distance(foot, flat);
            if (value >= way.value) continue;
            const double in = foot.r / flat.r;
            way = {value, from, {in * from.x, in * from.y, foot.z}, floor_.tag, s.tag};
        }
        if (dot(way.to - from, {-slope_, c, n}) >= 0) return way;
        const Vec3 across{0, -n, c}, down{-1, -slope_ * c, -slope_ * n};
        const auto endAt = [&](double aside) {
            Vec3 end = from + aside * across;
            for (int i = 0; i < kMostSteps; ++i) {
                const double bore = boreAt(plain_, end.z).value_or(0);
                const double step = end.x - std::sqrt(std::max(0.0, square(bore) - square(end.y)));
                end = end + step * down;
                if (std::abs(step) < kSamePoint / 100) break;
            }
            return end;
        };
        const auto lengthTo = [&](double aside) { return distance(from, endAt(aside)); };
        double inside = 0, wanted = lowestPlace(lengthTo, -floor_.radius0, floor_.radius0);
        if (runsInMetal(from, endAt(wanted))) inside = wanted;
        while (std::abs(wanted - inside) > kSamePoint) {
            const double middle = (inside + wanted) / 2;
            (runsInMetal(from, endAt(middle)) ? inside : wanted) = middle;
        }
        way.to = endAt(inside);
        way.value = distance(from, way.to);
        return way;
    }

    /// Turned into the plane through the hole's middle, an arc about the foot of the hole's axis.
    Segment turned() const {
        return {.from = {offset_ + floor_.radius0, floor_.x0},
                .to = {offset_ - floor_.radius0, floor_.x0},
                .centre = {offset_, 0},
                .radius = planeNorm(floor_.x0, floor_.radius0),
                .tag = floor_.tag};
    }
    double angleAt(Vec2 p) const {
        return std::asin(std::clamp((p.z - offset_) / floor_.radius0, -1.0, 1.0));
    }
    Vec2 at(double angle) const {
        return {offset_ + floor_.radius0 * std::sin(angle),
                planeNorm(floor_.x0, floor_.radius0 * std::cos(angle))};
    }

  private:
    /// On a cylinder the first step ends on the bore, on a cone each is shorter by a multiple.
    static constexpr int kMostSteps = 40;

    /// Beside each corner that a way passes along the ring's width, and half-way between them.
    bool runsInMetal(const Vec3& from, const Vec3& to) const {
        std::vector<double> shares{0, 1};
        const double along = to.z - from.z;
        for (const Segment& s : segmentsWhere(metal_, [](Tag) { return true; })) {
            const double share = (s.from.z - from.z) / along;
            if (share > 0 && share < 1) shares.push_back(share);
        }
        std::ranges::sort(shares);
        const auto isMetal = [&](double share) {
            const Vec3 p = from + share * (to - from);
            const Vec2 flat{p.z, planeNorm(p.x, p.y)};
            return contains(metal_, flat) || std::ranges::any_of(metal_, [&](const Loop& loop) {
                       return std::ranges::any_of(loop, [&](const Segment& s) {
                           return distance(nearestOn(s, flat), flat) < kCrossingRounding;
                       });
                   });
        };
        for (std::size_t i = 1; i < shares.size(); ++i) {
            const double low = shares[i - 1], high = shares[i];
            constexpr double kBeside = 1e-3;  // of what is between two corners
            for (const double share : {kBeside, 0.5, 1 - kBeside})
                if (!isMetal(low + share * (high - low))) return false;
        }
        return true;
    }

    const RingSections& plain_;
    const Section& metal_;
    double offset_;
    const HolePiece& floor_;
    double slope_;
    std::vector<Segment> bore_;
};

}  // namespace

Section together(const Section& band, const Section& liner) {
    Section body;
    for (const Section* part : {&band, &liner}) {
        for (const Loop& loop : *part)
            std::ranges::copy_if(loop, std::back_inserter(body.emplace_back()), isSurface);
    }
    return body;
}

std::optional<Land> landUnderRim(const RingSections& plain, const StandingHole& hole) {
    const std::vector<HolePiece>& pieces = hole.profile->pieces;
    const Section metal = plain.liner.empty() ? plain.band : together(plain.band, plain.liner);
    std::optional<Land> best;
    for (std::size_t i = 1; i < pieces.size(); ++i) {
        if (!isHoleFloor(pieces[i].tag) || pieces[i].radius0 == 0) continue;
        const Rim rim(plain, metal, hole.profile->offset, pieces[i], pieces[i - 1]);
        const Segment arc = rim.turned();
        if (contains(metal, arc.from) && contains(metal, arc.to)) continue;  // it is least in the plane
        std::vector<double> angles{-kQuarter, kQuarter};
        for (const Segment& s : segmentsWhere(metal, [](Tag) { return true; })) {
            for (const Crossing& c : crossings(arc, s))
                angles.push_back(rim.angleAt(c.point));
        }
        std::ranges::sort(angles);
        for (std::size_t k = 1; k < angles.size(); ++k) {
            const double low = angles[k - 1], high = angles[k];
            if (high - low < kSameAngle || !contains(metal, rim.at((low + high) / 2))) continue;
            const auto lengthAt = [&](double angle) { return rim.wayFrom(angle).value; };
            for (const double angle : {low, lowestPlace(lengthAt, low, high), high}) {
                const Land way = rim.wayFrom(angle);
                if (!best || way.value < best->value) best = way;
            }
        }
    }
    if (!best) return best;
    const double c = std::cos(hole.angle), n = std::sin(hole.angle);
    for (Vec3* p : {&best->from, &best->to})
        *p = {p->x * c - p->y * n, p->x * n + p->y * c, p->z};
    return best;
}

}  // namespace bandwright::geometry
