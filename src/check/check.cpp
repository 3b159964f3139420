#include "check/check.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string_view>
#include <utility>

#include "design/design_file.hpp"
#include "findings.hpp"
#include "measure.hpp"
#include "remedy.hpp"
#include "rules.hpp"

namespace bandwright {

namespace {

bool takesOver(const Report& report, const Finding& later, const Finding& known) {
    constexpr double kSame = 1e-9;
    const double worse = standing(report, known) - standing(report, later);
    return worse > kSame || (later.stage == Stage::Finished && worse >= -kSame);
}

/// One finding for each rule and place, at the stage where it stands worst; at equal standing the finished
/// ring, or else the first.
void judge(const Design& design, const Catalogue& catalogue, const Rule& rule,
           const std::vector<std::string_view>& subjects, Report& report) {
    const Limit limit = rule.limit(design, catalogue);
    const std::size_t first = report.findings.size();
    for (std::size_t i = 0; i < report.measures.size(); ++i) {
        const Measure& measure = report.measures[i];
        if (rule.measure != subjects[i]) continue;
        Finding finding;
        finding.rule = rule.id;
        finding.stage = measure.stage;
        finding.sense = rule.sense;
        finding.verdict = judged(measure.value, rule.sense, limit);
        finding.measure = i;
        finding.limit = limit.limit;
        finding.comfortable = limit.comfortable;
        finding.why = rule.why;
        finding.source = limit.source;
        const auto known =
            std::find_if(report.findings.begin() + static_cast<std::ptrdiff_t>(first), report.findings.end(),
                         [&](const Finding& f) { return report.measures[f.measure].id == measure.id; });
        if (known == report.findings.end()) {
            report.findings.push_back(std::move(finding));
        } else if (takesOver(report, finding, *known)) {
            *known = std::move(finding);
        }
    }
}

void judgeAll(const Design& design, const Catalogue& catalogue, Report& report) {
    std::vector<std::string_view> subjects;
    subjects.reserve(report.measures.size());
    for (const Measure& measure : report.measures)
        subjects.push_back(subjectOf(measure));
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

Design changed(const Design& design, const Change& change) {
    Design result = design;
    if (double* number = numberAt(result, change.field)) *number = change.to;
    return result;
}

Report check(const Design& design, const Catalogue& catalogue, const CheckOptions& options) {
    requireMaterials(design, catalogue);
    requireBuildable(design);
    Report report;
    report.measures = allMeasures(design, catalogue, options.stage);
    judgeAll(design, catalogue, report);
    for (std::size_t i = 0; options.remedies && i < report.findings.size(); ++i) {
        if (report.findings[i].verdict != Verdict::Go) addRemedy(design, catalogue, report, i);
    }
    return report;
}

}  // namespace bandwright
