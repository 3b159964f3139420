#include "plain_text.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

namespace bandwright::trade {

namespace {

// UTF-8 sequences people type or paste, and what they stand for.
constexpr std::array<std::pair<std::string_view, std::string_view>, 27> kSigns{{
    {"\u00bd", " 1/2"},
    {"\u00bc", " 1/4"},
    {"\u00be", " 3/4"},
    {"\u215b", " 1/8"},
    {"\u215c", " 3/8"},
    {"\u215d", " 5/8"},
    {"\u215e", " 7/8"},
    {"\u2044", "/"},
    {"\u00f7", "/"},
    {"\u00d7", "*"},
    {"\u2212", "-"},
    {"\u2013", "-"},
    {"\u00b5", "u"},
    {"\u03bc", "u"},
    {"\u2033", "\""},
    {"\u201c", "\""},
    {"\u201d", "\""},
    {"''", "\""},
    {"\u00a0", " "},
    {"\u2009", " "},
    {"\u202f", " "},
    {"\u00f8", " diameter "},
    {"\u00d8", " diameter "},
    {"\u2300", " diameter "},
    {"\t", " "},
    {"\r", " "},
    {"\n", " "},
}};

bool isDigit(char c) {
    return c >= '0' && c <= '9';
}

/// A whole number at the start of `rest`.
std::optional<double> takeDigits(std::string_view& rest) {
    std::size_t count = 0;
    double value = 0;
    while (count < rest.size() && isDigit(rest[count]))
        value = value * 10 + (rest[count++] - '0');
    if (count == 0) return std::nullopt;
    rest.remove_prefix(count);
    return value;
}

/// The "1/2" of "9 1/2", less than one.
std::optional<double> takeFraction(std::string_view& rest) {
    std::string_view after = rest;
    const std::optional<double> top = takeDigits(after);
    if (!top || !after.starts_with('/')) return std::nullopt;
    after.remove_prefix(1);
    const std::optional<double> bottom = takeDigits(after);
    if (!bottom || *top >= *bottom) return std::nullopt;
    rest = after;
    return *top / *bottom;
}

void appendPlain(std::string& out, std::string_view piece) {
    for (char c : piece) {
        if (c == ' ' && (out.empty() || out.back() == ' ')) continue;
        out.push_back(c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
    }
}

}  // namespace

std::string plainText(std::string_view text) {
    std::string out;
    while (!text.empty()) {
        std::size_t taken = 1;
        std::string_view meaning = text.substr(0, 1);
        for (const auto& [sign, stands] : kSigns) {
            if (!text.starts_with(sign)) continue;
            taken = sign.size();
            meaning = stands;
            break;
        }
        appendPlain(out, meaning);
        text.remove_prefix(taken);
    }
    if (out.ends_with(' ')) out.pop_back();
    return out;
}

std::optional<double> takeNumber(std::string_view& rest) {
    const bool starts =
        !rest.empty() && (isDigit(rest[0]) || (rest[0] == '.' && rest.size() > 1 && isDigit(rest[1])));
    if (!starts) return std::nullopt;
    double value = 0;
    const auto [end, error] = std::from_chars(rest.data(), rest.data() + rest.size(), value);
    if (error != std::errc{}) return std::nullopt;
    const auto count = static_cast<std::size_t>(end - rest.data());
    const bool whole = rest.substr(0, count).find_first_not_of("0123456789") == std::string_view::npos;
    rest.remove_prefix(count);
    if (whole && rest.starts_with(' ')) {
        std::string_view after = rest.substr(1);
        if (const std::optional<double> fraction = takeFraction(after)) {
            rest = after;
            return value + *fraction;
        }
    }
    return value;
}

}  // namespace bandwright::trade
