#include "remedy.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>

#include "design/design_file.hpp"
#include "measure.hpp"
#include "trade/input_error.hpp"
#include "trade/wording.hpp"

namespace bandwright {

namespace {

constexpr int kMostSteps = 512;  ///< further away it is another ring

std::string rounded(double value) {
    return shortestNumber(std::round(value * 100) / 100);
}

std::string withUnit(double value, const std::string& unit) {
    return rounded(value) + (unit.empty() ? "" : " " + unit);
}

/// The unit of a number in the design file, by its path.
std::string unitOf(const std::string& field) {
    if (field.ends_with(".draft")) return "degrees";
    return field.ends_with(".packing") ? "" : "mm";
}

void replaceMark(std::string& text, const std::string& by) {
    const std::size_t at = text.find('#');
    if (at != std::string::npos) text.replace(at, 1, by);
}

/// The channel a measure touches, by its witnesses' tags.
std::optional<std::size_t> channelOf(const Design& design, const Measure& measure) {
    for (const Tag tag : {measure.fromTag, measure.toTag}) {
        for (std::size_t i = 0; i < design.channels.size(); ++i) {
            if (isChannel(tag, i)) return i;
        }
    }
    return std::nullopt;
}

std::optional<std::uint16_t> edgeOf(const Measure& measure) {
    for (const Tag tag : {measure.fromTag, measure.toTag}) {
        if (tag.feature == Feature::Bevel || tag.feature == Feature::EdgeRound) return tag.index;
    }
    return std::nullopt;
}

/// A lever at the place of a measure.
struct Handle {
    std::string field;
    std::string label;
    int direction = 1;
    double step = 0.01;
};

std::optional<Handle> handle(const Lever& lever, const Design& design, const Measure& measure) {
    Handle result{std::string(lever.field), std::string(lever.label), lever.direction, lever.step};
    if (lever.field.starts_with("channels[")) {
        const auto channel = channelOf(design, measure);
        if (!channel) return std::nullopt;
        replaceMark(result.field, std::to_string(*channel));
        result.label += " of " + channelName(design, *channel);
    } else if (lever.field.starts_with("settings[")) {
        const std::size_t steps = design.settings[measure.number].hole.steps.size();
        replaceMark(result.field, std::to_string(measure.number));
        replaceMark(result.field, std::to_string(steps - 1));
        result.label += ofSetting(design, measure.number);
    } else if (lever.field.starts_with("band.#")) {
        const auto side = edgeOf(measure);
        if (!side) return std::nullopt;
        const std::string name = *side == 0 ? "left" : "right";
        replaceMark(result.field, name);
        result.label += " of the " + name + " edge";
    }
    if (numberAt(design, result.field) == nullptr) return std::nullopt;
    return result;
}

/// The finding of the same rule at the same place.
const Finding* same(const Report& report, const std::string& rule, const Measure& measure) {
    const auto found = std::find_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
        return f.rule == rule && report.measures[f.measure].id == measure.id;
    });
    return found == report.findings.end() ? nullptr : &*found;
}

bool noneWorse(const Report& before, const Report& after) {
    return std::all_of(after.findings.begin(), after.findings.end(), [&](const Finding& f) {
        const Finding* old = same(before, f.rule, after.measures[f.measure]);
        return f.verdict <= (old == nullptr ? Verdict::Go : old->verdict);
    });
}

/// What is sought and where.
struct Search {
    const Design& design;
    const Catalogue& catalogue;
    const Report& report;
    const Finding& finding;
    const Measure& measure;
    Verdict wanted;
};

struct Trial {
    Change change;
    Report report;
};

/// The design with a handle turned so many steps, checked; nothing when there is no such ring.
std::optional<Trial> turned(const Search& search, const Handle& handle, int steps) {
    const double from = *numberAt(search.design, handle.field);
    // Counted in whole steps, and divided, so that the number reads as typed.
    const double inSteps = from / handle.step;
    const double whole = handle.direction > 0 ? std::floor(inSteps + 1e-9) : std::ceil(inSteps - 1e-9);
    Trial trial{{handle.field, from, (whole + handle.direction * steps) / std::round(1 / handle.step)}, {}};
    try {
        const Design design = changed(search.design, trial.change);
        requireValid(design);
        trial.report = check(design, search.catalogue, {.remedies = false});
    } catch (const InputError&) {
        return std::nullopt;
    }
    return trial;
}

bool reaches(const Search& search, const Trial& trial) {
    const Finding* now = same(trial.report, search.finding.rule, search.measure);
    return now != nullptr && now->verdict <= search.wanted;
}

/// The fewest steps at which the rule holds.
std::optional<Trial> smallest(const Search& search, const Handle& handle) {
    int below = 0;  // here it does not hold
    std::optional<Trial> found;
    for (int steps = 1; steps <= kMostSteps && !found; steps *= 2) {
        std::optional<Trial> trial = turned(search, handle, steps);
        if (!trial) break;
        if (reaches(search, *trial)) {
            found = std::move(trial);
        } else {
            below = steps;
        }
    }
    // Where doubling leaps out of what can be built, the last step before it may still do.
    int above = found ? std::max(1, 2 * below) : std::min(kMostSteps, 2 * std::max(1, below));
    while (above - below > 1) {
        const int middle = (above + below) / 2;
        std::optional<Trial> trial = turned(search, handle, middle);
        if (trial && !reaches(search, *trial)) {
            below = middle;
        } else {
            above = middle;
            if (trial) found = std::move(trial);
        }
    }
    return found;
}

std::optional<Trial> best(const Search& search, const Rule& rule, std::string& label) {
    std::optional<Trial> result;
    const auto size = [](const Trial& t) { return std::abs(t.change.to - t.change.from); };
    for (const Lever& lever : rule.levers) {
        const auto at = handle(lever, search.design, search.measure);
        if (!at) continue;
        std::optional<Trial> trial = smallest(search, *at);
        if (!trial || !noneWorse(search.report, trial->report)) continue;
        // Of two changes as large as each other the one named first, which a maker would try first.
        if (result && size(*trial) > size(*result) - at->step / 2) continue;
        result = std::move(trial);
        label = at->label;
    }
    return result;
}

std::string lowerFirst(std::string text) {
    if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
    return text;
}

}  // namespace

void addRemedy(const Design& design, const Catalogue& catalogue, Report& report, std::size_t finding) {
    Finding& f = report.findings[finding];
    const Measure& measure = report.measures[f.measure];
    const Rule& rule = *ruleNamed(f.rule);
    std::string label;
    std::optional<Trial> trial;
    for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
        if (trial || wanted >= f.verdict) continue;
        trial = best({design, catalogue, report, f, measure, wanted}, rule, label);
    }
    const std::string place = lowerFirst(measure.label);
    if (!trial) {
        f.remedy = std::string(rule.levers.empty() ? "Nothing that is measured here mends it"
                                                   : "No one dimension mends it without spoiling another") +
                   ": " + place + " is " + withUnit(measure.value, measure.unit) + " and should be " +
                   (f.sense == Sense::AtLeast ? "at least " : "at most ") +
                   withUnit(f.comfortable, measure.unit) + ".";
        return;
    }
    const Measure& now = trial->report.measures[same(trial->report, f.rule, measure)->measure];
    const std::string unit = unitOf(trial->change.field);
    f.change = trial->change;
    f.remedy = "Make " + label + " " + withUnit(trial->change.to, unit) + " instead of " +
               withUnit(trial->change.from, unit) + ": " + place + " is then " +
               withUnit(now.value, measure.unit) + ".";
}

}  // namespace bandwright
