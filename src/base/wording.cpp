#include "base/wording.hpp"

#include <algorithm>
#include <cctype>
#include <utility>

namespace bandwright::base {

namespace {

constexpr std::size_t kLongestQuote = 60;

bool continuesCharacter(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

/// Number of letters to insert, leave out or replace to make one word of the other (Levenshtein 1966).
std::size_t editDistance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    for (std::size_t j = 0; j < row.size(); ++j)
        row[j] = j;
    for (std::size_t i = 0; i < a.size(); ++i) {
        std::size_t diagonal = std::exchange(row[0], i + 1);
        for (std::size_t j = 0; j < b.size(); ++j) {
            const std::size_t replaced = diagonal + (a[i] == b[j] ? 0 : 1);
            diagonal = row[j + 1];
            row[j + 1] = std::min({replaced, row[j] + 1, diagonal + 1});
        }
    }
    return row.back();
}

}  // namespace

std::string inQuotes(std::string_view text) {
    std::size_t shown = std::min(text.size(), kLongestQuote);
    while (shown > 0 && shown < text.size() && continuesCharacter(text[shown]))
        --shown;
    std::string out = "'";
    for (const char c : text.substr(0, shown))
        out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? '?' : c;
    if (shown < text.size()) out += "...";
    return out + "'";
}

std::string inWords(const std::vector<std::string_view>& names, std::string_view conjunction) {
    std::string words;
    for (std::size_t i = 0; i < names.size(); ++i) {
        if (i > 0 && i + 1 < names.size()) words += ", ";
        if (i > 0 && i + 1 == names.size()) words.append(" ").append(conjunction).append(" ");
        words += inQuotes(names[i]);
    }
    return words;
}

std::string listed(const std::vector<std::string>& items) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i)
        text += (i == 0 ? "" : i + 1 == items.size() ? " and " : ", ") + items[i];
    return text;
}

std::string joined(const std::vector<std::string>& items, std::string_view between) {
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i)
        text.append(i == 0 ? "" : between).append(items[i]);
    return text;
}

std::vector<std::string_view> nearestNames(std::string_view word,
                                           const std::vector<std::string_view>& candidates,
                                           std::size_t most) {
    const std::size_t furthest = std::max<std::size_t>(2, word.size() / 3);
    std::vector<std::pair<std::size_t, std::string_view>> found;
    for (const std::string_view candidate : candidates) {
        const std::size_t distance = editDistance(word, candidate);
        const bool partOfIt = word.size() >= 3 && candidate.find(word) != std::string_view::npos;
        if (distance <= furthest || partOfIt) found.emplace_back(distance, candidate);
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const auto& a, const auto& b) { return a.first < b.first; });
    if (found.size() > most) found.resize(most);
    std::vector<std::string_view> names;
    names.reserve(found.size());
    for (const auto& [distance, name] : found)
        names.push_back(name);
    return names;
}

std::string capitalised(std::string text) {
    if (!text.empty()) text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

std::string uncapitalised(std::string text) {
    const bool isAcronym = text.size() > 1 && std::isupper(static_cast<unsigned char>(text[1])) != 0;
    if (!text.empty() && !isAcronym)
        text[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(text[0])));
    return text;
}

}  // namespace bandwright::base
