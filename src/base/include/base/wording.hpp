#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

/// Parts of messages, the same in every room.
namespace bandwright::base {

/// In quotes, fit for one line: control characters replaced, long text cut. Text in UTF-8 is cut between
/// characters.
std::string inQuotes(std::string_view text);

/// 'a', 'b' and 'c'.
std::string inWords(const std::vector<std::string_view>& names, std::string_view conjunction);

/// a, b and c.
std::string listed(const std::vector<std::string>& items);

/// All of them, with `between` between two.
std::string joined(const std::vector<std::string>& items, std::string_view between = ", ");

/// With its first letter, of ASCII, in upper case.
std::string capitalised(std::string text);

/// With its first letter, of ASCII, in lower case; "US sizes" and the like stay.
std::string uncapitalised(std::string text);

/// The candidates, at most `most` and best first, that a person may have meant by `word`.
std::vector<std::string_view> nearestNames(std::string_view word,
                                           const std::vector<std::string_view>& candidates, std::size_t most);

}  // namespace bandwright::base
