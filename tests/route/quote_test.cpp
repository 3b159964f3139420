#include "route/quote.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

#include "base/input_error.hpp"
#include "base/numbers.hpp"

namespace bandwright::route {
namespace {

using std::chrono::day;
using std::chrono::month;
using std::chrono::year;

const std::chrono::year_month_day kDay{year(2026), month(11), day(27)};

Plan planOf(std::vector<Quantity> items, std::vector<StageWork> stages) {
    Plan plan;
    plan.quantities.items = std::move(items);
    plan.stages = std::move(stages);
    return plan;
}

StageWork hours(design::Stage stage, double count, bool own) {
    StageWork work;
    work.stage = stage;
    work.hours = count;
    work.ownHours = own;
    return work;
}

TEST(Quote, AddsUpByHand) {
    // Worked out on paper: 24.64 g at 0.12 = 2.96, 0.84 g at 1.50 = 1.26, 0.19 ct at 300 = 57.00: 61.22;
    // waste a tenth 6.12; 0.5 h and 1.5 h at 45 = 22.50 + 67.50 = 90.00; cost 157.34; a quarter 39.34
    // (39.335); 196.68; a fifth 39.34 (39.336); 236.02.
    trade::Workshop workshop;
    workshop.currency = "EUR";
    workshop.prices = {{"titanium-grade-5", 0.12, trade::PriceUnit::Gram},
                       {"crushed-opal", 1.5, trade::PriceUnit::Gram},
                       {"emerald", 300, trade::PriceUnit::Carat}};
    workshop.hourlyRate = 45;
    workshop.waste = 10;
    workshop.margin = 25;
    workshop.tax = 20;
    workshop.quoteDays = 30;
    const Plan plan =
        planOf({{"Bar", "titanium-grade-5", 24.64, "g", 0, ""},
                {"Bar", "titanium-grade-5", 11, "mm", 0, ""},
                {"Opal", "crushed-opal", 0.84, "g", 0, ""},
                {"Emerald", "emerald", 0.19, "ct", 0, ""},
                {"Emerald", "emerald", 1, "pieces", 0, ""},
                {"Glue", "epoxy", 0.1, "g", 0, ""}},
               {hours(design::Stage::Bored, 0.5, false), hours(design::Stage::Filled, 1.5, true)});
    const Quote found = quote({}, trade::builtInCatalogue(), workshop, plan, kDay);
    ASSERT_EQ(found.material.size(), 3U);
    EXPECT_EQ(money(found.material[0].cents), "2.96");
    EXPECT_EQ(money(found.materialSum), "61.22");
    EXPECT_EQ(money(found.waste), "6.12");
    EXPECT_EQ(money(found.workSum), "90.00");
    EXPECT_EQ(money(found.cost), "157.34");
    EXPECT_EQ(money(found.margin), "39.34");
    EXPECT_EQ(money(found.net), "196.68");
    EXPECT_EQ(money(found.tax), "39.34");
    EXPECT_EQ(money(found.total), "236.02");
    EXPECT_EQ(found.unpriced, std::vector<std::string>{"Glue"});
    EXPECT_TRUE(found.work[0].guessed);
    EXPECT_FALSE(found.work[1].guessed);
    EXPECT_EQ(inWords(*found.until), "2026-12-27");
}

TEST(Quote, NamesWhatHasNoPriceAndPutsInNoneOfItsOwn) {
    const Plan plan =
        planOf({{"Bar", "titanium-grade-5", 24.64, "g", 0, ""}, {"Solder", "", 0.01, "g", 0, ""}},
               {hours(design::Stage::Bored, 0.5, false)});
    const Quote found = quote({}, trade::builtInCatalogue(), {}, plan, kDay);
    EXPECT_EQ(found.total, 0);
    EXPECT_EQ(found.unpriced.size(), 3U);  // bar, solder, the work
    EXPECT_FALSE(found.until);
}

TEST(Quote, ChipsOfAPreciousMetalComeBack) {
    design::Design design;
    design.band.metal = "gold-18k-yellow";
    trade::Workshop workshop;
    workshop.prices = {{"gold-18k-yellow", 70, trade::PriceUnit::Gram}};
    workshop.reclaim = 80;
    Plan plan = planOf({{"Bar", "gold-18k-yellow", 20, "g", 0, ""}}, {});
    plan.quantities.chipMass = 10;
    // 20 x 70 = 1400, less 10 x 56 = 560.
    EXPECT_EQ(money(quote(design, trade::builtInCatalogue(), workshop, plan, kDay).total), "840.00");
    // Titanium's are not paid for.
    design.band.metal = "titanium-grade-5";
    workshop.prices = {{"titanium-grade-5", 1, trade::PriceUnit::Gram}};
    plan.quantities.items[0].material = "titanium-grade-5";
    EXPECT_EQ(money(quote(design, trade::builtInCatalogue(), workshop, plan, kDay).total), "20.00");
}

TEST(Quote, SolderHasThePriceThatTheMakerTells) {
    trade::Workshop workshop;
    const Plan plan =
        planOf({{"Silver solder", std::string(trade::kSilverSolder), 0.05, "g", 0.025, ""}}, {});
    EXPECT_EQ(quote({}, trade::builtInCatalogue(), workshop, plan, kDay).unpriced.front(), "Silver solder");
    workshop.prices = {{std::string(trade::kSilverSolder), 1.6, trade::PriceUnit::Gram}};
    EXPECT_EQ(money(quote({}, trade::builtInCatalogue(), workshop, plan, kDay).total), "0.08");
}

/// "12.34" as whole cents.
Cents read(const std::string& text) {
    return std::llround(std::stod(text) * 100);
}

TEST(QuoteByLot, WhatIsPrintedAddsUpToTheCent) {
    std::mt19937_64 lot(11);
    const auto between = [&](double least, double most) {
        return least + (most - least) * static_cast<double>(lot() % 1000003) / 1000003;
    };
    for (int round = 0; round < 2000; ++round) {
        trade::Workshop workshop;
        workshop.prices = {{"a", between(0.01, 300), trade::PriceUnit::Gram},
                           {"b", between(0.01, 900), trade::PriceUnit::Carat},
                           {"c", between(0, 9), trade::PriceUnit::Piece}};
        workshop.hourlyRate = between(10, 120);
        workshop.waste = std::round(between(0, 30));
        workshop.margin = between(0, 80);
        workshop.tax = std::round(between(0, 25) * 2) / 2;
        const Plan plan = planOf({{"A", "a", between(0, 40), "g", 0, ""},
                                  {"B", "b", between(0, 3), "ct", 0, ""},
                                  {"C", "c", 1 + static_cast<double>(lot() % 20), "pieces", 0, ""}},
                                 {hours(design::Stage::Bored, between(0, 3), false),
                                  hours(design::Stage::Turned, between(0, 3), true)});
        const Quote q = quote({}, trade::builtInCatalogue(), workshop, plan, kDay);
        Cents material = 0, work = 0;
        for (const QuoteLine& line : q.material) {
            // The product of the printed amount and price, to half a cent.
            EXPECT_NEAR(line.amount * line.price, std::stod(money(line.cents)), 0.005 + 1e-9);
            EXPECT_EQ(line.amount, base::roundedTo(line.amount, 3));
            material += read(money(line.cents));
        }
        for (const QuoteLine& line : q.work)
            work += read(money(line.cents));
        EXPECT_EQ(read(money(q.materialSum)), material);
        EXPECT_EQ(read(money(q.workSum)), work);
        const Cents cost = material + read(money(q.waste)) + work;
        EXPECT_EQ(read(money(q.cost)), cost);
        EXPECT_EQ(read(money(q.net)), cost + read(money(q.margin)));
        EXPECT_EQ(read(money(q.total)), read(money(q.net)) + read(money(q.tax)));
        EXPECT_NEAR(static_cast<double>(q.waste), static_cast<double>(material) * workshop.waste / 100,
                    0.5 + 1e-6);
        EXPECT_NEAR(static_cast<double>(q.margin), static_cast<double>(cost) * workshop.margin / 100,
                    0.5 + 1e-6);
        EXPECT_NEAR(static_cast<double>(q.tax), static_cast<double>(q.net) * workshop.tax / 100, 0.5 + 1e-6);
    }
}

TEST(Quote, WritesMoneyWithTwoDecimals) {
    EXPECT_EQ(money(0), "0.00");
    EXPECT_EQ(money(5), "0.05");
    EXPECT_EQ(money(-5), "-0.05");
    EXPECT_EQ(money(123456), "1234.56");
    EXPECT_EQ(money(-305), "-3.05");
}

TEST(Quote, DaysAreOfTheCalendar) {
    EXPECT_EQ(inWords(dayOf("2028-02-29", "--date")), "2028-02-29");
    for (const char* bad :
         {"2026-02-29", "2026-13-01", "26-01-01", "2026/01/01", "tomorrow", "", "2026-1-1", "2026-01-011"}) {
        try {
            dayOf(bad, "--date");
            ADD_FAILURE() << bad;
        } catch (const base::InputError& error) {
            EXPECT_EQ(std::string(error.what()).substr(0, 14), "--date: found ");
            EXPECT_NE(std::string(error.what()).find("2026-11-27"), std::string::npos);
        }
    }
    // A leap year and the end of a year in between.
    trade::Workshop workshop;
    workshop.quoteDays = 90;
    const Quote found = quote({}, trade::builtInCatalogue(), workshop, {},
                              std::chrono::year_month_day{year(2027), month(12), day(2)});
    EXPECT_EQ(inWords(*found.until), "2028-03-01");
}

}  // namespace
}  // namespace bandwright::route
