#include <algorithm>
#include <cmath>

#include "arc.hpp"
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

double lowestMouth(const design::Design& design, double offset, double radius) {
    const double half = design.band.width / 2;
    const auto at = [&](double z) { return outsideAt(design, std::clamp(z, -half, half)); };
    const double over = at(offset);
    const double round = std::sqrt(std::max(0.0, over * over - radius * radius));
    return std::min({round, at(offset - radius), at(offset + radius)});
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
