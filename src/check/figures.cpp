#include "check/figures.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

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

/// How a unit is printed: its sign, how many decimals at least, and what the number is multiplied by.
struct UnitStyle {
    std::string_view unit, shown;
    int decimals = 2;
    double factor = 1;
};
/// Every unit of a measure or a limit.
constexpr std::array kUnitStyles{
    UnitStyle{"", "%", 0, 100},
    UnitStyle{"%", "%"},
    UnitStyle{"V", "V"},
    UnitStyle{"ct", "ct"},
    UnitStyle{"of 1", "of 1"},
    UnitStyle{"of 2", "of 2"},
    UnitStyle{"share", "%", 0, 100},
    UnitStyle{"mm", "mm"},
    UnitStyle{"g", "g", 1},
    UnitStyle{"HV", "HV", 0},
    UnitStyle{"N", "N", 0},
    UnitStyle{"N/mm", "N/mm", 0},
    UnitStyle{"MPa", "MPa", 0},
    UnitStyle{"degrees", "\u00B0", 1},
    UnitStyle{"degrees C", "\u00B0C", 0},
    UnitStyle{"Mohs", "Mohs", 1},
    UnitStyle{"grains", "grains", 1},
    UnitStyle{"layers", "", 0},
    UnitStyle{"of its width", "\u00D7 its width", 1},
    UnitStyle{"of its thickness", "\u00D7 its thickness", 1},
    UnitStyle{"of its diameter", "\u00D7 its diameter", 1},
    UnitStyle{"of the blade", "\u00D7 the blade's width", 1},
    UnitStyle{"US sizes", "US sizes", 1},
    UnitStyle{"um", "\u00B5m", 0},
    UnitStyle{"mm2 of gold", "mm\u00B2 of 18K gold", 0},
    UnitStyle{"classes", "classes", 0},
    UnitStyle{"of its yield", "% of its yield", 0, 100},
    UnitStyle{"ug/cm2 a week", "\u00B5g/cm\u00B2 a week"},
};

UnitStyle styleOf(const std::string& unit) {
    const auto* known = std::ranges::find(kUnitStyles, unit, &UnitStyle::unit);
    return known == kUnitStyles.end() ? UnitStyle{unit, unit} : *known;
}

/// A score that is told in words: the word of a number is that at its place, so many places to one.
struct Score {
    std::string_view unit;
    std::array<std::string_view, 4> words;
    double zero, perOne;
};
constexpr std::array kScores{Score{"of 2", {"none", "poor", "fair", "good"}, 0, 2},
                             Score{"classes", {"far too little", "risky", "enough", "ample"}, 2, 1}};

const Score* scoreOf(std::string_view unit) {
    const auto* known = std::ranges::find(kScores, unit, &Score::unit);
    return known == kScores.end() ? nullptr : known;
}

// Whether something is so: 0 or 1.
constexpr std::string_view kYesOrNo = "of 1";

double scoreStep(const Score& score, double value) {
    return std::clamp(std::floor(score.zero + value * score.perOne + 1e-9), 0.0, 3.0);
}

/// Whether limits of yes or no are each one of them.
bool saysYesOrNo(const Finding& finding) {
    const auto is = [](double limit) { return limit == 0 || limit == 1; };
    return is(finding.limit) && is(finding.comfortable);
}

/// Whether the words of a score tell its verdict: they do where the limits lie between two of them.
bool tellsInWords(double value, const std::string& unit, const Finding& finding) {
    if (unit == kYesOrNo) return (value == 0 || value == 1) && saysYesOrNo(finding);
    const Score* score = scoreOf(unit);
    if (score == nullptr) return false;
    const Limit words{scoreStep(*score, finding.limit), scoreStep(*score, finding.comfortable), {}};
    return judged(scoreStep(*score, value), finding.sense, words) ==
           judged(value, finding.sense, {finding.limit, finding.comfortable, {}});
}

std::string scoreWord(double value, const std::string& unit) {
    if (unit == kYesOrNo) return value > 0 ? "yes" : "no";
    const Score& score = *scoreOf(unit);
    return std::string(score.words[static_cast<std::size_t>(scoreStep(score, value))]);
}

Sides sidesOf(const Finding& finding) {
    const Rule* rule = ruleNamed(finding.rule);
    return rule == nullptr ? Sides{} : rule->sides;
}

}  // namespace

