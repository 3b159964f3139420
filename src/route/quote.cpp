#include "route/quote.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "places.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::route {

namespace {

constexpr double kHundred = 100;

Cents inCents(double sum) {
    return std::llround(sum * kHundred);
}

Cents percentOf(double percent, Cents sum) {
    return std::llround(percent * static_cast<double>(sum) / kHundred);
}

std::string unitOf(trade::PriceUnit unit) {
    switch (unit) {
        case trade::PriceUnit::Gram:
            return "g";
        case trade::PriceUnit::Carat:
            return "ct";
        case trade::PriceUnit::Piece:
            return "pieces";
        case trade::PriceUnit::Millimetre:
            break;
    }
    return "mm";
}

QuoteLine lineOf(std::string what, double amount, std::string unit, double price) {
    const bool fine = std::abs(amount) < 1 && unit != "h";
    QuoteLine line{std::move(what), base::roundedTo(amount, fine ? 3 : 2), std::move(unit), price};
    line.cents = inCents(line.amount * price);
    return line;
}

const trade::Price* priceOf(const trade::Workshop& workshop, const Quantity& quantity) {
    for (const trade::Price& price : workshop.prices)
        if (price.material == quantity.material && unitOf(price.unit) == quantity.unit) return &price;
    return nullptr;
}

/// The one item of each need that has a price.
void addMaterials(const trade::Workshop& workshop, const Quantities& quantities, Quote& quote) {
    std::set<std::string> priced, named;
    for (const Quantity& quantity : quantities.items) {
        const trade::Price* price = priceOf(workshop, quantity);
        if (price == nullptr || !priced.insert(quantity.what).second) continue;
        quote.material.push_back(lineOf(quantity.what, quantity.amount, quantity.unit, price->price));
    }
    for (const Quantity& quantity : quantities.items)
        if (!priced.contains(quantity.what) && named.insert(quantity.what).second)
            quote.unpriced.push_back(quantity.what);
}

/// The chips of a precious metal, at what a refiner gives for them.
std::optional<QuoteLine> reclaimed(const design::Design& design, const trade::Catalogue& catalogue,
                                   const trade::Workshop& workshop, const Quantities& quantities) {
    const trade::Metal& metal = *catalogue.metal(design.band.metal);
    if (metal.precious == trade::Precious::None || workshop.reclaim <= 0) return std::nullopt;
    for (const trade::Price& price : workshop.prices)
        if (price.material == metal.id && price.unit == trade::PriceUnit::Gram)
            return lineOf("Chips back, at " + base::shortestNumber(workshop.reclaim) + " % of the price",
                          quantities.chipMass, "g", -price.price * workshop.reclaim / kHundred);
    return std::nullopt;
}

void addWork(const trade::Workshop& workshop, const Plan& plan, Quote& quote) {
    if (!workshop.hourlyRate) {
        quote.unpriced.emplace_back("the work: the workshop tells no hourly rate");
        return;
    }
    for (const StageWork& stage : plan.stages) {
        QuoteLine line =
            lineOf(base::capitalised(design::name(stage.stage)), stage.hours, "h", *workshop.hourlyRate);
        line.guessed = !stage.ownHours;
        if (line.amount > 0) quote.work.push_back(std::move(line));
    }
}

Cents sumOf(const std::vector<QuoteLine>& lines) {
    Cents sum = 0;
    for (const QuoteLine& line : lines)
        sum += line.cents;
    return sum;
}

void addUp(const trade::Workshop& workshop, Quote& quote) {
    Cents bought = 0;
    for (const QuoteLine& line : quote.material)
        bought += std::max<Cents>(0, line.cents);
    quote.wastePercent = workshop.waste;
    quote.marginPercent = workshop.margin;
    quote.taxPercent = workshop.tax;
    quote.materialSum = sumOf(quote.material);
    quote.workSum = sumOf(quote.work);
    quote.waste = percentOf(workshop.waste, bought);
    quote.cost = quote.materialSum + quote.waste + quote.workSum;
    quote.margin = percentOf(workshop.margin, quote.cost);
    quote.net = quote.cost + quote.margin;
    quote.tax = percentOf(workshop.tax, quote.net);
    quote.total = quote.net + quote.tax;
}

/// What the client gets, as the client would say it.
std::vector<std::string> ringOf(const design::Design& design, const trade::Catalogue& catalogue) {
    const design::Band& band = design.band;
    std::vector<std::string> lines{"Ring of " + catalogue.metal(band.metal)->name + ", " + inMm(band.width) +
                                   " wide and " + inMm(band.thickness) + " thick, size " +
                                   trade::formatRingSize(design.finger.size)};
    if (band.liner) lines.push_back("Lined with " + catalogue.metal(band.liner->metal)->name);
    for (const design::Channel& channel : design.channels)
        if (channel.fill)
            lines.push_back("Inlay of " + catalogue.filler(channel.fill->filler)->name + ", " +
                            inMm(channel.width) + " wide");
    for (const design::Setting& setting : design.settings) {
        if (!setting.stone) continue;
        const auto count = design::placedAngles(setting.placement).size();
        lines.push_back(std::to_string(count) + " x " + catalogue.gem(setting.stone->gem)->name + " " +
                        inMm(setting.stone->diameter) +
                        (setting.tube ? ", in tube of " + catalogue.metal(setting.tube->metal)->name : ""));
    }
    return lines;
}

bool isDigits(std::string_view text) {
    return std::ranges::all_of(text, [](char c) { return c >= '0' && c <= '9'; });
}

}  // namespace

