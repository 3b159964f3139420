#include "check/check.hpp"

#include <algorithm>
#include <cmath>

#include "design/design_file.hpp"
#include "measure.hpp"
#include "remedy.hpp"
#include "rules.hpp"

namespace bandwright {

namespace {

Measures allMeasures(const Design& design, const Catalogue& catalogue) {
    const std::vector<SettingBodies> bodies = allBodies(design);
    Measures measures;
    for (const Stage stage : {Stage::BeforeSizing, Stage::Finished}) {
        const StagedRing ring = stagedRing(design, stage, bodies);
        measureChannels(ring, measures);
        measureThinnestWall(ring, measures);
        measureSettings(ring, measures);
        if (stage == Stage::Finished) measureMasses(ring, catalogue, measures);
    }
    return measures;
}

/// How near a finding stands to its limit, as a share of it.
double standing(const Report& report, const Finding& finding) {
    return report.measures[finding.measure].value / finding.limit;
}

/// One finding for each rule and place, at the stage where it stands worst; at equal standing the finished
/// ring.
void judge(const Design& design, const Catalogue& catalogue, Report& report) {
    for (std::size_t i = 0; i < report.measures.size(); ++i) {
        const Measure& measure = report.measures[i];
        const Rule* rule = ruleFor(measure);
        if (rule == nullptr) continue;
        Limit limit = rule->limit(design, catalogue, measure);
        Finding finding{std::string(rule->id),
                        measure.stage,
                        judged(measure.value, limit),
                        i,
                        limit.limit,
                        limit.comfortable,
                        std::string(rule->why),
                        {},
                        {},
                        std::move(limit.source)};
        const auto known =
            std::find_if(report.findings.begin(), report.findings.end(),
                         [&](const Finding& f) { return report.measures[f.measure].id == measure.id; });
        if (known == report.findings.end()) {
            report.findings.push_back(std::move(finding));
        } else if (standing(report, finding) <= standing(report, *known)) {
            *known = std::move(finding);
        }
    }
    std::stable_sort(report.findings.begin(), report.findings.end(), [&](const Finding& a, const Finding& b) {
        if (a.verdict != b.verdict) return a.verdict > b.verdict;
        return standing(report, a) < standing(report, b);
    });
    if (!report.findings.empty()) report.verdict = report.findings.front().verdict;
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

std::string name(Stage stage) {
    switch (stage) {
        case Stage::BeforeSizing:
            return "before-sizing";
        case Stage::Finished:
            return "finished";
    }
    return {};
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
    report.measures = allMeasures(design, catalogue);
    judge(design, catalogue, report);
    for (std::size_t i = 0; options.remedies && i < report.findings.size(); ++i) {
        if (report.findings[i].verdict != Verdict::Go) addRemedy(design, catalogue, report, i);
    }
    return report;
}

}  // namespace bandwright
