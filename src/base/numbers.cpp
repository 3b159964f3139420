#include "base/numbers.hpp"

#include <array>
#include <charconv>
#include <limits>
#include <system_error>

namespace bandwright::base {

std::string shortestNumber(double value) {
    constexpr std::size_t kLongestNumber = 24;  // as long as "-2.2250738585072014e-308"
    std::array<char, kLongestNumber> digits{};
    const auto end =
        std::to_chars(digits.data(), digits.data() + digits.size(), value == 0 ? 0.0 : value).ptr;
    return {digits.data(), end};
}

std::string fixed(double value, int decimals) {
    constexpr std::size_t kMostBefore = std::numeric_limits<double>::max_exponent10 + 1;
    std::string text(kMostBefore + static_cast<std::size_t>(decimals) + 2, '\0');  // sign and point
    char* const first = text.data();
    const auto end = std::to_chars(first, first + text.size(), value, std::chars_format::fixed, decimals).ptr;
    text.resize(static_cast<std::size_t>(end - first));
    const bool isNothing = text.find_first_not_of("-0.") == std::string::npos;
    return isNothing && text.starts_with('-') ? text.substr(1) : text;
}

double roundedTo(double value, int decimals) {
    const std::string text = fixed(value, decimals);
    double rounded = value;  // stays where it is no number
    std::from_chars(text.data(), text.data() + text.size(), rounded);
    return rounded;
}

}  // namespace bandwright::base
