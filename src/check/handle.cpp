#include "handle.hpp"

#include <cmath>
#include <stdexcept>

namespace bandwright::check {

namespace {

/// The channel a measure touches, by its witnesses' tags.
std::optional<std::size_t> channelOf(const Measure& measure) {
    const auto from = geometry::channelOf(measure.fromTag);
    return from ? from : geometry::channelOf(measure.toTag);
}

/// The edge it touches.
std::optional<geometry::Side> edgeOf(const Measure& measure) {
    for (const geometry::Tag tag : {measure.fromTag, measure.toTag}) {
        if (tag.feature == geometry::Feature::Bevel || tag.feature == geometry::Feature::EdgeRound)
            return tag.side;
    }
    return std::nullopt;
}

using Places = std::vector<std::size_t>;

/// What replaces the marks in a field's path for this measure; nothing when the field is not the measure's.
std::optional<Places> placesOf(design::FieldOwner owner, const design::Design& design,
                               const Measure& measure) {
    switch (owner) {
        case design::FieldOwner::Ring:
            return Places{};
        case design::FieldOwner::LeftEdge:
            return edgeOf(measure) == geometry::Side::Left ? std::optional(Places{}) : std::nullopt;
        case design::FieldOwner::RightEdge:
            return edgeOf(measure) == geometry::Side::Right ? std::optional(Places{}) : std::nullopt;
        case design::FieldOwner::Channel: {
            const auto channel = channelOf(measure);
            return channel ? std::optional(Places{*channel}) : std::nullopt;
        }
        case design::FieldOwner::Setting: {
            if (measure.number >= design.settings.size()) return std::nullopt;
            Places places{measure.number};
            const std::size_t steps = design.settings[measure.number].hole.steps.size();
            if (steps > 0) places.push_back(steps - 1);
            return places;
        }
    }
    return std::nullopt;
}

}  // namespace

std::optional<Handle> handle(const Lever& lever, const design::Design& design, const Measure& measure) {
    const design::Field* row = design::fieldNamed(lever.field);
    if (row == nullptr) throw std::logic_error("a lever names no field: " + std::string(lever.field));
    const std::optional<Places> places = placesOf(row->owner, design, measure);
    if (!places) return std::nullopt;
    std::optional<design::Field> field = design::fieldAt(design, design::withPlaces(lever.field, *places));
    if (!field) return std::nullopt;
    return Handle{std::move(*field), lever.direction};
}

double moved(double from, const Handle& handle, int steps) {
    // Counted in whole steps, and divided, so that the number reads as typed.
    const double grid = handle.field.number.grid;
    const double inSteps = from / grid;
    const double whole = handle.direction > 0 ? std::floor(inSteps + 1e-9) : std::ceil(inSteps - 1e-9);
    return (whole + handle.direction * steps) / std::round(1 / grid);
}

}  // namespace bandwright::check
