#include "check/sight.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

#include "base/numbers.hpp"
#include "design/field_table.hpp"

namespace bandwright::check {

namespace {

struct Row {
    std::string_view covers;  ///< see design::covers
    Sight sight;
};

/// The first row that covers a field counts.
constexpr std::array kRows{
    Row{"allowances", Sight::Hidden},
    Row{"finger", Sight::Ordered},
    Row{"band.width", Sight::Ordered},
    Row{"band.metal", Sight::Ordered},
    Row{"band.bore", Sight::Hidden},
    Row{"band.liner.metal", Sight::Seen},
    Row{"band.liner", Sight::Hidden},
    Row{"band.thickness", Sight::Hardly},
    Row{"band.layers.etch", Sight::Hardly},
    Row{"band.left", Sight::Hardly},
    Row{"band.right", Sight::Hardly},
    Row{"channels[#].depth", Sight::Hidden},
    Row{"channels[#].draft", Sight::Hidden},
    Row{"channels[#].floor-radius", Sight::Hidden},
    Row{"channels[#].fill.adhesive", Sight::Hidden},
    Row{"channels[#].fill.packing", Sight::Hidden},
    Row{"channels[#].fill.proud", Sight::Hardly},
    Row{"channels[#].fill.grain-least", Sight::Hardly},
    Row{"channels[#].fill.grain-most", Sight::Hardly},
    Row{"channels[#].fill.filler", Sight::Ordered},
    Row{"settings[#].stone", Sight::Ordered},
    Row{"settings[#].placement.count", Sight::Ordered},
    Row{"settings[#].placement.start", Sight::Hardly},
    Row{"settings[#].hole.pilot-diameter", Sight::Hidden},
    Row{"settings[#].hole.pilot-depth", Sight::Hidden},
    Row{"settings[#].hole.steps[#].depth", Sight::Hidden},
    Row{"settings[#].hole.steps[#].bearing", Sight::Hidden},
    Row{"settings[#].hole", Sight::Hardly},
    Row{"settings[#].closing", Sight::Hidden},
    Row{"settings[#].tube.join", Sight::Hidden},
    Row{"settings[#].tube.solder", Sight::Hidden},
    Row{"settings[#].tube.inner-diameter", Sight::Hidden},
    Row{"settings[#].tube.seat-depth", Sight::Hidden},
    Row{"settings[#].tube.metal", Sight::Seen},
    Row{"settings[#].tube", Sight::Hardly},
};

/// "0.12 g heavier", or that it stays.
std::string inWords(double change, const std::string& unit, const char* more, const char* less,
                    const char* same) {
    const double shown = base::roundedTo(change, 2);
    if (shown == 0) return same;
    return base::shortestNumber(std::abs(shown)) + " " + unit + " " + (shown > 0 ? more : less);
}

double valueAt(const Report& report, std::string_view id) {
    const auto found = std::ranges::find(report.measures, id, &Measure::id);
    return found == report.measures.end() ? 0 : found->value;
}

double changeOf(const Remedy& remedy, std::string_view path) {
    const auto found = std::ranges::find(remedy.changes, path, &Change::field);
    return found == remedy.changes.end() ? 0 : found->to - found->from;
}

}  // namespace

std::string name(Sight sight) {
    switch (sight) {
        case Sight::Hidden:
            return "out of sight";
        case Sight::Hardly:
            return "hardly seen";
        case Sight::Seen:
            return "seen";
        case Sight::Ordered:
            return "changes what was ordered";
    }
    return {};
}

Sight sightOf(const std::string& path) {
    const auto row =
        std::ranges::find_if(kRows, [&](const Row& r) { return design::covers(r.covers, path); });
    return row == kRows.end() ? Sight::Seen : row->sight;
}

Sight sightOf(const Remedy& remedy) {
    Sight most = remedy.leftOut ? Sight::Ordered : Sight::Hidden;
    for (const Change& change : remedy.changes)
        most = std::max(most, sightOf(change.field));
    constexpr double kFelt = 0.3;  // mm of thickness that show and are felt; our own choice
    if (std::abs(changeOf(remedy, "band.thickness")) > kFelt) most = std::max(most, Sight::Seen);
    if (remedy.exchange) most = std::max(most, sightOf(remedy.exchange->field));
    return most;
}

std::string effectOf(const Remedy& remedy, const Report& before, const Report& after) {
    std::string text = name(sightOf(remedy)) + "; " +
                       inWords(valueAt(after, "ring-mass") - valueAt(before, "ring-mass"), "g", "heavier",
                               "lighter", "as heavy");
    const double thicker = changeOf(remedy, "band.thickness"), wider = changeOf(remedy, "band.width");
    if (thicker != 0) text += ", " + inWords(thicker, "mm", "thicker", "thinner", "as thick");
    if (wider != 0) text += ", " + inWords(wider, "mm", "wider", "narrower", "as wide");
    const double bore = changeOf(remedy, "finger.width-correction");
    return text + "; " + inWords(bore, "mm", "more in the bore", "less in the bore", "same size");
}

}  // namespace bandwright::check
