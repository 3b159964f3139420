#include "findings.hpp"

#include <algorithm>
#include <cmath>

namespace bandwright {

const Finding* findingAt(const Report& report, const std::string& rule, const std::string& measure) {
    const auto found = std::find_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
        return f.rule == rule && report.measures[f.measure].id == measure;
    });
    return found == report.findings.end() ? nullptr : &*found;
}

double valueOf(const Report& report, const Finding& finding) {
    return report.measures[finding.measure].value;
}

double goodDirection(const Finding& finding) {
    return finding.sense == Sense::AtLeast ? 1 : -1;
}

double standing(const Report& report, const Finding& finding) {
    constexpr double kLeastScale = 0.1;  // of limits that are nothing
    return goodDirection(finding) * (valueOf(report, finding) - finding.limit) /
           std::max(kLeastScale, std::abs(finding.limit));
}

void sortWorstFirst(Report& report) {
    std::stable_sort(report.findings.begin(), report.findings.end(), [&](const Finding& a, const Finding& b) {
        if (a.verdict != b.verdict) return a.verdict > b.verdict;
        return standing(report, a) < standing(report, b);
    });
    report.verdict = report.findings.empty() ? Verdict::Go : report.findings.front().verdict;
}

}  // namespace bandwright
