#include "design/measured.hpp"

#include <algorithm>
#include <type_traits>
#include <utility>
#include <variant>

#include "base/numbers.hpp"
#include "design/field_table.hpp"
#include "same_at.hpp"

namespace bandwright::design {

bool isSameAt(Design& a, Design& b, const std::string& path) {
    const FieldValue one = valueAt(a, path), two = valueAt(b, path);
    if (one.index() != two.index()) return false;
    if (const auto* part = std::get_if<PartSwitch>(&one))
        return part->isThere == std::get<PartSwitch>(two).isThere;
    if (const auto* word = std::get_if<WordChoice>(&one))
        return word->chosen == std::get<WordChoice>(two).chosen;
    return std::visit(
        [&](const auto& value) {
            using Value = std::decay_t<decltype(value)>;
            if constexpr (std::is_pointer_v<Value>) return *value == *std::get<Value>(two);
            return true;
        },
        one);
}

void assign(const FieldValue& to, const FieldValue& value) {
    if (const auto* part = std::get_if<PartSwitch>(&to))
        return part->put(std::get<PartSwitch>(value).isThere);
    if (const auto* word = std::get_if<WordChoice>(&to))
        return word->choose(std::get<WordChoice>(value).chosen);
    std::visit(
        [&](const auto& place) {
            using Place = std::decay_t<decltype(place)>;
            if constexpr (std::is_pointer_v<Place>) *place = *std::get<Place>(value);
        },
        to);
}

bool isDoneBy(const Route& route, Stage step, Stage at) {
    return step == at || isBefore(route, step, at);
}

std::optional<Stage> doneSoFar(const Design& design) {
    std::optional<Stage> last;
    for (const Measured& reading : design.measured)
        if (reading.value > 0 && (!last || isBefore(design.route, *last, reading.stage)))
            last = reading.stage;
    return last;
}

bool isDone(const Design& design, Stage step) {
    const std::optional<Stage> last = doneSoFar(design);
    return last && isDoneBy(design.route, step, *last);
}

std::string inWords(const Measured& reading) {
    return base::shortestNumber(reading.value) + (reading.what == Measurable::Mass ? " g" : " mm");
}

const Measured* lastMass(const Design& design) {
    const Measured* last = nullptr;
    for (const Measured& reading : design.measured) {
        if (reading.what != Measurable::Mass || reading.value <= 0) continue;
        if (last == nullptr || !isBefore(design.route, reading.stage, last->stage)) last = &reading;
    }
    return last;
}

bool isTicked(const Design& design, Stage stage, const std::string& operation) {
    return std::ranges::any_of(
        design.done, [&](const Done& done) { return done.stage == stage && done.operation == operation; });
}

Design withTick(Design design, Stage stage, const std::string& operation, bool isTicked,
                const std::string& date) {
    std::erase_if(design.done,
                  [&](const Done& done) { return done.stage == stage && done.operation == operation; });
    if (isTicked) design.done.push_back({stage, operation, date});
    return design;
}

bool differInTicksAlone(const Design& a, Design b) {
    b.done = a.done;
    return a == b;
}

std::vector<std::string> settledFields(const Design& design) {
    using List = std::vector<std::string>;
    static const std::vector<std::pair<Stage, List>> kSettled{
        {Stage::Blank, {"band.metal", "band.grain", "allowances.blank-bore", "allowances.blank-outside"}},
        {Stage::Bored, {"allowances.sizing"}},
        {Stage::Turned, {"band.thickness", "allowances.truing"}},
        {Stage::Parted, {"band.width", "band.outside", "allowances.parting"}},
        {Stage::Lined, {"band.liner"}},
        {Stage::Channelled,
         {"channels[#].offset", "channels[#].width", "channels[#].depth", "channels[#].floor-radius",
          "channels[#].draft"}},
        {Stage::Drilled, {"settings[#].placement", "settings[#].hole"}},
        {Stage::Filled, {"channels[#].fill", "allowances.fill"}},
        {Stage::Bevelled, {"band.left", "band.right"}},
        {Stage::Polished, {"band.finish"}},
        {Stage::Sized, {"finger", "band.bore"}},
        {Stage::Etched, {"band.layers"}},
        {Stage::Joined, {"settings[#].tube"}},
        {Stage::Set, {"settings[#].stone"}},
        {Stage::Closed, {"settings[#].closing"}},
    };
    List settled;
    for (const auto& [step, fields] : kSettled)
        if (isDone(design, step)) settled.insert(settled.end(), fields.begin(), fields.end());
    return settled;
}

bool keepsSettled(const Design& design, const Design& other) {
    if (!doneSoFar(design)) return true;
    for (std::size_t i = 0; i < kRouteLength && isDone(design, design.route[i]); ++i)
        if (other.route[i] != design.route[i]) return false;
    const std::vector<std::string> settled = settledFields(design);
    Design one = design, two = other;
    return std::ranges::all_of(fieldsIn(design), [&](const Field& field) {
        const bool isSettled = std::ranges::any_of(
            settled, [&](const std::string& pattern) { return covers(pattern, field.path); });
        return !isSettled || isSameAt(one, two, field.path);
    });
}

Design replanned(const Design& plan, const Design& from, const Design& to) {
    Design result = plan, before = from, after = to;
    for (const Field& field : fieldsIn(to))
        if (!isSameAt(before, after, field.path))
            if (const FieldValue there = valueAt(result, field.path); there.index() != 0)
                assign(there, valueAt(after, field.path));
    return result;
}

}  // namespace bandwright::design
