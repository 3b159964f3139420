#include <algorithm>
#include <cctype>
#include <cmath>

#include "app/card_rows.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "trade/length.hpp"

namespace bandwright::app {

namespace {

std::string_view trimmed(std::string_view text) {
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.front())) != 0)
        text.remove_prefix(1);
    while (!text.empty() && std::isspace(static_cast<unsigned char>(text.back())) != 0)
        text.remove_suffix(1);
    return text;
}

std::string_view withoutUnit(std::string_view text, std::span<const std::string_view> units) {
    text = trimmed(text);
    for (const std::string_view unit : units) {
        if (text.ends_with(unit)) return trimmed(text.substr(0, text.size() - unit.size()));
    }
    return text;
}

/// A number that may carry one of these units at its end.
double parsePlain(std::string_view text, std::span<const std::string_view> units, const char* kind) {
    const std::string_view number = withoutUnit(text, units);
    const bool hasLetters =
        std::ranges::any_of(number, [](char c) { return std::isalpha(static_cast<unsigned char>(c)) != 0; });
    if (hasLetters || number.find('"') != std::string_view::npos) {
        throw base::InputError(base::inQuotes(trimmed(text)) + " is not a number of " + kind + ".");
    }
    return trade::parseLength(number);
}

}  // namespace

std::string formatNumber(double value, const design::NumberField& field) {
    constexpr double kWrittenExactly = 1e-9;
    const double shown = design::shownFactor(field.unit) * value;
    int decimals = field.decimals;
    while (decimals < field.decimals + 2 &&
           std::abs(base::roundedTo(shown, decimals) - shown) > kWrittenExactly)
        ++decimals;
    std::string text = base::fixed(shown, decimals);
    while (decimals > field.decimals && text.ends_with('0')) {
        text.pop_back();
        --decimals;
    }
    return text;
}

double parseNumber(std::string_view text, const design::NumberField& field) {
    static constexpr std::array<std::string_view, 4> kDegrees = {"\u00B0", "degrees", "degree", "deg"};
    static constexpr std::array<std::string_view, 1> kPercent = {"%"}, kNanometres = {"nm"}, kGrams = {"g"};
    switch (field.unit) {
        case design::Unit::Millimetres:
            return trade::parseLength(text);
        case design::Unit::Nanometres:
            return parsePlain(text, kNanometres, "nanometres");
        case design::Unit::Grams:
            return parsePlain(text, kGrams, "grams");
        case design::Unit::Degrees:
            return parsePlain(text, kDegrees, "degrees");
        case design::Unit::Percent:
        case design::Unit::Share:
            return parsePlain(text, kPercent, "percent") / design::shownFactor(field.unit);
        case design::Unit::None:
            return parsePlain(text, {}, "no unit");
        case design::Unit::Pieces:
            break;
    }
    const double number = parsePlain(text, {}, "pieces");
    if (number != std::round(number) || std::abs(number) > 1e6) {
        throw base::InputError(base::inQuotes(trimmed(text)) + " is not a whole number of pieces.");
    }
    return number;
}

}  // namespace bandwright::app
