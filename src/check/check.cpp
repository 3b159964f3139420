#include "check/check.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

#include "design/design_file.hpp"
#include "findings.hpp"
#include "measure.hpp"
#include "remedy.hpp"
#include "rules.hpp"

namespace bandwright {

namespace {

Measures allMeasures(const Design& design, const Catalogue& catalogue, std::optional<Stage> only) {
    const std::vector<SettingBodies> bodies = allBodies(design);
    Measures measures;
    for (const Stage stage : {Stage::BeforeSizing, Stage::Finished}) {
        if (only && stage != *only) continue;
        const StagedRing ring = stagedRing(design, stage, bodies);
        measureChannels(ring, measures);
        measureThinnestWall(ring, measures);
        measureSettings(ring, measures);
        measureNeighbours(ring, measures);
        if (stage != Stage::Finished) continue;
        measureTubes(ring, measures);
        measureStones(ring, catalogue, measures);
        measureFills(ring, measures);
        measureWork(ring, measures);
        measureInChannels(ring, measures);
        measureMaterials(ring, catalogue, measures);
        measureFit(ring, catalogue, measures);
        measureStrength(ring, catalogue, measures);
        measureMasses(ring, catalogue, measures);
    }
    return measures;
}

/// One finding for each rule and place, at the stage where it stands worst; at equal standing the finished
/// ring.
void judge(const Design& design, const Catalogue& catalogue, const Rule& rule, Report& report) {
    const Limit limit = rule.limit(design, catalogue);
    const std::size_t first = report.findings.size();
    for (std::size_t i = 0; i < report.measures.size(); ++i) {
        const Measure& measure = report.measures[i];
        if (!judges(rule, measure)) continue;
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
        } else if (standing(report, finding) <= standing(report, *known)) {
            *known = std::move(finding);
        }
    }
}

void judgeAll(const Design& design, const Catalogue& catalogue, Report& report) {
    for (const Rule& rule : rules())
        judge(design, catalogue, rule, report);
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
    report.measures = allMeasures(design, catalogue, options.stage);
    judgeAll(design, catalogue, report);
    for (std::size_t i = 0; options.remedies && i < report.findings.size(); ++i) {
        if (report.findings[i].verdict != Verdict::Go) addRemedy(design, catalogue, report, i);
    }
    return report;
}

}  // namespace bandwright
