#include "check/figures.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <regex>
#include <set>

#include "cases.hpp"
#include "check/mend.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "drawn_design.hpp"
#include "plain_ring.hpp"
#include "random_design.hpp"
#include "rules.hpp"

namespace bandwright::check {
namespace {

/// The place of a score's word, from the worst; -1 for a number.
int wordPlace(const std::string& text) {
    if (text == "no" || text == "yes") return text == "yes" ? 1 : 0;
    for (const std::vector<std::string>& words :
         {std::vector<std::string>{"none", "poor", "fair", "good"},
          std::vector<std::string>{"far too little", "risky", "enough", "ample"}}) {
        const auto found = std::ranges::find(words, text);
        if (found != words.end()) return static_cast<int>(found - words.begin());
    }
    return -1;
}

double readNumber(const std::string& text) {
    return wordPlace(text) < 0 ? std::stod(text) : wordPlace(text);
}

/// What a person who sees only the printed numbers or words concludes.
Verdict readOff(const std::string& value, const Finding& finding, const Figures& figures) {
    const double good = finding.sense == Sense::AtLeast ? 1 : -1;
    const double v = good * readNumber(value);
    if (v < good * readNumber(figures.limit)) return Verdict::NoGo;
    return v < good * readNumber(figures.comfortable) ? Verdict::Marginal : Verdict::Go;
}

/// The numbers of "Make ... 1.8 mm instead of 2 mm and ... : ...", or, where nothing is left to judge, of
/// "Make
/// ... 1 instead of 2.".
void checkRemedy(const design::Design& design, const Remedy& remedy) {
    std::string rest = remedy.text.substr(5);
    ASSERT_TRUE(remedy.text.starts_with("Make ")) << remedy.text;
    for (const Change& change : remedy.changes) {
        const auto field = design::fieldAt(design, change.field);
        ASSERT_TRUE(field.has_value()) << change.field;
        static const std::regex pattern(
            " (-?[0-9.]+(?:e-?[0-9]+)?)( [^ ,:]+)? instead of (-?[0-9.]+(?:e-?[0-9]+)?)( [^ ,:]+)?"
            "(: .+\\.|, .+| and .+|\\.)");
        ASSERT_TRUE(rest.starts_with(field->phrase)) << rest << " is not of " << field->phrase;
        rest.erase(0, field->phrase.size());
        std::smatch match;
        ASSERT_TRUE(std::regex_match(rest, match, pattern)) << rest;
        EXPECT_NE(match[1], match[3]) << remedy.text;
        // A person who types the remedy's number gets the result it promises.
        const double factor = design::shownFactor(field->number.unit);
        EXPECT_NEAR(std::stod(match[1]) / factor, change.to, 1e-9) << remedy.text;
        EXPECT_NEAR(std::stod(match[3]) / factor, change.from, field->number.grid / 100) << remedy.text;
        const std::string tail = match[5];
        rest =
            tail.substr(std::min(tail.size(), tail.starts_with(" and ") ? std::size_t{5} : std::size_t{2}));
    }
}

void checkReport(const design::Design& design, const Report& report) {
    for (const Finding& f : report.findings) {
        SCOPED_TRACE(f.rule);
        const Figures printed = figures(report, f);
        EXPECT_EQ(readOff(printed.value, f, printed), f.verdict) << printed.value << ' ' << printed.limit;
        if (wordPlace(printed.value) < 0) {
            // A limit to a hundredth of itself, a share in percent.
            const double factor =
                printed.unit.starts_with("%") && report.measures[f.measure].unit != "%" ? 100 : 1;
            EXPECT_NEAR(std::stod(printed.limit), factor * f.limit, 0.01 * std::abs(factor * f.limit));
            EXPECT_NEAR(std::stod(printed.comfortable), factor * f.comfortable,
                        0.01 * std::abs(factor * f.comfortable));
        }
        for (const Remedy& remedy : f.remedies)
            if (!remedy.changes.empty()) checkRemedy(design, remedy);
    }
}

TEST(Figures, HaveTheDigitsThatShowWhyAVerdictFell) {
    Finding finding;
    finding.limit = 0.5;
    finding.comfortable = 0.6;
    EXPECT_EQ(decimalsFor(0.55, finding), 2);
    EXPECT_EQ(decimalsFor(7.123456, finding), 2);
    EXPECT_EQ(decimalsFor(0.4996, finding), 4);
    EXPECT_EQ(decimalsFor(0.59999, finding), 5);
    finding.limit = 0.003;
    finding.comfortable = 0.0035;
    EXPECT_EQ(decimalsFor(2, finding), 4);
}

TEST(Figures, HaveTheUnitsAndDigitsOfTheTrade) {
    Report report;
    const auto printed = [&](double value, const char* unit, double limit, double comfortable) {
        Measure measure;
        measure.value = value;
        measure.unit = unit;
        report.measures = {measure};
        Finding finding;
        finding.limit = limit;
        finding.comfortable = comfortable;
        return inFull(report, finding);
    };
    EXPECT_EQ(printed(0.6, "", 0.4, 0.5), "60 %");
    EXPECT_EQ(printed(340, "HV", 25, 60), "340 HV");
    EXPECT_EQ(printed(437.87, "N", 50, 75), "438 N");
    EXPECT_EQ(printed(4.712, "degrees", 31, 20), "4.7\u00B0");
    EXPECT_EQ(printed(82, "degrees C", 40, 45), "82 \u00B0C");
    EXPECT_EQ(printed(3.333, "grains", 2, 3), "3.3 grains");
    EXPECT_EQ(printed(0.003, "mm", 0, 0.003), "0.003 mm");
    EXPECT_EQ(printed(0.25, "of its width", 3, 2), "0.2 \u00D7 its width");
    EXPECT_EQ(printed(-1, "classes", -1, 0), "risky");
    EXPECT_EQ(printed(0.5, "classes", -1, 0), "enough");
    EXPECT_EQ(printed(0.2032, "mm", 0.4064, 0.5), "0.20 mm");
    // Where the usual digits would hide the verdict there are more.
    EXPECT_EQ(printed(24.9, "HV", 25, 60), "24.9 HV");
    // A score is a word, on the side of the limits' words that its verdict is on.
    EXPECT_EQ(printed(0.8, "of 2", 0.5, 1), "poor");
    EXPECT_EQ(printed(1, "of 2", 0.5, 1), "fair");
    EXPECT_EQ(printed(0.4, "of 2", 0.5, 1), "none");
    EXPECT_EQ(printed(2, "of 2", 0.5, 1), "good");
    EXPECT_EQ(printed(1, "of 1", 0, 1), "yes");
    EXPECT_EQ(printed(0, "of 1", 0, 1), "no");
    EXPECT_EQ(printed(0.42, "of its yield", 0.8, 0.6), "42 % of its yield");
    // A maker's own limit between two words needs the number.
    EXPECT_EQ(printed(0.8, "of 2", 0.9, 1), "0.80 of 2");
}

TEST(Figures, SayOnWhichSideOfNothingANumberLies) {
    EXPECT_EQ(withUnit("-0.16", "mm", {"proud", "sunk"}), "0.16 mm sunk");
    EXPECT_EQ(withUnit("0.30", "mm", {"proud", "sunk"}), "0.30 mm proud");
    EXPECT_EQ(withUnit("0.00", "mm", {"proud", "sunk"}), "0.00 mm");
    EXPECT_EQ(withUnit("-4.0", "\u00B0", {"outwards", "inwards"}), "4.0\u00B0 inwards");
    EXPECT_EQ(withUnit("-0.02", "mm", {"", "too tight"}), "0.02 mm too tight");
    EXPECT_EQ(withUnit("0.02", "mm", {"", "too tight"}), "0.02 mm");
    EXPECT_EQ(withUnit("-0.02", "mm"), "-0.02 mm");
    // The girdle of the usual stone lies below the outside.
    design::Design design = plainRing();
    design.settings = {design::Setting{}};
    const Report report = checked(design);
    const Finding& girdle = *findingOf(report, "girdle-proud");
    ASSERT_LT(report.measures[girdle.measure].value, 0);
    EXPECT_TRUE(inFull(report, girdle).ends_with(" mm sunk")) << inFull(report, girdle);
    EXPECT_EQ(inFull(report, girdle).find('-'), std::string::npos);
}

TEST(Figures, GaugesOfOneListAreNeverNamedAlike) {
    std::uint64_t tried = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(300); ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        ++tried;
        const Report report = checked(*design);
        const std::vector<std::string> names = gaugeNames(report);
        ASSERT_EQ(names.size(), report.findings.size());
        std::set<std::string> once(names.begin(), names.end());
        EXPECT_EQ(once.size(), names.size()) << seed;
    }
    EXPECT_GT(tried, 50U);
}

TEST(Figures, OfEveryRuleJustInsideAndOutsideItsLimitsTellTheVerdict) {
    for (const Case& c : cases()) {
        for (const double limit : {c.limit, c.comfortable}) {
            for (const double off : {1e-5, 3e-4, 0.02}) {
                for (const double side : {-1.0, 1.0}) {
                    const double value = limit + side * off;
                    SCOPED_TRACE(c.rule + " at " + std::to_string(value));
                    const design::Design design = c.with(value);
                    checkReport(design, check(design, c.catalogue(value), {.remedies = false}));
                }
            }
        }
    }
}

TEST(Figures, OfEveryRulesRemedyTellTheOldNumberFromTheNew) {
    int remedied = 0;
    // By thousandths too: then the number to be changed lies between what a maker can read off.
    constexpr std::array kOffsets{0.003, 0.0004, 0.03};
    const std::vector<Case> all = cases();
    const std::size_t each = geometry::oneIn(80, 16);  // no multiple of three: each offset has its turn
    for (std::size_t i = 0; i < all.size() * kOffsets.size(); i += each) {
        const Case& c = all[i / kOffsets.size()];
        const double off = kOffsets[i % kOffsets.size()];
        const double value = c.limit - (c.most ? -off : off);
        SCOPED_TRACE(c.rule + " at " + std::to_string(value));
        const design::Design design = c.with(value);
        const Report report = check(design, c.catalogue(value));
        checkReport(design, report);
        for (const Finding& f : report.findings)
            remedied += f.remedies.empty() ? 0 : 1;
    }
    EXPECT_GT(remedied, geometry::inHaste() ? 2 : 20);
}

TEST(Figures, OfDesignsDrawnByLotTellTheVerdict) {
    std::uint64_t tried = 0;
    for (std::uint64_t seed = 0; seed < geometry::designsToDraw(300); ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        SCOPED_TRACE("seed " + std::to_string(seed));
        // Seeking remedies costs many checks.
        const bool withRemedies = ++tried % geometry::oneIn(20, 60) == 0 && !takesLongToMend(*design);
        checkReport(*design, check(*design, trade::builtInCatalogue(), {.remedies = withRemedies}));
    }
    EXPECT_GT(tried, 50U);
}

TEST(Figures, OfALimitOfAFewMicrometresAreNotNothing) {
    // The maker's own: truing may take 0.003 mm off a deep etch, and takes 0.002.
    design::Design design = plainRing();
    for (const trade::Metal& metal : trade::builtInCatalogue().metals)
        if (trade::isPatternWelded(metal)) design.band.metal = metal.id;
    design.allowances.truing = 0.002;
    design.band.layers.etch = 0.02;
    design.route = design::movedBefore(design.route, design::Stage::Etched, design::Stage::Trued);
    design.route = design::movedBefore(design.route, design::Stage::Sized, design::Stage::Etched);
    trade::Catalogue catalogue = trade::builtInCatalogue();
    catalogue.limits = {{"etch-cut", "", 0.003, 0.001, "the maker's own: deep etch", ""}};
    const Report report = check(design, catalogue);
    checkReport(design, report);
    const auto cut = std::ranges::find(report.findings, "etch-cut", &Finding::rule);
    ASSERT_NE(cut, report.findings.end());
    EXPECT_EQ(cut->verdict, Verdict::Marginal);
    EXPECT_EQ(figures(report, *cut).limit, "0.003");
    EXPECT_EQ(figures(report, *cut).comfortable, "0.001");
}

TEST(Figures, OfWhatMendingChangedTellTheOldNumberFromTheNew) {
    for (std::uint64_t seed = 0; seed < 6; ++seed) {
        const auto design = drawn(seed);
        if (!design || takesLongToMend(*design)) continue;
        for (const Mending& m : mend(*design, trade::builtInCatalogue(), usualWishes()).changes) {
            const std::string text = changeText(m.change, design::fieldAt(*design, m.change.field)->number);
            const std::size_t middle = text.find(" instead of ");
            ASSERT_NE(middle, std::string::npos) << text;
            EXPECT_NE(std::stod(text), std::stod(text.substr(middle + 12))) << text;
        }
    }
}

TEST(Units, OfMeasuresAndLimitsAreAllKnown) {
    for (const Rule& rule : rules())
        EXPECT_TRUE(isUnit(rule.unit)) << rule.id << " in '" << rule.unit << "'";
    for (std::uint64_t seed = 0; seed < 60; ++seed) {
        const auto design = drawn(seed);
        if (!design) continue;
        for (const Measure& measure : check(*design, trade::builtInCatalogue(), {.remedies = false}).measures)
            EXPECT_TRUE(isUnit(measure.unit)) << measure.id << " in '" << measure.unit << "', seed " << seed;
    }
    EXPECT_FALSE(isUnit("mn"));
}

TEST(Levers, EachTurnANumberOfTheTable) {
    std::size_t levers = 0;
    for (const Rule& rule : rules()) {
        for (const Lever& lever : rule.levers) {
            const design::Field* field = design::fieldNamed(lever.field);
            ASSERT_NE(field, nullptr) << rule.id << ' ' << lever.field;
            EXPECT_TRUE(field->control == design::Control::Thimble ||
                        field->control == design::Control::Count)
                << lever.field;
            EXPECT_GT(field->number.grid, 0) << lever.field;
            EXPECT_EQ(std::abs(lever.direction), 1) << lever.field;
            ++levers;
        }
    }
    EXPECT_GT(levers, 100U);
}

}  // namespace
}  // namespace bandwright::check
