#include "remedy.hpp"

#include <algorithm>
#include <cmath>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "check/figures.hpp"
#include "design/design_file.hpp"
#include "findings.hpp"
#include "handle.hpp"

namespace bandwright::check {

namespace {

bool noneWorse(const Report& before, const Report& after) {
    return std::all_of(after.findings.begin(), after.findings.end(), [&](const Finding& f) {
        const Finding* old = findingAt(before, f.rule, after.measures[f.measure].id);
        return f.verdict <= (old == nullptr ? Verdict::Go : old->verdict);
    });
}

/// What is sought and where.
struct Search {
    const design::Design& design;
    const trade::Catalogue& catalogue;
    const Report& report;
    const Finding& finding;
    const Measure& measure;
    Verdict wanted;
};

struct Trial {
    design::Field field;
    Change change;
    Report report;
};

/// The design with a handle turned so many steps, checked; nothing when there is no such ring.
std::optional<Trial> turned(const Search& search, const Handle& handle, int steps) {
    const std::string& path = handle.field.path;
    const double from = *design::numberAt(search.design, path);
    Trial trial{handle.field, {path, from, moved(from, handle, steps)}, {}};
    try {
        const design::Design design = changed(search.design, trial.change);
        design::requireValid(design);
        trial.report = check(design, search.catalogue, {.remedies = false});
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return trial;
}

bool reaches(const Search& search, const Trial& trial) {
    const Finding* now = findingAt(trial.report, search.finding.rule, search.measure.id);
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
    // Doubling may pass what can be built; the last step before that may still help.
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

std::optional<Trial> best(const Search& search, const Rule& rule) {
    std::optional<Trial> result;
    const auto size = [](const Trial& t) { return std::abs(t.change.to - t.change.from); };
    for (const Lever& lever : rule.levers) {
        const auto at = handle(lever, search.design, search.measure);
        if (!at) continue;
        std::optional<Trial> trial = smallest(search, *at);
        if (!trial || !noneWorse(search.report, trial->report)) continue;
        // Of two equal changes take the one named first: a maker would try it first.
        if (result && size(*trial) > size(*result) - at->field.number.grid / 2) continue;
        result = std::move(trial);
    }
    return result;
}

/// The change of the route that mends the finding and spoils nothing else, in words.
std::optional<std::string> reordered(const Search& search, const Rule& rule) {
    if (!rule.reorder) return std::nullopt;
    const auto [step, before] = *rule.reorder;
    design::Design design = search.design;
    try {
        design.route = design::movedBefore(design.route, step, before);
        const Report after = check(design, search.catalogue, {.remedies = false});
        const Finding* now = findingAt(after, search.finding.rule, search.measure.id);
        const bool mends = now == nullptr || now->verdict <= search.wanted;
        if (!mends || !noneWorse(search.report, after)) return std::nullopt;
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return "Change the route: " + design::name(step) + " before " + design::name(before) + ".";
}

std::string lowerFirst(std::string text) {
    if (!text.empty() && text[0] >= 'A' && text[0] <= 'Z') text[0] = static_cast<char>(text[0] - 'A' + 'a');
    return text;
}

}  // namespace

void addRemedy(const design::Design& design, const trade::Catalogue& catalogue, Report& report,
               std::size_t finding) {
    Finding& f = report.findings[finding];
    const Measure& measure = report.measures[f.measure];
    const Rule& rule = *ruleNamed(f.rule);
    std::optional<Trial> trial;
    for (const Verdict wanted : {Verdict::Go, Verdict::Marginal}) {
        if (trial || wanted >= f.verdict) continue;
        trial = best({design, catalogue, report, f, measure, wanted}, rule);
    }
    const std::string place = lowerFirst(measure.label);
    const auto inFigures = [&](double value) {
        const std::string number = base::shortestNumber(base::roundedTo(value, decimalsFor(value, f)));
        return number + (measure.unit.empty() ? "" : " " + measure.unit);
    };
    if (!trial) {
        if (const auto route = reordered({design, catalogue, report, f, measure, Verdict::Go}, rule)) {
            f.remedy = *route;
            return;
        }
        f.remedy = std::string(rule.levers.empty() ? "No dimension mends it"
                                                   : "No one dimension mends it without spoiling another") +
                   ": " + place + " is " + inFigures(measure.value) + " and should be " +
                   (f.sense == Sense::AtLeast ? "at least " : "at most ") + inFigures(f.comfortable) + ".";
        return;
    }
    const Measure& now = trial->report.measures[findingAt(trial->report, f.rule, measure.id)->measure];
    f.change = trial->change;
    f.remedy = "Make " + trial->field.phrase + " " + changeText(trial->change, trial->field.number) + ": " +
               place + " is then " + inFigures(now.value) + ".";
}

}  // namespace bandwright::check
