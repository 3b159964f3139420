#include "check/figures.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "design/field_table.hpp"
#include "findings.hpp"
#include "rules.hpp"

namespace bandwright {

namespace {

/// The fewest at which rounding leaves the number as it is.
int decimalsOf(double number, int least, int most) {
    constexpr double kAsWritten = 1e-9;
    int decimals = least;
    while (decimals < most && std::abs(roundedTo(number, decimals) - number) > kAsWritten)
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
        const Limit printed{roundedTo(limit.limit, decimals), roundedTo(limit.comfortable, decimals), {}};
        return judged(roundedTo(value, decimals), finding.sense, printed) ==
               judged(value, finding.sense, limit);
    };
    while (decimals < kMost && !isPlain())
        ++decimals;
    return decimals;
}

Figures figures(const Report& report, const Finding& finding) {
    const double value = valueOf(report, finding);
    int decimals = decimalsFor(value, finding);
    if (finding.spread) decimals = std::max(decimals, decimalsFor(finding.spread->worst, finding));
    return {fixed(value, decimals), fixed(finding.limit, decimals), fixed(finding.comfortable, decimals),
            finding.spread ? fixed(finding.spread->worst, decimals) : ""};
}

std::string changeText(const Change& change, const NumberField& field) {
    constexpr int kMost = 15;
    const double factor = shownFactor(field.unit), grid = factor * field.grid, from = factor * change.from;
    // What was typed finer than the grid is shown so, to a hundredth of it.
    const auto isPlain = [&](int decimals) {
        return std::abs(roundedTo(from, decimals) - from) <= grid / 100 &&
               roundedTo(from, decimals) != roundedTo(factor * change.to, decimals);
    };
    int decimals = decimalsOf(grid, 0, kMost);
    while (decimals < kMost && !isPlain(decimals))
        ++decimals;
    return shown(change.to, field.unit, decimals) + " instead of " + shown(change.from, field.unit, decimals);
}

}  // namespace bandwright
