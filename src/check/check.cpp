#include "check/check.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <functional>
#include <iterator>
#include <string_view>
#include <utility>
#include <variant>

#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "findings.hpp"
#include "measure.hpp"
#include "remedy.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

/// Whether a later measure stands worse than the one known, or as badly in the finished ring.
bool takesOver(const Report& report, Sense sense, const Limit& limit, std::size_t later, std::size_t known) {
    constexpr double kSame = 1e-9;
    const auto standingOf = [&](std::size_t i) {
        return standing(report.measures[i].value, sense, limit.limit);
    };
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

/// A finding of the rule before it judges any measure.
Finding findingOf(const Rule& rule, const Limit& limit) {
    Finding finding;
    finding.rule = rule.id;
    finding.sense = rule.sense;
    finding.limit = limit.limit;
    finding.comfortable = limit.comfortable;
    finding.why = rule.why;
    finding.source = limit.source;
    return finding;
}

/// One finding for each rule and place, at the stage where it stands worst; at equal standing the finished
/// ring, or else the first.
void judge(const design::Design& design, const trade::Catalogue& catalogue, const Rule& rule,
           const std::vector<HashedName>& subjects, Report& report) {
    const HashedName subject(rule.measure);
    const Limit limit = rule.limit(design, catalogue);
    const std::size_t first = report.findings.size();
    for (std::size_t i = 0; i < report.measures.size(); ++i) {
        const Measure& measure = report.measures[i];
        if (!(subjects[i] == subject)) continue;
        auto known =
            std::find_if(report.findings.begin() + static_cast<std::ptrdiff_t>(first), report.findings.end(),
                         [&](const Finding& f) { return report.measures[f.measure].id == measure.id; });
        if (known == report.findings.end()) {
            report.findings.push_back(findingOf(rule, limit));
            known = std::prev(report.findings.end());
        } else if (!takesOver(report, rule.sense, limit, i, known->measure)) {
            continue;
        }
        known->stage = measure.stage;
        known->verdict = judged(measure.value, rule.sense, limit);
        known->measure = i;
    }
}

void judgeAll(const design::Design& design, const trade::Catalogue& catalogue, Report& report) {
    std::vector<HashedName> subjects;
    subjects.reserve(report.measures.size());
    for (const Measure& measure : report.measures)
        subjects.emplace_back(subjectOf(measure));
    for (const Rule& rule : rules())
        judge(design, catalogue, rule, subjects, report);
    sortWorstFirst(report);
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

std::string name(Sense sense) {
    return sense == Sense::AtLeast ? "at-least" : "at-most";
}

design::Design changed(const design::Design& design, const Change& change) {
    design::Design result = design;
    if (double* number = design::numberAt(result, change.field)) *number = change.to;
    return result;
}

std::vector<Change> changesBetween(const design::Design& from, const design::Design& to) {
    std::vector<Change> changes;
    for (const design::DesignNumber& n : design::numbersIn(from)) {
        const double* there = design::numberAt(to, n.path);
        if (there != nullptr && *there != n.value) changes.push_back({n.path, n.value, *there});
    }
    return changes;
}

design::Design carriedOut(const design::Design& design, const Remedy& remedy) {
    design::Design result = design;
    for (const Change& change : remedy.changes)
        result = changed(result, change);
    if (remedy.exchange) {
        const design::FieldValue value = design::valueAt(result, remedy.exchange->field);
        if (std::string* const* id = std::get_if<std::string*>(&value)) **id = remedy.exchange->to;
        if (const auto* words = std::get_if<design::WordChoice>(&value)) {
            const auto option =
                std::ranges::find(words->options, remedy.exchange->to, &design::WordChoice::Option::id);
            if (option != words->options.end())
                words->choose(static_cast<std::size_t>(option - words->options.begin()));
        }
    }
    if (remedy.reorder)
        result.route = design::movedBefore(result.route, remedy.reorder->step, remedy.reorder->before);
    return result;
}

Report check(const design::Design& design, const trade::Catalogue& catalogue, const CheckOptions& options) {
    design::requireMaterials(design, catalogue);
    Report report;
    report.bodies = geometry::bodies(design);
    report.measures = allMeasures(design, catalogue, report.bodies, options.stage);
    judgeAll(design, catalogue, report);
    if (options.remedies) addRemedies(design, catalogue, report);
    return report;
}

}  // namespace bandwright::check