std::string money(Cents cents) {
    const Cents size = std::abs(cents);
    const std::string rest = std::to_string(size % 100);
    return (cents < 0 ? "-" : "") + std::to_string(size / 100) + "." + (rest.size() < 2 ? "0" : "") + rest;
}

Quote quote(const design::Design& design, const trade::Catalogue& catalogue, const trade::Workshop& workshop,
            const Plan& plan, std::chrono::year_month_day date) {
    Quote quote;
    quote.title = design.title;
    quote.maker = workshop.name;
    quote.address = workshop.address;
    quote.currency = workshop.currency;
    quote.date = date;
    if (workshop.quoteDays)
        quote.until = std::chrono::sys_days(date) + std::chrono::days(*workshop.quoteDays);
    quote.ring = ringOf(design, catalogue);
    addMaterials(workshop, plan.quantities, quote);
    if (auto back = reclaimed(design, catalogue, workshop, plan.quantities))
        quote.material.push_back(std::move(*back));
    addWork(workshop, plan, quote);
    addUp(workshop, quote);
    return quote;
}

std::chrono::year_month_day dayOf(std::string_view text, const std::string& where) {
    const auto part = [&](std::size_t from, std::size_t length) {
        int value = 0;
        for (const char c : text.substr(from, length))
            value = 10 * value + (c - '0');
        return value;
    };
    const bool written = text.size() == 10 && text[4] == '-' && text[7] == '-' &&
                         isDigits(text.substr(0, 4)) && isDigits(text.substr(5, 2)) &&
                         isDigits(text.substr(8, 2));
    if (written) {
        const std::chrono::year_month_day day{std::chrono::year(part(0, 4)),
                                              std::chrono::month(static_cast<unsigned>(part(5, 2))),
                                              std::chrono::day(static_cast<unsigned>(part(8, 2)))};
        if (day.ok()) return day;
    }
    throw base::InputError(where + ": found " + base::inQuotes(text) +
                           "; allowed is a day of the calendar, written as 2026-11-27.");
}

std::string inWords(std::chrono::year_month_day day) {
    const auto padded = [](int value, std::size_t width) {
        const std::string digits = std::to_string(value);
        return std::string(width - std::min(width, digits.size()), '0') + digits;
    };
    return padded(static_cast<int>(day.year()), 4) + "-" +
           padded(static_cast<int>(static_cast<unsigned>(day.month())), 2) + "-" +
           padded(static_cast<int>(static_cast<unsigned>(day.day())), 2);
}

}  // namespace bandwright::route
