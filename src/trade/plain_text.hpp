#pragma once

#include <optional>
#include <string>
#include <string_view>

/// Reading what a person typed, whatever the locale. Private to the room.
namespace bandwright::trade {

/// Longest text taken from a field or the command line, in bytes.
inline constexpr std::size_t kLongestInput = 100;

/// Lower case, single spaces, none at the ends; typographic fractions, signs and spaces brought to ASCII
/// ("R½" becomes "r 1/2", "250 µm" becomes "250 um", "Ø" becomes "diameter").
std::string plainText(std::string_view text);

/// A number at the start of `rest`, which is moved past it: "9", ".5", "9.25", "9 1/2". No sign, no "inf", no
/// "nan". Nothing is taken when there is none.
std::optional<double> takeNumber(std::string_view& rest);

}  // namespace bandwright::trade
