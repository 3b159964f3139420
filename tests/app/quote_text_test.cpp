#include "app/quote_text.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <regex>
#include <sstream>

#include "program.hpp"

namespace bandwright::app {
namespace {

std::string workshop() {
    return std::string(BANDWRIGHT_MODELS) + "/my-workshop.json";
}

/// The sum at the end of the printed line that begins so, in cents; the last such line.
long long printed(const std::string& text, const std::string& begins) {
    long long cents = -1;
    std::istringstream lines(text);
    for (std::string line; std::getline(lines, line);) {
        if (!line.starts_with(begins)) continue;
        std::smatch sum;
        if (std::regex_search(line, sum, std::regex("(-?[0-9]+)\\.([0-9][0-9])$")))
            cents = std::stoll(sum[1]) * 100 + std::stoll(sum[2]);
    }
    EXPECT_NE(cents, -1) << begins << "\n" << text;
    return cents;
}

TEST(QuoteText, AddsUpAgainToTheCent) {
    for (const std::string name : {"harbour", "lantern", "shallows", "orchard-gate", "tide-mill"}) {
        const Outcome outcome =
            run({"quote", sample(name), "--workshop", workshop(), "--date", "2026-11-27", "--internal"});
        ASSERT_EQ(outcome.code, 0) << outcome.err;
        const std::string& text = outcome.out;
        long long products = 0;
        std::istringstream lines(text);
        const std::regex product(
            R"(([0-9.]+) (g|ct|mm|pieces|h) +x +(-?[0-9.]+) +(-?[0-9]+)\.([0-9][0-9])$)");
        for (std::string line; std::getline(lines, line);) {
            std::smatch found;
            if (!std::regex_search(line, found, product)) continue;
            const std::string sum = found[4].str() + found[5].str();
            EXPECT_NEAR(std::stod(found[1]) * std::stod(found[3]), std::stod(sum) / 100, 0.006) << line;
            products += std::stoll(sum);
        }
        EXPECT_EQ(printed(text, "Materials ") + printed(text, "Work "), products) << text;
        EXPECT_EQ(printed(text, "Cost "),
                  printed(text, "Materials ") + printed(text, "Work ") + printed(text, "Waste,"))
            << text;
        EXPECT_EQ(printed(text, "Price before tax"), printed(text, "Cost ") + printed(text, "Margin,"))
            << text;
        EXPECT_EQ(printed(text, "Price before tax"), printed(text, "The ring, made to order"));
        EXPECT_EQ(printed(text, "Total,"), printed(text, "The ring, made to order") + printed(text, "Tax,"));
        EXPECT_NE(text.find("good until 2026-12-27"), std::string::npos);
    }
}

TEST(QuoteText, TheClientSeesNothingOfTheSheet) {
    const std::string client =
        run({"quote", sample("harbour"), "--workshop", workshop(), "--date", "2026-11-27"}).out;
    for (const char* word : {"Margin", "Waste", "Cost", "Work", "hour", "guess"})
        EXPECT_EQ(client.find(word), std::string::npos) << client;
    const auto json = nlohmann::json::parse(
        run({"quote", sample("harbour"), "--workshop", workshop(), "--date", "2026-11-27", "--json"}).out);
    for (const char* key : {"margin", "cost", "work", "material", "waste"})
        EXPECT_FALSE(json.contains(key)) << key;
    EXPECT_EQ(json.at("date"), "2026-11-27");
    EXPECT_NE(client.find(json.at("total").get<std::string>()), std::string::npos);
}

TEST(QuoteText, WithoutAWorkshopNothingHasAPrice) {
    const auto json =
        nlohmann::json::parse(run({"quote", sample("harbour"), "--date", "2026-11-27", "--json"}).out);
    EXPECT_EQ(json.at("total"), "0.00");
    EXPECT_GE(json.at("unpriced").size(), 5U);  // bar, grains, adhesive, tube, stone, work
    EXPECT_TRUE(json.at("until").is_null());
}

TEST(QuoteText, WrongDaysAreRefusedInOneLine) {
    for (const char* date : {"2026-02-30", "27.11.2026", "soon"}) {
        const Outcome outcome = run({"quote", sample("harbour"), "--date", date});
        EXPECT_EQ(outcome.code, 2);
        EXPECT_EQ(outcome.out, "");
        EXPECT_TRUE(outcome.err.starts_with("bandwright: --date: found '" + std::string(date) + "'"))
            << outcome.err;
        EXPECT_EQ(std::ranges::count(outcome.err, '\n'), 1);
    }
}

}  // namespace
}  // namespace bandwright::app
