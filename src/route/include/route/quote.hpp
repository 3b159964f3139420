#pragma once

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.hpp"
#include "route/plan.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// What a ring costs by the maker's own prices.
namespace bandwright::route {

/// Hundredths of the workshop's currency. Each printed sum is rounded to whole ones, half away from zero,
/// before it is added up, so that what is printed can be added up again by hand.
using Cents = std::int64_t;

/// "98.40"; "-3.05".
std::string money(Cents cents);

/// An amount times a price.
struct QuoteLine {
    std::string what;
    double amount = 0;     ///< rounded as it is printed: to 0.01, less than one of a material to 0.001
    std::string unit;      ///< "g", "ct", "mm", "pieces", "h"
    double price = 0;      ///< of one; negative for what comes back
    Cents cents = 0;       ///< amount x price
    bool guessed = false;  ///< hours that the maker has not told: our first guess, no source
};

struct Quote {
    std::string title, maker, address;
    std::string currency;  ///< may be empty
    std::chrono::year_month_day date;
    std::optional<std::chrono::year_month_day> until;  ///< nothing = the workshop does not tell
    std::vector<std::string> ring;                     ///< what is offered, a line each
    std::vector<QuoteLine> material, work;
    Cents materialSum = 0, workSum = 0;
    double wastePercent = 0, marginPercent = 0, taxPercent = 0;
    Cents waste = 0;   ///< on materials; not on what comes back
    Cents cost = 0;    ///< materials, waste and work
    Cents margin = 0;  ///< on the cost
    Cents net = 0, tax = 0, total = 0;
    std::vector<std::string> unpriced;  ///< what no price was told for, and so is not in the total
};

/// Materials by the quantities of the plan, in the unit of their price; work by the hours of its steps.
Quote quote(const design::Design& design, const trade::Catalogue& catalogue, const trade::Workshop& workshop,
            const Plan& plan, std::chrono::year_month_day date);

/// The day written as 2026-11-27. Throws InputError, naming `where`, for what is no day of the calendar.
std::chrono::year_month_day dayOf(std::string_view text, const std::string& where);

/// "2026-11-27".
std::string inWords(std::chrono::year_month_day day);

}  // namespace bandwright::route
