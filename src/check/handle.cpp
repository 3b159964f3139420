#include "handle.hpp"

#include <cmath>

#include "design/design_file.hpp"
#include "measure.hpp"

namespace bandwright {

namespace {

void replaceMark(std::string& text, const std::string& by) {
    const std::size_t at = text.find('#');
    if (at != std::string::npos) text.replace(at, 1, by);
}

/// The channel a measure touches, by its witnesses' tags.
std::optional<std::size_t> channelOf(const Measure& measure) {
    const auto from = channelOf(measure.fromTag);
    return from ? from : channelOf(measure.toTag);
}

std::optional<Side> edgeOf(const Measure& measure) {
    for (const Tag tag : {measure.fromTag, measure.toTag}) {
        if (tag.feature == Feature::Bevel || tag.feature == Feature::EdgeRound) return tag.side;
    }
    return std::nullopt;
}

}  // namespace

std::optional<Handle> handle(const Lever& lever, const Design& design, const Measure& measure) {
    Handle result{std::string(lever.field), std::string(lever.label), lever.direction, lever.step};
    if (lever.field.starts_with("channels[")) {
        const auto channel = channelOf(measure);
        if (!channel) return std::nullopt;
        replaceMark(result.field, std::to_string(*channel));
        result.label += " of " + channelName(design, *channel);
    } else if (lever.field.starts_with("settings[")) {
        if (measure.number >= design.settings.size()) return std::nullopt;
        const std::size_t steps = design.settings[measure.number].hole.steps.size();
        replaceMark(result.field, std::to_string(measure.number));
        replaceMark(result.field, std::to_string(steps - 1));
        result.label += ofSetting(design, measure.number);
    } else if (lever.field.starts_with("band.#")) {
        const auto side = edgeOf(measure);
        if (!side) return std::nullopt;
        const std::string name = *side == Side::Left ? "left" : "right";
        replaceMark(result.field, name);
        result.label += " of the " + name + " edge";
    }
    if (numberAt(design, result.field) == nullptr) return std::nullopt;
    return result;
}

double moved(double from, const Handle& handle, int steps) {
    // Counted in whole steps, and divided, so that the number reads as typed.
    const double inSteps = from / handle.step;
    const double whole = handle.direction > 0 ? std::floor(inSteps + 1e-9) : std::ceil(inSteps - 1e-9);
    return (whole + handle.direction * steps) / std::round(1 / handle.step);
}

}  // namespace bandwright
