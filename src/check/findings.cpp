#include "findings.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>
#include <vector>

namespace bandwright::check {

const Finding* findingAt(const Report& report, const std::string& rule, const std::string& measure) {
    const auto found = std::find_if(report.findings.begin(), report.findings.end(), [&](const Finding& f) {
        return f.rule == rule && report.measures[f.measure].id == measure;
    });
    return found == report.findings.end() ? nullptr : &*found;
}

double valueOf(const Report& report, const Finding& finding) {
    return report.measures[finding.measure].value;
}

double goodDirection(Sense sense) {
    return sense == Sense::AtLeast ? 1 : -1;
}

double standing(double value, Sense sense, double limit) {
    constexpr double kLeastScale = 0.1;  // for limits of zero
    const double share = goodDirection(sense) * (value - limit) / std::max(kLeastScale, std::abs(limit));
    return std::isnan(share) ? -std::numeric_limits<double>::infinity() : share;
}

double standing(const Report& report, const Finding& finding) {
    return standing(valueOf(report, finding), finding.sense, finding.limit);
}

void sortWorstFirst(Report& report) {
    struct Place {
        Verdict verdict;
        double standing;
        std::size_t number;
    };
    std::vector<Place> order;
    order.reserve(report.findings.size());
    for (const Finding& finding : report.findings)
        order.push_back({finding.verdict, standing(report, finding), order.size()});
    std::sort(order.begin(), order.end(), [](const Place& a, const Place& b) {
        if (a.verdict != b.verdict) return a.verdict > b.verdict;
        return a.standing != b.standing ? a.standing < b.standing : a.number < b.number;
    });
    std::vector<Finding> sorted;
    sorted.reserve(order.size());
    for (const Place& place : order)
        sorted.push_back(std::move(report.findings[place.number]));
    report.findings = std::move(sorted);
    report.verdict = report.findings.empty() ? Verdict::Go : report.findings.front().verdict;
}

}  // namespace bandwright::check
