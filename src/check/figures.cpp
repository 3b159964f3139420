#include "check/figures.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "design/field_table.hpp"
#include "findings.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

/// The fewest decimals at which rounding does not change the number.
int decimalsOf(double number, int least, int most) {
    constexpr double kAsWritten = 1e-9;
    int decimals = least;
    while (decimals < most && std::abs(base::roundedTo(number, decimals) - number) > kAsWritten)
        ++decimals;
    return decimals;
}

}  // namespace

int decimalsFor(double value, const Finding& finding) {
    constexpr int kLeast = 2, kMostOfLimits = 6, kMost = 9;
    const Limit limit{finding.limit, finding.comfortable, {}};
    int decimals = std::max(decimalsOf(limit.limit, kLeast, kMostOfLimits),
                            decimalsOf(limit.comfortable, kLeast, kMostOfLimits));
    const auto isPlain = [&] {
        const Limit printed{
            base::roundedTo(limit.limit, decimals), base::roundedTo(limit.comfortable, decimals), {}};
        return judged(base::roundedTo(value, decimals), finding.sense, printed) ==
               judged(value, finding.sense, limit);
    };
    while (decimals < kMost && !isPlain())
        ++decimals;
    return decimals;
}

Figures figures(const Report& report, const Finding& finding) {
    const double value = valueOf(report, finding);
    int decimals = decimalsFor(value, finding);
    if (finding.across) decimals = std::max(decimals, decimalsOf(finding.across->limit, 2, 6));
    if (finding.spread) decimals = std::max(decimals, decimalsFor(finding.spread->worst, finding));
    return {base::fixed(value, decimals), base::fixed(finding.limit, decimals),
            base::fixed(finding.comfortable, decimals),
            finding.spread ? base::fixed(finding.spread->worst, decimals) : "",
            finding.across ? base::fixed(finding.across->limit, decimals) : ""};
}

std::string changeText(const Change& change, const design::NumberField& field) {
    constexpr int kMost = 15;
    const double factor = design::shownFactor(field.unit), grid = factor * field.grid,
                 from = factor * change.from;
    // A number typed finer than the grid keeps its decimals, to a hundredth of the grid.
    const auto isPlain = [&](int decimals) {
        return std::abs(base::roundedTo(from, decimals) - from) <= grid / 100 &&
               base::roundedTo(from, decimals) != base::roundedTo(factor * change.to, decimals);
    };
    int decimals = decimalsOf(grid, 0, kMost);
    while (decimals < kMost && !isPlain(decimals))
        ++decimals;
    return design::shown(change.to, field.unit, decimals) + " instead of " +
           design::shown(change.from, field.unit, decimals);
}

}  // namespace bandwright::check
