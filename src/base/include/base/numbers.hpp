#pragma once

#include <string>

/// Numbers as text, the same in every room and locale.
namespace bandwright::base {

/// The fewest digits that read back as the same number; never "-0".
std::string shortestNumber(double value);

/// With a fixed number of decimals; never "-0.00".
std::string fixed(double value, int decimals);

/// Rounded to so many decimals, so that it reads as typed.
double roundedTo(double value, int decimals);

}  // namespace bandwright::base
