#include "trade/ring_size.hpp"

#include <gtest/gtest.h>
#include <rapidcheck/gtest.h>

#include <clocale>
#include <cmath>
#include <numbers>
#include <set>
#include <string>
#include <tuple>
#include <vector>

#include "base/input_error.hpp"
#include "contains.hpp"

namespace bandwright::trade {
namespace {

constexpr double kPi = std::numbers::pi;
constexpr double kPrintedTo01 = 0.05 + 1e-9;    // half of the last digit of a figure printed to 0.1
constexpr double kPrintedTo001 = 0.005 + 1e-9;  // and to 0.01

std::string sizeRefusal(std::string_view text) {
    try {
        const RingSize size = parseRingSize(text);
        return "read as " + formatRingSize(size);
    } catch (const base::InputError& error) {
        return error.what();
    }
}

// ---------------------------------------------------------------- published tables

// Wikipedia, "Ring size", and the just-color.com chart: diameter and circumference, mm.
TEST(RingSizeTables, UsSizesHaveThePublishedDiameterAndCircumference) {
    const std::tuple<double, double, double> rows[] = {
        {0, 11.63, 36.5}, {1, 12.45, 39.1}, {2, 13.26, 41.7}, {3, 14.07, 44.2},   {4, 14.88, 46.8},
        {5, 15.70, 49.3}, {6, 16.51, 51.9}, {7, 17.32, 54.4}, {7.5, 17.73, 55.7}, {8, 18.14, 57.0}};
    for (const auto& [us, diameter, circumference] : rows) {
        const double found = innerDiameter({SizeSystem::Us, us});
        EXPECT_NEAR(found, diameter, kPrintedTo001) << "US " << us;
        EXPECT_NEAR(found * kPi, circumference, kPrintedTo01) << "US " << us;
    }
}

// Copy of Wikipedia, "Ring size": ISO size and inner diameter, mm.
TEST(RingSizeTables, IsoSizesHaveThePublishedDiameter) {
    const std::pair<double, double> rows[] = {{49, 15.6}, {52, 16.6}, {54, 17.2}, {57, 18.1},
                                              {60, 19.1}, {65, 20.7}, {70, 22.3}, {72, 22.9}};
    for (const auto& [iso, diameter] : rows) {
        EXPECT_NEAR(innerDiameter({SizeSystem::Iso, iso}), diameter, kPrintedTo01) << "ISO " << iso;
    }
}

// BS 6820:1987 as given by GNU Units, definitions.units: circumference, mm.
TEST(RingSizeTables, UkLettersHaveTheCircumferenceOfTheStandard) {
    const std::pair<const char*, double> rows[] = {
        {"UK A", 37.5},  {"UK C", 40.0},  {"UK F", 43.75}, {"UK L", 51.25},   {"UK N", 53.75},
        {"UK R", 58.75}, {"UK V", 63.75}, {"UK Z", 68.75}, {"UK A½", 38.125}, {"UK Z+1", 70.0}};
    for (const auto& [letter, circumference] : rows) {
        EXPECT_NEAR(innerDiameter(parseRingSize(letter)) * kPi, circumference, 1e-9) << letter;
    }
}

// GNU Units, definitions.units: traditional Japanese number and diameter, mm.
TEST(RingSizeTables, JapaneseNumbersHaveThePublishedDiameter) {
    const std::pair<double, double> rows[] = {{1, 13.00},  {5, 14.33},  {9, 15.67}, {12, 16.67},
                                              {16, 18.00}, {20, 19.33}, {25, 21.00}};
    for (const auto& [number, diameter] : rows) {
        EXPECT_NEAR(innerDiameter({SizeSystem::Japan, number}), diameter, kPrintedTo001) << "JP " << number;
    }
}

// Worked out by hand from the published formulas, each system's own rounding: US, ISO, UK, Japan,
// Switzerland.
TEST(RingSizeTables, OneFingerIsNamedInEverySystem) {
    const std::tuple<double, const char*, const char*, const char*, const char*> rows[] = {
        {3, "ISO 44", "UK F½", "JP 4", "CH 4.25"},    {4, "ISO 47", "UK H½", "JP 7", "CH 6.75"},
        {5, "ISO 49", "UK J½", "JP 9", "CH 9.25"},    {6, "ISO 52", "UK L½", "JP 12", "CH 11.75"},
        {7, "ISO 54", "UK N½", "JP 14", "CH 14.5"},   {8, "ISO 57", "UK P½", "JP 16", "CH 17"},
        {9, "ISO 60", "UK R½", "JP 19", "CH 19.5"},   {10, "ISO 62", "UK T½", "JP 21", "CH 22"},
        {11, "ISO 65", "UK V½", "JP 24", "CH 24.75"}, {12, "ISO 67", "UK Y", "JP 26", "CH 27.25"},
        {13, "ISO 70", "UK Z+1", "JP 29", "CH 29.75"}};
    for (const auto& [us, iso, uk, japan, swiss] : rows) {
        const RingSize size{SizeSystem::Us, us};
        EXPECT_EQ(formatRingSize(convert(size, SizeSystem::Iso)), iso) << "US " << us;
        EXPECT_EQ(formatRingSize(convert(size, SizeSystem::Uk)), uk) << "US " << us;
        EXPECT_EQ(formatRingSize(convert(size, SizeSystem::Japan)), japan) << "US " << us;
        EXPECT_EQ(formatRingSize(convert(size, SizeSystem::Swiss)), swiss) << "US " << us;
    }
}

TEST(RingSizeTables, HalfwayGoesToTheLargerSize) {
    EXPECT_EQ(formatRingSize(convert(parseRingSize("UK A"), SizeSystem::Iso)), "ISO 38");     // 37.5 mm
    EXPECT_EQ(formatRingSize(convert(parseRingSize("UK F½"), SizeSystem::Swiss)), "CH 4.5");  // 44.375 mm
    EXPECT_EQ(formatRingSize(convert({SizeSystem::Us, 9.125}, SizeSystem::Us)), "US 9 1/4");
}

TEST(RingSizeTables, EverySystemStatesItsRuleSourceAndRounding) {
    std::set<std::string_view> names;
    for (const SizeRule& rule : sizeRules()) {
        EXPECT_EQ(&sizeRule(rule.system), &rule) << rule.name;
        EXPECT_FALSE(rule.rule.empty()) << rule.name;
        EXPECT_FALSE(rule.source.empty()) << rule.name;
        EXPECT_FALSE(rule.rounding.empty()) << rule.name;
        EXPECT_GT(rule.step, 0) << rule.name;
        names.insert(rule.name);
    }
    EXPECT_EQ(names.size(), 7U);
}

// ---------------------------------------------------------------- reading

// What people type, and the size or the sentence it has to come to. Where systems disagree about a number, it
// is asked for: US 9 is 18.95 mm across, JP 9 15.67 and CH 9 15.60 by the rules above. Trade pages give
// French sizes both as the circumference and as that less 40 mm.
TEST(RingSizeReading, TakesWhatPeopleType) {
    const std::pair<const char*, const char*> rows[] = {
        // US and Canada
        {"US 9.5", "US 9 1/2"},
        {"us9.5", "US 9 1/2"},
        {"US 9 1/2", "US 9 1/2"},
        {"US 9-1/2", "US 9 1/2"},
        {"US9½", "US 9 1/2"},
        {"  us   9 ½ ", "US 9 1/2"},
        {"US 9,5", "US 9 1/2"},
        {"US 9 and a half", "US 9 1/2"},
        {"U.S. 9", "US 9"},
        {"9 US", "US 9"},
        {"US size 9", "US 9"},
        {"US #9", "US 9"},
        {"Ring size: US 9¼", "US 9 1/4"},
        {"size US 9¾", "US 9 3/4"},
        {"US .5", "US 1/2"},
        {"US 9.3", "US 9.3"},
        {"US 1/2", "US 1/2"},
        {"US 0", "US 0"},
        {"0", "US 0"},
        {"Canada 6", "US 6"},
        {"Mexico 7", "US 7"},
        // UK, Ireland, Australia, New Zealand
        {"UK R½", "UK R½"},
        {"uk r 1/2", "UK R½"},
        {"U.K. Q", "UK Q"},
        {"Q 1/2", "UK Q½"},
        {"Q½", "UK Q½"},
        {"Q.5", "UK Q½"},
        {"Q,5", "UK Q½"},
        {"Q-1/2", "UK Q½"},
        {"Q and a half", "UK Q½"},
        {"r", "UK R"},
        {"size P", "UK P"},
        {"UK Z+1", "UK Z+1"},
        {"z + 1 1/2", "UK Z+1½"},
        {"Z½", "UK Z½"},
        {"AU N", "UK N"},
        {"Australian size T 1/2", "UK T½"},
        {"NZ L", "UK L"},
        // the circumference: ISO 8653, Europe
        {"ISO 60", "ISO 60"},
        {"iso60", "ISO 60"},
        {"ISO 8653-60", "ISO 60"},
        {"ISO 8653:60", "ISO 60"},
        {"60", "ISO 60"},
        {"size 54", "ISO 54"},
        {"54.5", "54.5 mm circumference"},
        {"FR 52", "ISO 52"},
        {"French 52 3/4", "52.75 mm circumference"},
        {"EU 54", "ISO 54"},
        {"DE 54", "ISO 54"},
        {"59.5 mm circumference", "59.5 mm circumference"},
        {"circumference 59.5 mm", "59.5 mm circumference"},
        {"59,5 mm round", "59.5 mm circumference"},
        {"2 1/4 in around", "57.15 mm circumference"},
        // Japan, Switzerland, Italy, Spain
        {"JP 18", "JP 18"},
        {"Japan 18", "JP 18"},
        {"JP #12", "JP 12"},
        {"CH 19.5", "CH 19.5"},
        {"CH 19½", "CH 19.5"},
        {"it 14", "CH 14"},
        {"Italian size 14", "CH 14"},
        {"ES 12", "CH 12"},
        // the diameter
        {"18.95 mm", "18.95 mm"},
        {"18.95mm", "18.95 mm"},
        {"19,1 mm", "19.1 mm"},
        {"18.95", "18.95 mm"},
        {"0.746 in", "18.948 mm"},
        {"0.746\"", "18.948 mm"},
        {"3/4 in", "19.05 mm"},
        {"49/64 in", "19.447 mm"},
        {"57/3.14 mm", "18.153 mm"},
        {"3/4 in + 0.1 mm", "19.15 mm"},
        {"Ø 18.95 mm", "18.95 mm"},
        {"Ø18.95", "18.95 mm"},
        {"inner diameter 18.95", "18.95 mm"},
        {"19 mm across", "19 mm"},
        {"DE 17.25", "17.25 mm"},
    };
    EXPECT_GE(std::size(rows), 70U);
    for (const auto& [typed, meant] : rows)
        EXPECT_EQ(sizeRefusal(typed), std::string("read as ") + meant) << typed;
}

TEST(RingSizeReading, AsksWhereSystemsDisagree) {
    const std::tuple<const char*, std::vector<const char*>> rows[] = {
        {"9", {"US 9 (18.95 mm across)", "JP 9 (15.67 mm across)", "CH 9 (15.60 mm across)", "write which"}},
        {"size 9", {"US 9 (", "JP 9 (", "CH 9 ("}},
        {"9.5", {"US 9 1/2 (19.35 mm across) or CH 9.5 (15.76 mm across)", "write which"}},
        {"9 1/2", {"US 9 1/2 (", "CH 9.5 ("}},
        {"9½", {"US 9 1/2 (", "CH 9.5 ("}},
        {"#9", {"US 9 (", "JP 9 ("}},
        {"16", {"US 16 (24.64 mm across)", "JP 16 (18.00", "CH 16 (17.83", "or 16 mm across"}},
        {"20", {"JP 20 (19.33 mm across), CH 20 (19.10 mm across) or 20 mm across"}},
        {"18.5", {"CH 18.5 (18.62 mm across) or 18.5 mm across"}},
        {"FR 14", {"some shops write it less 40 mm", "CH 14 (17.19 mm across)", "FR 54"}},
        {"NL 17", {"CH 17 (18.14 mm across)", "17 mm across", "write 'CH' or 'mm'"}},
        {"60 mm", {"60.00 mm; 8 to 40 mm is allowed", "for the way round", "'60 mm circumference'"}},
    };
    for (const auto& [typed, told] : rows) {
        for (const char* words : told)
            EXPECT_TRUE(contains(sizeRefusal(typed), words)) << typed << ": " << sizeRefusal(typed);
    }
}

// A person who turns a US 8 into "9" means US 9; the field shows what was taken.
TEST(RingSizeReading, TakesANumberAloneInTheSystemThatIsExpected) {
    const auto read = [](const char* typed, SizeSystem expected) {
        return formatRingSize(parseRingSize(typed, expected));
    };
    EXPECT_EQ(read("9", SizeSystem::Us), "US 9");
    EXPECT_EQ(read("9", SizeSystem::Japan), "JP 9");
    EXPECT_EQ(read("9.5", SizeSystem::Swiss), "CH 9.5");
    EXPECT_EQ(read("20", SizeSystem::Diameter), "20 mm");
    EXPECT_EQ(read("UK R", SizeSystem::Us), "UK R");
    EXPECT_EQ(read("60", SizeSystem::Us), "ISO 60");
    EXPECT_THROW(parseRingSize("20", SizeSystem::Us), base::InputError);
    EXPECT_THROW(parseRingSize("9.5", SizeSystem::Japan), base::InputError);
}

TEST(RingSizeReading, RefusesWhatIsNoSizeAndSaysWhatIsAllowed) {
    const std::pair<std::string, const char*> rows[] = {
        {"", "missing"},
        {"   ", "missing"},
        {"US", "missing"},
        {"US R", "numbers such as"},
        {"US -4", "numbers such as"},
        {"US 9 3/0", "numbers such as"},
        {"US 9 1/2 1/2", "numbers such as"},
        {"US nan", "numbers such as"},
        {"US inf", "numbers such as"},
        {"US 1e999", "numbers such as"},
        {"FR R", "numbers such as"},
        {"UK 9", "a letter"},
        {"UK R+1", "a letter"},
        {"UK R 1/3", "a letter"},
        {"UK R1", "a letter"},
        {"UK RR", "a letter"},
        {"UK Z+", "a letter"},
        {"US 9 UK R", "two systems"},
        {"FR IT 52", "two systems"},
        {"9.3", "no system has a finger"},
        {"98", "no system has a finger"},
        {"-9", "is no size"},
        {"ukr½", "names no system"},
        {"XL", "names no system"},
        {"hello", "names no system"},
        {"18.95 furlong", "is not a unit"},
        {"1,2,3 mm", "not a unit"},
        {"7.9 mm", "8 to 40 mm is allowed"},
        {"40.1 mm", "8 to 40 mm is allowed"},
        {"0 mm", "8 to 40 mm is allowed"},
        {"-18 mm", "8 to 40 mm is allowed"},
        {"300 mm", "8 to 40 mm is allowed"},
        {"ISO 5", "8 to 40 mm is allowed"},
        {"US 99", "92.10 mm"},
        {"JP 0", "the smallest is JP 1"},
        {std::string(101, '9'), "longer than 100"},
    };
    for (const auto& [typed, why] : rows)
        EXPECT_TRUE(contains(sizeRefusal(typed), why)) << sizeRefusal(typed);
}

TEST(RingSizeReading, DoesNotDependOnTheLocale) {
    const std::string before = std::setlocale(LC_ALL, nullptr);
    for (const char* comma : {"de_DE.UTF-8", "fr_FR.UTF-8", "de_CH.UTF-8"})
        std::setlocale(LC_ALL, comma);
    EXPECT_EQ(sizeRefusal("18.95 mm"), "read as 18.95 mm");
    std::setlocale(LC_ALL, before.c_str());
}

// Found by libFuzzer: the number alone kept more decimals than it has with its unit.
TEST(RingSize, ReadsBackAsItIsWrittenHoweverManyDecimals) {
    for (const std::string typed : {"12.220992021541326", "12.220992021541326\u2009", "19.0123456789012345",
                                    "59.512345678901234", "19.0123456789012345 mm", "US 9.123456789012345"}) {
        const RingSize size = parseRingSize(typed);
        EXPECT_EQ(parseRingSize(formatRingSize(size)), size) << typed;
    }
}

TEST(RingSizeReading, SaysBelowWhereASystemHasNoNameForASmallFinger) {
    const RingSize child = parseRingSize("9 mm");
    EXPECT_EQ(formatRingSize(convert(child, SizeSystem::Uk)), "below UK A");
    EXPECT_EQ(formatRingSize(convert(child, SizeSystem::Us)), "below US 0");
    EXPECT_EQ(formatRingSize(convert(child, SizeSystem::Japan)), "below JP 1");
    EXPECT_EQ(formatRingSize(convert(child, SizeSystem::Iso)), "ISO 28");
}

// ---------------------------------------------------------------- laws

/// A marked size of any system between 13.5 and 39 mm, where every system has names.
RingSize anyMarkedSize() {
    const auto system = static_cast<SizeSystem>(*rc::gen::inRange(0, 7));
    const double diameter = *rc::gen::inRange(13500, 39000) / 1000.0;
    return convert({SizeSystem::Diameter, diameter}, system);
}

RC_GTEST_PROP(RingSizeLaws, WhatIsWrittenIsReadAsTheSameSize, ()) {
    const RingSize size = anyMarkedSize();
    RC_ASSERT(parseRingSize(formatRingSize(size)) == size);
}

RC_GTEST_PROP(RingSizeLaws, AnyLengthReadsBackToTheLastBit, ()) {
    const RingSize size{SizeSystem::Diameter, *rc::gen::inRange(8'000'000, 40'000'000) / 1e6};
    RC_ASSERT(parseRingSize(formatRingSize(size)) == size);
}

RC_GTEST_PROP(RingSizeLaws, RoundingIsWithinHalfAStepAndDoneOnce, ()) {
    const RingSize size{SizeSystem::Diameter, *rc::gen::inRange(8000, 40000) / 1000.0};
    const auto to = static_cast<SizeSystem>(*rc::gen::inRange(0, 7));
    const RingSize near = convert(size, to);
    const double stepInMm = innerDiameter({to, near.value + sizeRule(to).step}) - innerDiameter(near);
    RC_ASSERT(std::abs(innerDiameter(near) - innerDiameter(size)) <= stepInMm / 2 + 1e-8);
    RC_ASSERT(convert(near, to) == near);
}

RC_GTEST_PROP(RingSizeLaws, ALargerFingerIsNeverNamedSmaller, ()) {
    const double small = *rc::gen::inRange(8000, 40000) / 1000.0;
    const double large = *rc::gen::inRange(8000, 40000) / 1000.0;
    const auto to = static_cast<SizeSystem>(*rc::gen::inRange(0, 7));
    RC_PRE(small <= large);
    RC_ASSERT(convert({SizeSystem::Diameter, small}, to).value <=
              convert({SizeSystem::Diameter, large}, to).value);
}

RC_GTEST_PROP(RingSizeLaws, AnyTextIsReadOrRefusedInOneLine, ()) {
    const auto pieces = *rc::gen::container<std::vector<std::string>>(rc::gen::elementOf(
        std::vector<std::string>{"us", "uk", "iso", "z",  "R",  "9",  ".",    "1/2", "½", " ",
                                 "+",  "-",  "mm",  "in", "\"", "\n", "\xc2", "Ø",   "(", "e9"}));
    std::string text;
    for (const std::string& piece : pieces)
        text += piece;
    try {
        const double diameter = innerDiameter(parseRingSize(text));
        RC_ASSERT(diameter >= kLeastInnerDiameter && diameter <= kMostInnerDiameter);
    } catch (const base::InputError& error) {
        RC_ASSERT(std::string(error.what()).find('\n') == std::string::npos);
    }
}

// ---------------------------------------------------------------- width

// Shop advice, no standard: half a US size more from 5 mm on, a quarter to a half less for a comfort bore.
TEST(WidthCorrections, AreOfferedForWideBandsAndComfortBores) {
    EXPECT_TRUE(offeredWidthCorrections({.bandWidth = 4.9}).empty());

    const auto wide = offeredWidthCorrections({.bandWidth = 5});
    ASSERT_EQ(wide.size(), 1U);
    const double halfUsSize = innerDiameter({SizeSystem::Us, 9.5}) - innerDiameter({SizeSystem::Us, 9});
    EXPECT_NEAR(wide[0].least, halfUsSize, 1e-12);
    EXPECT_NEAR(wide[0].most, halfUsSize, 1e-12);
    EXPECT_TRUE(contains(std::string(wide[0].source), "common practice"));

    const auto both = offeredWidthCorrections({.bandWidth = 8, .comfortBore = true});
    ASSERT_EQ(both.size(), 2U);
    EXPECT_NEAR(both[1].least, -halfUsSize, 1e-12);
    EXPECT_NEAR(both[1].most, -halfUsSize / 2, 1e-12);
}

}  // namespace
}  // namespace bandwright::trade
