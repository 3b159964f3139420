#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "route/operation.hpp"

/// Operations as they are printed: on paper, in the window and in text.
namespace bandwright::route {

/// A reading's numbers with the digits they need: two decimals, or the three that a micrometer shows where
/// two would leave no room. Limits are rounded inwards, so that what is within those printed is within those
/// meant, but never past the value.
struct Shown {
    std::string value, least, most;
    std::string unit;  ///< "mm", "°", "g"
};
Shown shown(const Reading& reading);

/// "17.85 mm (17.80 to 17.90)".
std::string inOneLine(const Shown& shown);

/// "46 m/min on 25.4 mm: 576 rev/min, feed 0.04 mm a turn".
std::string inOneLine(const Cut& cut);

/// The list of the dial, to the hundredth; what is hardly anything to the thousandth.
std::vector<std::string> dialText(const Cut& cut);

/// Of a step that is done: "Done. Read: Bore 18.86 mm, caliper, 2026-11-20."
std::string doneText(const design::Design& design, design::Stage step);

}  // namespace bandwright::route
