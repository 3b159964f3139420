#include "measure.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bandwright::check {

std::string numbered(std::string_view id, std::size_t number) {
    std::string result(id);
    if (number > 0) result += "@" + std::to_string(number + 1);
    return result;
}

std::string channelName(const design::Design& design, std::size_t number) {
    return design.channels.size() == 1 ? "the channel" : "channel " + std::to_string(number + 1);
}

std::string ofSetting(const design::Design& design, std::size_t number) {
    return design.settings.size() == 1 ? "" : " of setting " + std::to_string(number + 1);
}

Measure measureOf(std::string id, std::string label, design::Stage stage, const geometry::Gap& gap,
                  double angle, std::size_t number) {
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

Measure countOf(std::string id, std::string label, design::Stage stage, double value, std::string unit,
                geometry::Vec2 place, geometry::Tag tag, double angle, std::size_t number) {
    Measure result =
        measureOf(std::move(id), std::move(label), stage, {value, place, place, tag, tag}, angle, number);
    result.unit = std::move(unit);
    return result;
}

std::optional<geometry::Gap> shortest(std::span<const geometry::Segment> from,
                                      std::span<const geometry::Segment> to) {
    std::optional<geometry::Gap> best;
    for (const geometry::Segment& a : from) {
        for (const geometry::Segment& b : to) {
            const geometry::Gap gap = geometry::shortest(a, b);
            if (!best || gap.value < best->value) best = gap;
        }
    }
    return best;
}

}  // namespace bandwright::check
