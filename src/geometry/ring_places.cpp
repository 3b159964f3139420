#include <algorithm>
#include <cmath>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/ring.hpp"
#include "outline.hpp"

namespace bandwright::geometry {

namespace {

const Section& innermost(const RingSections& plain) {
    return plain.liner.empty() ? plain.band : plain.liner;
}

}  // namespace

double outsideAt(const design::Design& design, double z) {
    return outsideAt(design.band, design::outsideRadius(design), z);
}

double outsideLeanAt(const design::Design& design, double z) {
    const double half = design.band.width / 2;
    return outsideLeanAt(design.band, std::clamp(z, -half, half));
}

MouthPlace lowestMouth(const design::Design& design, double offset, double radius) {
    const double half = design.band.width / 2;
    const Vec2 foot{offset, 0};
    // A place of the hole's wall at (z, r) stands at sqrt(r r + dz dz - a a) along the hole, dz from its
    // middle: the lowest is the nearest to the foot of the hole's axis on the ring's.
    std::optional<Vec2> best;
    const auto offer = [&](Vec2 p) {
        if (!best || distance(p, foot) < distance(*best, foot)) best = p;
    };
    const double outside = design::outsideRadius(design);
    for (const Segment& s : bandOutline(design.band, outside - design.band.thickness, outside)) {
        const Feature feature = s.tag.feature;
        if (feature != Feature::Outside && feature != Feature::Bevel && feature != Feature::EdgeRound)
            continue;
        const auto offerInside = [&](Vec2 p) {
            if (std::abs(p.z - offset) <= radius) offer(p);
        };
        offerInside(s.from);
        offerInside(s.to);
        offerInside(nearestOn(s, foot));
        for (const double side : {-1.0, 1.0}) {
            const double z = offset + side * radius;
            for (const Crossing& c : crossings(s, line({z, 0}, {z, 2 * outside}, {})))
                offer({z, c.point.r});
        }
    }
    const Vec2 place = best.value_or(Vec2{std::clamp(offset, -half, half), outsideAt(design, half)});
    const double across = square(radius) - square(place.z - offset);
    return {std::sqrt(std::max(0.0, square(place.r) - std::max(0.0, across))), place.z};
}

double channelFloor(const design::Design& design, std::size_t channel) {
    const design::Channel& c = design.channels[channel];
    return outsideAt(design, c.offset) - c.depth;
}

std::optional<double> boreAt(const RingSections& plain, double z) {
    std::optional<double> least;
    for (const Segment& s : segmentsWhere(innermost(plain), isBore)) {
        if (z < std::min(s.from.z, s.to.z) || z > std::max(s.from.z, s.to.z)) continue;
        const double share = s.from.z == s.to.z ? 0 : (z - s.from.z) / (s.to.z - s.from.z);
        const double run = z - s.centre.z;
        // Crown and eased corner both bulge towards the finger.
        const double r = s.isArc() ? s.centre.r - std::sqrt(std::max(0.0, s.radius * s.radius - run * run))
                                   : s.from.r + share * (s.to.r - s.from.r);
        least = std::min(least.value_or(r), r);
    }
    return least;
}

std::optional<BoreStretch> narrowBore(const RingSections& plain, double depth) {
    const std::vector<Segment> bore =
        segmentsWhere(innermost(plain), [](Tag tag) { return regionOf(tag.feature) == Region::Bore; });
    if (bore.empty()) return std::nullopt;
    double least = bore.front().from.r;
    for (const Segment& s : bore)
        least = std::min(least, rectangleRound(s).low.r);
    std::optional<BoreStretch> found;
    const auto offer = [&](Vec2 p) {
        if (!found) found = {p, p};
        if (p.z < found->left.z) found->left = p;
        if (p.z > found->right.z) found->right = p;
    };
    for (const Segment& s : bore) {
        for (const Vec2 end : {s.from, s.to})
            if (end.r <= least + depth) offer(end);
        const Rectangle bounds = rectangleRound(s);
        const Segment level = line({bounds.low.z - 1, least + depth}, {bounds.high.z + 1, least + depth}, {});
        for (const Crossing& c : crossings(s, level))
            offer(c.point);
    }
    return found;
}

}  // namespace bandwright::geometry
