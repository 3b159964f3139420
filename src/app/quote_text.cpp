#include "app/quote_text.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "base/numbers.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kSum = 12, kAmount = 10, kUnit = 7;

/// A label and a sum of money at the right edge.
std::string sumLine(const std::string& label, route::Cents cents, const TextStyle& style) {
    const int left = style.width - kSum;
    return padded(wrapped(label, left, 0), left) + rightAligned(route::money(cents), kSum) + "\n";
}

std::string ruled(const TextStyle& style) {
    return std::string(static_cast<std::size_t>(style.width - kSum), ' ') + std::string(kSum, '-') + "\n";
}

std::string inPercent(double value) {
    return base::shortestNumber(value) + " %";
}

std::string inCurrency(const std::string& label, const route::Quote& quote) {
    return quote.currency.empty() ? label : label + ", " + quote.currency;
}

std::string amountText(const route::QuoteLine& line) {
    return base::shortestNumber(line.amount);
}

/// What, amount, unit, price of one, and the product; a long name has a line of its own.
std::string lineText(const route::QuoteLine& line, const TextStyle& style) {
    const int left = style.width - 3 * kSum - kUnit + kSum - kAmount;
    const std::string what = line.what + (line.guessed ? " (first guess)" : "");
    const std::string name =
        columns(what) < left ? padded(what, left) : wrapped(what, style.width, 2) + "\n" + padded("", left);
    return name + rightAligned(amountText(line), kAmount) + " " + padded(line.unit, kUnit - 1) + "x" +
           rightAligned(base::shortestNumber(base::roundedTo(line.price, 4)), kSum - 1) +
           rightAligned(route::money(line.cents), kSum) + "\n";
}

std::string sheetText(const route::Quote& quote, const TextStyle& style) {
    std::string out = "\nFor the workshop alone\n\nMaterials\n";
    for (const route::QuoteLine& line : quote.material)
        out += lineText(line, style);
    out += ruled(style) + sumLine("Materials", quote.materialSum, style);
    out += "\nWork\n";
    for (const route::QuoteLine& line : quote.work)
        out += lineText(line, style);
    out += ruled(style) + sumLine("Work", quote.workSum, style);
    const bool guessed = std::ranges::any_of(quote.work, &route::QuoteLine::guessed);
    if (guessed)
        out += wrapped("Hours marked so are our first guess, no source: put your own into the workshop file.",
                       style.width, 0) +
               "\n";
    out += "\n" + sumLine("Materials", quote.materialSum, style) + sumLine("Work", quote.workSum, style) +
           sumLine("Waste, " + inPercent(quote.wastePercent) + " of what is bought", quote.waste, style) +
           ruled(style) + sumLine("Cost", quote.cost, style) +
           sumLine("Margin, " + inPercent(quote.marginPercent) + " of the cost", quote.margin, style) +
           ruled(style) + sumLine("Price before tax", quote.net, style);
    return out;
}

std::string headText(const route::Quote& quote, const TextStyle& style) {
    std::string out;
    if (!quote.maker.empty()) out += quote.maker + "\n";
    if (!quote.address.empty()) out += quote.address + "\n";
    out += (out.empty() ? "" : "\n") + std::string("Quote of ") + route::inWords(quote.date) +
           (quote.until ? ", good until " + route::inWords(*quote.until) : "") + "\n\n" + quote.title + "\n";
    for (const std::string& line : quote.ring)
        out += "  " + wrapped(line, style.width, 2) + "\n";
    return out + "\n";
}

Json lineJson(const route::QuoteLine& line) {
    return {{"what", line.what},   {"amount", line.amount},           {"unit", line.unit},
            {"price", line.price}, {"sum", route::money(line.cents)}, {"guessed", line.guessed}};
}

Json linesJson(const std::vector<route::QuoteLine>& lines) {
    Json list = Json::array();
    for (const route::QuoteLine& line : lines)
        list.push_back(lineJson(line));
    return list;
}

}  // namespace

std::string quoteText(const route::Quote& quote, bool internal, const TextStyle& style) {
    std::string out = headText(quote, style);
    out += sumLine("The ring, made to order", quote.net, style) +
           sumLine("Tax, " + inPercent(quote.taxPercent), quote.tax, style) + ruled(style) +
           sumLine(inCurrency("Total", quote), quote.total, style);
    if (!quote.unpriced.empty()) {
        out += "\nNot priced yet, and so not in the total:\n";
        for (const std::string& what : quote.unpriced)
            out += "  " + wrapped(what, style.width, 2) + "\n";
    }
    return internal ? out + sheetText(quote, style) : out;
}

std::string quoteJson(const route::Quote& quote, bool internal) {
    Json json = {{"design", quote.title},
                 {"maker", quote.maker},
                 {"address", quote.address},
                 {"date", route::inWords(quote.date)},
                 {"until", quote.until ? Json(route::inWords(*quote.until)) : Json(nullptr)},
                 {"currency", quote.currency},
                 {"ring", quote.ring},
                 {"net", route::money(quote.net)},
                 {"tax-percent", quote.taxPercent},
                 {"tax", route::money(quote.tax)},
                 {"total", route::money(quote.total)},
                 {"unpriced", quote.unpriced}};
    if (internal) {
        json["material"] = linesJson(quote.material);
        json["work"] = linesJson(quote.work);
        json["material-sum"] = route::money(quote.materialSum);
        json["work-sum"] = route::money(quote.workSum);
        json["waste-percent"] = quote.wastePercent;
        json["waste"] = route::money(quote.waste);
        json["cost"] = route::money(quote.cost);
        json["margin-percent"] = quote.marginPercent;
        json["margin"] = route::money(quote.margin);
    }
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bandwright::app
