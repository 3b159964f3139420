#include "app/worst_cases.hpp"

#include <algorithm>
#include <exception>
#include <limits>

#include "check/tolerance_stack.hpp"

namespace bandwright::app {

namespace {

using Clock = std::chrono::steady_clock;
using Seconds = std::chrono::duration<double>;

constexpr Seconds kUntilRested{0.4};

}  // namespace

std::string WorstCases::key(const check::Report& report, const check::Finding& finding) {
    return finding.rule + " " + report.measures[finding.measure].id + " " + design::name(finding.stage);
}

WorstCases::Values WorstCases::valuesOf(const design::Design& made, const trade::Catalogue& catalogue,
                                        check::Report report) {
    Values values;
    try {
        check::addSpreads(made, catalogue, report, {.rings = 0});
    } catch (const std::exception&) {
        return values;  // a ring that cannot be spread shows no bands
    }
    for (const check::Finding& finding : report.findings)
        if (finding.spread) values[key(report, finding)] = finding.spread->worst;
    return values;
}

void WorstCases::follow(const Session& session) {
    if (!session.seeksRemedies()) return;
    const Clock::time_point now = Clock::now();
    if (seen_ != session.revision()) {
        seen_ = session.revision();
        since_ = now;
        values_.clear();
    }
    if (coming_.valid()) {
        if (coming_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return;
        Values values = coming_.get();
        if (begun_ == seen_) values_ = std::move(values);
    }
    waits_ = begun_ != seen_ && now - since_ < kUntilRested;
    if (begun_ == seen_ || waits_) return;
    begun_ = seen_;
    // Copies, because the session goes on meanwhile.
    coming_ = std::async(std::launch::async,
                         [made = session.derived().made, catalogue = session.catalogue(),
                          report = session.derived().report] { return valuesOf(made, catalogue, report); });
}

double WorstCases::rest() const {
    constexpr double kLookAgain = 0.1;
    if (coming_.valid()) return kLookAgain;
    if (!waits_) return std::numeric_limits<double>::infinity();
    return std::max(0.0, Seconds(since_ + kUntilRested - Clock::now()).count());
}

std::optional<double> WorstCases::of(const check::Report& report, const check::Finding& finding) const {
    const auto found = values_.find(key(report, finding));
    return found == values_.end() ? std::nullopt : std::optional(found->second);
}

}  // namespace bandwright::app
