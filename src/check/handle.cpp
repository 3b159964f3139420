#include "handle.hpp"

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "design/design_file.hpp"
#include "levers.hpp"

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

/// The field of a pattern at a measure. A hole without steps is its own seat.
std::optional<design::Field> fieldFor(std::string_view pattern, const design::Design& design,
                                      const Measure& measure) {
    const design::Field* row = design::fieldNamed(pattern);
    if (row == nullptr) throw std::logic_error("a lever names no field: " + std::string(pattern));
    const std::optional<Places> places = placesOf(row->owner, design, measure);
    if (!places) return std::nullopt;
    if (auto field = design::fieldAt(design, design::withPlaces(pattern, *places))) return field;
    if (pattern == kWiderSeat.field) return fieldFor(kWiderPilot.field, design, measure);
    if (pattern == kDeeperSeat.field) return fieldFor(kShallowerPilot.field, design, measure);
    return std::nullopt;
}

bool isSame(const Handle& a, const Handle& b) {
    return a.field.path == b.field.path && a.direction == b.direction && a.with == b.with;
}

/// Both ways to turn a number.
void addBothWays(std::vector<Handle>& handles, const design::Field& field) {
    if (field.control != design::Control::Thimble || !field.counts) return;
    for (const int direction : {-1, 1})
        addOnce(handles, {field, direction, {}});
}

std::string settingPath(std::size_t setting) {
    return design::withPlaces("settings[#]", {setting});
}

/// The objects of the file that a measure's rule may be mended in: "channels[0]", "settings[1]", "band".
std::vector<std::string> objectsOf(const std::vector<Handle>& own, const Measure& measure) {
    std::vector<std::string> objects;
    const auto add = [&](std::string object) {
        if (std::ranges::find(objects, object) == objects.end()) objects.push_back(std::move(object));
    };
    for (const Handle& h : own) {
        const std::size_t end = h.field.path.find('.');
        if (end != std::string::npos) add(h.field.path.substr(0, end));
    }
    for (const geometry::Tag tag : {measure.fromTag, measure.toTag}) {
        if (const auto channel = geometry::channelOf(tag)) add("channels[" + std::to_string(*channel) + "]");
        if (const auto setting = geometry::settingOf(tag)) add(settingPath(*setting));
    }
    return objects;
}

/// Less of what a following part needs beside the one that leads, but no more than there was.
double room(double now) {
    constexpr double kRoom = 0.1;  // what a tool can leave between two steps, mm; our own choice
    return std::min(now, kRoom);
}

/// Lands on a hundredth, as it is read off.
void push(double& number, double least, double most) {
    constexpr double kSlack = 1e-6;
    if (number > most + kSlack) number = std::floor(most * 100 + kSlack) / 100;
    if (number < least - kSlack) number = std::ceil(least * 100 - kSlack) / 100;
}

/// Parts of a hole after one was turned: those on either side give way, each as far as it must.
void followHole(design::Hole& hole, const design::Hole& before, std::size_t leads) {
    constexpr double kFar = 1e3;
    for (std::size_t i = leads + 1; i < hole.steps.size(); ++i) {
        const design::HoleStep &was = before.steps[i], &below = before.steps[i - 1];
        push(hole.steps[i].diameter, hole.steps[i - 1].diameter + room(was.diameter - below.diameter), kFar);
        push(hole.steps[i].depth, 0, hole.steps[i - 1].depth - room(below.depth - was.depth));
    }
    for (std::size_t i = leads; i > 0; --i) {
        const design::HoleStep &was = before.steps[i - 1], &above = before.steps[i];
        push(hole.steps[i - 1].diameter, 0, hole.steps[i].diameter - room(above.diameter - was.diameter));
        push(hole.steps[i - 1].depth, hole.steps[i].depth + room(was.depth - above.depth), kFar);
    }
}

void followPilot(design::Hole& hole, const design::Hole& before) {
    if (hole.steps.empty()) return;
    constexpr double kFar = 1e3;
    const double wall = before.steps[0].diameter - before.pilotDiameter;
    const double floor = before.pilotDepth - before.steps[0].depth;
    push(hole.pilotDiameter, 0, hole.steps[0].diameter - room(wall));
    if (hole.bottom != design::HoleBottom::Through)
        push(hole.pilotDepth, hole.steps[0].depth + room(floor), kFar);
}

void followTube(design::Tube& tube, const design::Tube& before) {
    const double lip = room(before.outerDiameter - before.seatDiameter);
    const double ledge = room(before.seatDiameter - before.innerDiameter);
    if (tube.outerDiameter != before.outerDiameter) {
        push(tube.seatDiameter, 0, tube.outerDiameter - lip);
    } else {
        push(tube.outerDiameter, tube.seatDiameter + lip, 1e3);
    }
    if (tube.innerDiameter != before.innerDiameter) {
        push(tube.seatDiameter, tube.innerDiameter + ledge, tube.outerDiameter - lip);
    } else {
        push(tube.innerDiameter, 0, tube.seatDiameter - ledge);
    }
    const double ring = room(before.height - before.seatDepth);
    if (tube.height != before.height) push(tube.seatDepth, 0, tube.height - ring);
}