int decimalsFor(double value, const Finding& finding, const std::string& unit) {
    constexpr int kMostOfLimits = 6, kMost = 9;
    constexpr double kShareOfLimit = 0.01;
    const UnitStyle style = styleOf(unit);
    const Limit limit{style.factor * finding.limit, style.factor * finding.comfortable, {}};
    const auto ofLimit = [&](double number) {
        int decimals = style.decimals;
        while (decimals < kMostOfLimits &&
               std::abs(base::roundedTo(number, decimals) - number) > kShareOfLimit * std::abs(number))
            ++decimals;
        return decimals;
    };
    int decimals = std::max(ofLimit(limit.limit), ofLimit(limit.comfortable));
    const auto isPlain = [&] {
        const Limit printed{
            base::roundedTo(limit.limit, decimals), base::roundedTo(limit.comfortable, decimals), {}};
        return judged(base::roundedTo(style.factor * value, decimals), finding.sense, printed) ==
               judged(style.factor * value, finding.sense, limit);
    };
    while (decimals < kMost && !isPlain())
        ++decimals;
    return decimals;
}

Figures figures(const Report& report, const Finding& finding) {
    const double value = valueOf(report, finding);
    const std::string& unit = report.measures[finding.measure].unit;
    const double worst = finding.spread ? finding.spread->worst : value;
    if (tellsInWords(value, unit, finding) && tellsInWords(worst, unit, finding)) {
        return {scoreWord(value, unit),
                scoreWord(finding.limit, unit),
                scoreWord(finding.comfortable, unit),
                finding.spread ? scoreWord(worst, unit) : "",
                "",
                "",
                "",
                {}};
    }
    int decimals = std::max(decimalsFor(value, finding, unit), decimalsFor(worst, finding, unit));
    const double factor = styleOf(unit).factor;
    if (finding.across) {
        for (const double limit : {finding.across->limit, finding.across->comfortable})
            decimals = std::max(decimals, decimalsOf(factor * limit, 0, 6));
    }
    return {base::fixed(factor * value, decimals),
            base::fixed(factor * finding.limit, decimals),
            base::fixed(factor * finding.comfortable, decimals),
            finding.spread ? base::fixed(factor * worst, decimals) : "",
            finding.across ? base::fixed(factor * finding.across->limit, decimals) : "",
            finding.across ? base::fixed(factor * finding.across->comfortable, decimals) : "",
            shownUnit(unit),
            sidesOf(finding)};
}

bool isUnit(std::string_view unit) {
    return std::ranges::find(kUnitStyles, unit, &UnitStyle::unit) != kUnitStyles.end();
}

bool isYesOrNo(const std::string& unit) {
    return unit == kYesOrNo;
}

std::string shownUnit(const std::string& unit) {
    return std::string(styleOf(unit).shown);
}

std::string withUnit(const std::string& number, const std::string& unit, const Sides& sides) {
    if (number.empty() || unit.empty()) return number;
    std::string full = number + (unit == "\u00B0" ? "" : " ") + unit;
    if (sides.below.empty() || number.find_first_not_of("-0.") == std::string::npos) return full;
    const bool isBelow = number.front() == '-';
    const std::string side(isBelow ? sides.below : sides.above);
    return full.substr(isBelow ? 1 : 0) + (side.empty() ? "" : " " + side);
}

std::string inFull(const Report& report, const Finding& finding) {
    const Figures printed = figures(report, finding);
    return withUnit(printed.value, printed.unit, printed.sides);
}

std::string inSentence(double value, const Finding& finding, const std::string& unit) {
    if (tellsInWords(value, unit, finding)) return scoreWord(value, unit);
    const double shown = styleOf(unit).factor * value;
    const std::string number =
        base::shortestNumber(base::roundedTo(shown, decimalsFor(value, finding, unit)));
    return withUnit(number, shownUnit(unit), sidesOf(finding));
}

std::vector<std::string> gaugeNames(const Report& report) {
    std::vector<std::string> names;
    for (const Finding& f : report.findings)
        names.push_back(report.measures[f.measure].label);
    const auto tellApart = [&](auto&& what) {
        const std::vector<std::string> before = names;
        for (std::size_t i = 0; i < names.size(); ++i)
            if (std::ranges::count(before, before[i]) > 1) names[i] += what(report.findings[i]);
    };
    tellApart([](const Finding& f) {
        return f.rule == "cut-bite" ? ", to be cut off" : f.rule == "wear-hardness" ? ", to wear" : "";
    });
    tellApart([](const Finding& f) { return f.sense == Sense::AtLeast ? ", at least" : ", at most"; });
    tellApart(
        [&](const Finding& f) { return " (" + std::to_string(report.measures[f.measure].number + 1) + ")"; });
    tellApart([](const Finding& f) { return " (" + f.rule + ")"; });
    return names;
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
