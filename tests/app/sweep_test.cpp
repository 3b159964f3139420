#include "sweep.hpp"

#include <gtest/gtest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "program.hpp"

namespace bandwright::app {
namespace {

using Values = std::vector<std::string>;

void expectSentence(const Outcome& outcome, const std::string& words) {
    EXPECT_EQ(outcome.code, 2);
    EXPECT_NE(outcome.err.find(words), std::string::npos) << outcome.err;
    EXPECT_EQ(std::ranges::count(outcome.err, '\n'), 1) << outcome.err;
}

TEST(Sweep, RangesHaveBothEndsAndNoRoundingInTheirNumbers) {
    EXPECT_EQ(variedOf("band.width=4:5:0.25").values, (Values{"4", "4.25", "4.5", "4.75", "5"}));
    EXPECT_EQ(variedOf("band.width=0.1:0.7:0.1").values,
              (Values{"0.1", "0.2", "0.3", "0.4", "0.5", "0.6", "0.7"}));
    EXPECT_EQ(variedOf("x=3:1:-1").values, (Values{"3", "2", "1"}));
    EXPECT_EQ(variedOf("x=1:2:5").values, (Values{"1"}));
    EXPECT_EQ(variedOf("finger.size=US 6,US 6 1/2").values, (Values{"US 6", "US 6 1/2"}));
}

TEST(Sweep, WhatIsNoRangeIsRefused) {
    for (const char* typed : {"", "band.width", "=4", "band.width=", "x=1:2", "x=1:2:0", "x=2:1:1", "x=a:b:c",
                              "x=1,,2", "x=0:1e9:0.001", "x=1:2:3:4"})
        EXPECT_THROW(variedOf(typed), base::InputError) << typed;
    EXPECT_THROW(combinations("a", {{"x", {"1"}}, {"x", {"2"}}}), base::InputError);
    const Varied many{"x", Values(1000, "1")};
    EXPECT_THROW(combinations("a", {many, {"y", many.values}}), base::InputError);
}

TEST(Sweep, EveryCombinationComesOnceTheLastFieldFirst) {
    const auto all = combinations("ring", {{"a", {"1", "2"}}, {"b", {"x", "y", "z"}}});
    ASSERT_EQ(all.size(), 6U);
    EXPECT_EQ(all[0].name, "ring-1");
    EXPECT_EQ(all[1].settings, (std::vector<std::pair<std::string, std::string>>{{"a", "1"}, {"b", "y"}}));
    EXPECT_EQ(all[3].settings, (std::vector<std::pair<std::string, std::string>>{{"a", "2"}, {"b", "x"}}));
}

/// RFC 4180, section 2: what holds commas, quotes or line breaks stands in quotes, quotes doubled.
TEST(Sweep, CsvIsQuotedAsRfc4180Has) {
    EXPECT_EQ(csvField("plain text"), "plain text");
    EXPECT_EQ(csvField("a,b"), "\"a,b\"");
    EXPECT_EQ(csvField("a \"b\""), "\"a \"\"b\"\"\"");
}

/// The table says of each ring what check says of the design file that it writes.
TEST(Sweep, SaysWhatCheckSaysOfEachRing) {
    const ScratchFolder folder;
    const Outcome swept = run({"sweep", sample("shallows"), "--vary", "band.thickness=1.9:3.1:0.6", "--vary",
                               "finger.size=US 7,UK P", "--json", "-o", folder / "{}.ring.json"});
    ASSERT_EQ(swept.code, 0) << swept.err;
    std::istringstream lines(swept.out);
    std::size_t rings = 0;
    std::set<std::string> verdicts;
    for (std::string text; std::getline(lines, text); ++rings) {
        const auto line = nlohmann::json::parse(text);
        const std::string file = folder / (line.at("file").get<std::string>() + ".ring.json");
        const auto told = nlohmann::json::parse(run({"check", file, "--json"}).out);
        EXPECT_EQ(line.at("verdict"), told.at("verdict")) << text;
        verdicts.insert(line["verdict"]);
        const auto design = nlohmann::json::parse(readFile(file));
        EXPECT_EQ(design.at("finger").at("size"), line.at("set").at("finger.size"));
        for (const auto& measure : told.at("measures")) {
            if (measure.at("id") != "ring-mass" || measure.at("stage") != "finished") continue;
            EXPECT_NEAR(measure.at("value").get<double>(), line.at("ring-mass-g").get<double>(), 1e-6);
        }
    }
    EXPECT_EQ(rings, 6U);
    EXPECT_GT(verdicts.size(), 1U);
}

TEST(Sweep, EachColumnIsOfTheFieldAboveIt) {
    const Outcome swept =
        run({"sweep", sample("shallows"), "--vary", "band.width=8:9:1", "--vary", "band.thickness=3,4"});
    std::istringstream lines(swept.out);
    std::vector<std::string> rows;
    for (std::string row; std::getline(lines, row);)
        rows.push_back(row.substr(0, row.find(',', row.find(',', row.find(',') + 1) + 1)));
    EXPECT_EQ(rows, (Values{"ring,band.width,band.thickness", "shallows-1,8,3", "shallows-2,8,4",
                            "shallows-3,9,3", "shallows-4,9,4"}));
}

TEST(Sweep, ARefusedRingIsALineAndAWrongFieldEndsIt) {
    const Outcome swept = run({"sweep", sample("first-frost"), "--vary", "band.width=29:31:1"});
    EXPECT_EQ(swept.code, 0) << swept.err;
    EXPECT_NE(swept.out.find("ring,band.width,verdict"), std::string::npos);
    EXPECT_NE(swept.out.find("first-frost-3,31,refused"), std::string::npos) << swept.out;
    EXPECT_NE(swept.out.find("allowed: 1 to 30 mm"), std::string::npos) << swept.out;
    expectSentence(run({"sweep", sample("first-frost"), "--vary", "band.wdth=4,5"}),
                   "the nearest is 'band.width'");
    expectSentence(run({"sweep", sample("first-frost"), "--vary", "band=4,5"}), "no value at 'band'");
    expectSentence(run({"sweep", sample("first-frost"), "--vary", "band.width=4,5", "-o", "one.ring.json"}),
                   "{}");
    expectSentence(run({"sweep", sample("first-frost")}), "--vary");
}

}  // namespace
}  // namespace bandwright::app