/// Lets the other numbers of a setting give way to what was changed in it.
void follow(design::Setting& setting, const design::Setting& before) {
    design::Hole& hole = setting.hole;
    for (std::size_t i = 0; i < hole.steps.size(); ++i) {
        if (hole.steps[i] == before.hole.steps[i]) continue;
        followHole(hole, before.hole, i);
        followPilot(hole, before.hole);
        break;
    }
    if (!hole.steps.empty() &&
        (hole.pilotDiameter != before.hole.pilotDiameter || hole.pilotDepth != before.hole.pilotDepth)) {
        const design::HoleStep& first = before.hole.steps[0];
        push(hole.steps[0].diameter, hole.pilotDiameter + room(first.diameter - before.hole.pilotDiameter),
             1e3);
        if (hole.bottom != design::HoleBottom::Through)
            push(hole.steps[0].depth, 0, hole.pilotDepth - room(before.hole.pilotDepth - first.depth));
        followHole(hole, before.hole, 0);
    }
    if (setting.tube && *setting.tube != *before.tube) followTube(*setting.tube, *before.tube);
}

void follow(design::Channel& channel, const design::Channel& before) {
    if (channel == before || channel.floorRadius == 0) return;
    push(channel.floorRadius, 0, std::min(channel.depth, channel.width / 2));
}

/// In a band made narrower what lies beside the middle keeps its distance from the edge.
void followWidth(design::Design& design, const design::Design& before) {
    const double less = (before.band.width - design.band.width) / 2;
    if (less <= 0) return;
    const auto inwards = [&](double& offset) {
        const double most = std::max(0.0, std::abs(offset) - less);
        push(offset, -most, most);
    };
    for (design::Channel& channel : design.channels)
        inwards(channel.offset);
    for (design::Setting& setting : design.settings)
        inwards(setting.placement.offset);
}

}  // namespace

void addOnce(std::vector<Handle>& handles, Handle handle) {
    const bool known = std::ranges::any_of(handles, [&](const Handle& h) { return isSame(h, handle); });
    if (!known) handles.push_back(std::move(handle));
}

std::optional<Handle> handle(const Lever& lever, const design::Design& design, const Measure& measure) {
    std::optional<design::Field> field = fieldFor(lever.field, design, measure);
    if (!field || !field->counts) return std::nullopt;
    Handle result{std::move(*field), lever.direction, {}};
    for (const std::string_view with : lever.with) {
        const auto other = fieldFor(with, design, measure);
        if (!other || !other->counts) return std::nullopt;
        result.with.push_back(other->path);
    }
    return result;
}

std::vector<Handle> ownHandlesOf(const Rule& rule, const design::Design& design, const Measure& measure) {
    std::vector<Handle> handles;
    for (const Lever& lever : rule.levers) {
        if (auto at = handle(lever, design, measure)) addOnce(handles, std::move(*at));
    }
    return handles;
}

std::vector<Handle> handlesOf(const Rule& rule, const design::Design& design, const Measure& measure) {
    std::vector<Handle> handles = ownHandlesOf(rule, design, measure);
    const std::vector<std::string> objects = objectsOf(handles, measure);
    for (const std::string& object : objects) {
        for (std::size_t i = 0; i < design.settings.size(); ++i) {
            if (object != settingPath(i)) continue;
            Measure there = measure;
            there.number = static_cast<std::uint16_t>(i);
            for (const Lever& lever : coupledLevers())
                if (auto at = handle(lever, design, there)) addOnce(handles, std::move(*at));
        }
    }
    const std::vector<design::Field> fields = design::fieldsIn(design);
    for (const std::string& object : objects) {
        for (const design::Field& field : fields)
            if (field.path.starts_with(object + ".")) addBothWays(handles, field);
    }
    return handles;
}

double moved(double from, const Handle& handle, int steps) {
    // Counted in whole steps, and divided, so that the number reads as typed.
    const double grid = handle.field.number.grid;
    const double inSteps = from / grid;
    const double whole = handle.direction > 0 ? std::floor(inSteps + 1e-9) : std::ceil(inSteps - 1e-9);
    return (whole + handle.direction * steps) / std::round(1 / grid);
}

std::optional<design::Design> turned(const design::Design& design, const Handle& handle, int steps) {
    design::Design result = design;
    const auto from = design::quantityAt(design, handle.field.path);
    if (!from) return std::nullopt;
    const double to = moved(*from, handle, steps), by = to - *from;
    design::setQuantity(result, handle.field.path, to);
    for (const std::string& path : handle.with) {
        if (double* other = design::numberAt(result, path)) *other = base::roundedTo(*other + by, 2);
    }
    for (std::size_t i = 0; i < result.settings.size(); ++i)
        follow(result.settings[i], design.settings[i]);
    for (std::size_t i = 0; i < result.channels.size(); ++i)
        follow(result.channels[i], design.channels[i]);
    followWidth(result, design);
    try {
        design::requireValid(result);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return result;
}

}  // namespace bandwright::check
