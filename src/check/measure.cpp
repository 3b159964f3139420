#include "measure.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bandwright {

std::string numbered(std::string_view id, std::size_t number) {
    std::string result(id);
    if (number > 0) result += "@" + std::to_string(number + 1);
    return result;
}

std::string channelName(const Design& design, std::size_t number) {
    return design.channels.size() == 1 ? "the channel" : "channel " + std::to_string(number + 1);
}

std::string ofSetting(const Design& design, std::size_t number) {
    return design.settings.size() == 1 ? "" : " of setting " + std::to_string(number + 1);
}

Measure measureOf(std::string id, std::string label, Stage stage, const Gap& gap, double angle,
                  std::size_t number) {
    return {std::move(id),
            std::move(label),
            stage,
            gap.value,
            "mm",
            placed(gap.from, angle),
            placed(gap.to, angle),
            gap.fromTag,
            gap.toTag,
            static_cast<std::uint16_t>(number)};
}

Measure countOf(std::string id, std::string label, Stage stage, double value, std::string unit, Vec2 place,
                Tag tag, double angle, std::size_t number) {
    Measure result =
        measureOf(std::move(id), std::move(label), stage, {value, place, place, tag, tag}, angle, number);
    result.unit = std::move(unit);
    return result;
}

std::optional<double> boreAt(const RingSections& plain, double z) {
    std::optional<double> least;
    for (const Segment& s : segmentsWhere(plain.liner.empty() ? plain.band : plain.liner, isBore)) {
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

double lowestMouth(const Design& design, double offset, double radius) {
    const double half = design.band.width / 2;
    const auto at = [&](double z) { return outsideAt(design, std::clamp(z, -half, half)); };
    const double over = at(offset);
    const double round = std::sqrt(std::max(0.0, over * over - radius * radius));
    return std::min({round, at(offset - radius), at(offset + radius)});
}

std::optional<Gap> shortest(std::span<const Segment> from, std::span<const Segment> to) {
    std::optional<Gap> best;
    for (const Segment& a : from) {
        for (const Segment& b : to) {
            const Gap gap = shortest(a, b);
            if (!best || gap.value < best->value) best = gap;
        }
    }
    return best;
}

bool isBore(Tag tag) {
    const Region region = regionOf(tag.feature);
    return region == Region::Bore || region == Region::Ease;
}

bool isInside(Tag tag) {
    return isBore(tag) || regionOf(tag.feature) == Region::LinerJoint;
}

bool isEdge(Tag tag, Side side) {
    return regionOf(tag.feature) == Region::Edge && tag.side == side;
}

}  // namespace bandwright
