#include "check/check.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <iterator>
#include <string_view>
#include <utility>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "exchange.hpp"
#include "findings.hpp"
#include "leave_out.hpp"
#include "measure.hpp"
#include "remedy.hpp"
#include "resize.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

/// The limits that a value is held against: of a fit, those of the side on which it stands worse.
struct Side {
    Sense sense;
    Limit limit;
    std::optional<SideLimits> across;
};

Side sideOf(const Rule& rule, const Limit& limit, const std::optional<Limit>& upper, double value) {
    if (!upper) return {rule.sense, limit, std::nullopt};
    const Side least{Sense::AtLeast, limit, SideLimits{upper->limit, upper->comfortable}};
    const Side most{Sense::AtMost, *upper, SideLimits{limit.limit, limit.comfortable}};
    const Verdict under = judged(value, Sense::AtLeast, limit), over = judged(value, Sense::AtMost, *upper);
    if (under != over) return under > over ? least : most;
    const bool nearLeast = value - limit.comfortable <= upper->comfortable - value;
    return nearLeast ? least : most;
}

/// How a value stands in a rule: on the worse side.
double standingIn(const Rule& rule, const Limit& limit, const std::optional<Limit>& upper, double value) {
    const Side side = sideOf(rule, limit, upper, value);
    return standing(value, side.sense, side.limit.limit);
}

/// Whether a later measure stands worse than the one known, or as badly in the finished ring.
bool takesOver(const Report& report, const auto& standingOf, std::size_t later, std::size_t known) {
    constexpr double kSame = 1e-9;
    const double worse = standingOf(known) - standingOf(later);
    return worse > kSame || (report.measures[later].stage == design::Stage::Finished && worse >= -kSame);
}

/// A name with its hash: most names that differ already differ in the hash.
struct HashedName {
    std::string_view name;
    std::size_t hash;
    explicit HashedName(std::string_view of) : name(of), hash(std::hash<std::string_view>()(of)) {}
    bool operator==(const HashedName& other) const { return hash == other.hash && name == other.name; }
};

/// What a finding says of a measure.
void tell(Finding& finding, const Side& side, const Report& report, std::size_t measure) {
    finding.stage = report.measures[measure].stage;
    finding.measure = measure;
    finding.verdict = judged(report.measures[measure].value, side.sense, side.limit);
    finding.sense = side.sense;
    finding.limit = side.limit.limit;
    finding.comfortable = side.limit.comfortable;
    finding.across = side.across;
    finding.source = side.limit.source;
}

/// One finding for each rule and place, at the stage where it stands worst; at equal standing the finished
/// ring, or else the first.
void judge(const design::Design& design, const trade::Catalogue& catalogue, const Rule& rule,
           const std::vector<HashedName>& subjects, Report& report) {
    const HashedName subject(rule.measure);
    const Limit limit = rule.limit(design, catalogue);
    const std::optional<Limit> upper = rule.upperLimit(design, catalogue);
    const auto standingOf = [&](std::size_t i) {
        return standingIn(rule, limit, upper, report.measures[i].value);
    };
    const std::size_t first = report.findings.size();
    for (std::size_t i = 0; i < report.measures.size(); ++i) {
        const Measure& measure = report.measures[i];
        if (!(subjects[i] == subject)) continue;
        auto known =
            std::find_if(report.findings.begin() + static_cast<std::ptrdiff_t>(first), report.findings.end(),
                         [&](const Finding& f) { return report.measures[f.measure].id == measure.id; });
        if (known == report.findings.end()) {
            report.findings.emplace_back();
            known = std::prev(report.findings.end());
            known->rule = rule.id;
            known->group = rule.group;
            known->why = rule.why;
        } else if (!takesOver(report, standingOf, i, known->measure)) {
            continue;
        }
        tell(*known, sideOf(rule, limit, upper, measure.value), report, i);
    }
}

std::vector<HashedName> hashedSubjects(const Report& report) {
    std::vector<HashedName> subjects;
    subjects.reserve(report.measures.size());
    for (const Measure& measure : report.measures)
        subjects.emplace_back(subjectOf(measure));
    return subjects;
}

void judgeAll(const design::Design& design, const trade::Catalogue& catalogue, Report& report) {
    const std::vector<HashedName> subjects = hashedSubjects(report);
    for (const Rule& rule : rules())
        judge(design, catalogue, rule, subjects, report);
    sortWorstFirst(report);
}

/// The bodies, of which only masses are told, are those of the ring before it was opened.
std::optional<Report> judgedAsFinished(const design::Design& design, const trade::Catalogue& catalogue,
                                       const std::vector<geometry::SolidPart>& bodies) {
    try {
        geometry::requireBuildable(design);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    Report report;
    report.measures = allMeasures(design, catalogue, bodies, design::Stage::Finished);
    judgeAll(design, catalogue, report);
    return report;
}

}  // namespace

std::string name(Verdict verdict) {
    switch (verdict) {
        case Verdict::Go:
            return "go";
        case Verdict::Marginal:
            return "marginal";
        case Verdict::NoGo:
            return "no-go";
    }
    return {};
}

std::string name(Group group) {
    switch (group) {
        case Group::Walls:
            return "walls";
        case Group::Setting:
            return "setting";
        case Group::Fill:
            return "fill";
        case Group::Fit:
            return "fit on the finger";
        case Group::Work:
            return "work";
        case Group::Wear:
            return "wear";
        case Group::Law:
            return "law";
    }
    return {};
}

std::string name(Sense sense) {
    return sense == Sense::AtLeast ? "at-least" : "at-most";
}

design::Design changed(const design::Design& design, const Change& change) {
    design::Design result = design;
    design::setQuantity(result, change.field, change.to);
    return result;
}

std::vector<Change> changesBetween(const design::Design& from, const design::Design& to) {
    std::vector<Change> changes;
    for (const design::DesignNumber& n : design::quantitiesIn(from)) {
        const auto there = design::quantityAt(to, n.path);
        if (there && *there != n.value) changes.push_back({n.path, n.value, *there});
    }
    return changes;
}

design::Design carriedOut(const design::Design& design, const Remedy& remedy) {
    design::Design result = design;
    for (const Change& change : remedy.changes)
        result = changed(result, change);
    if (remedy.exchange) result = exchanged(result, *remedy.exchange);
    if (remedy.reorder)
        result.route = design::movedBefore(result.route, remedy.reorder->step, remedy.reorder->before);
    if (remedy.leftOut) result = without(result, *remedy.leftOut);
    return result;
}

Report check(const design::Design& design, const trade::Catalogue& catalogue, const CheckOptions& options) {
    design::requireMaterials(design, catalogue);
    Report report;
    report.bodies = geometry::bodies(design);
    report.measures = allMeasures(design, catalogue, report.bodies, options.stage);
    judgeAll(design, catalogue, report);
    const bool seesFinished = !options.stage || *options.stage == design::Stage::Finished;
    const bool canBeMade = report.verdict != Verdict::NoGo;
    if (seesFinished && canBeMade && options.resizing.value_or(options.remedies)) {
        report.measures.push_back(resizeRoom(design, [&](const design::Design& opened) {
            return judgedAsFinished(opened, catalogue, report.bodies);
        }));
        judge(design, catalogue, *ruleNamed("resize-room"), hashedSubjects(report), report);
        sortWorstFirst(report);
    }
    if (options.remedies) addRemedies(design, catalogue, report);
    return report;
}

}  // namespace bandwright::check
