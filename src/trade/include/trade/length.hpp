#pragma once

#include <string_view>

namespace bandwright::trade {

/// Reads a length as a maker types it and gives it in mm, to the nearest picometre (so that 0.746 in
/// is 18.9484 mm and nothing after it).
///
/// Units: mm (also when none is named), cm, um, in (inch, inches, "), thou. Numbers are decimal with a point,
/// fractions or both: "2.5", "3/8 in", "1 1/2 in", "1½ in", "0.1\"", "250 um". Sums, differences, products,
/// quotients and brackets may be typed: "8/2 + 0.5 mm", "(8 - 1)/2", "2*1.25", "1/4 in + 0.5 mm". A product
/// or quotient is a number of its one unit, wherever the unit stands, so "3/8 in" is three eighths of an
/// inch. A unit at the very end also holds for the terms before it that name none: "1/2 + 1/8 in" is 5/8 in.
/// The result may be negative.
///
/// Throws InputError for anything else: an unknown unit, two units in one product, a sum such as "1 in + 2"
/// in which it is not clear what the 2 is, division by zero, a result that is no finite number, more than 100
/// characters.
double parseLength(std::string_view text);

}  // namespace bandwright::trade
