#pragma once

#include <string>

#include "check/check.hpp"
#include "design/fields.hpp"

/// The numbers of findings as they are printed, in the window and in text.
namespace bandwright::check {

/// How many decimals, two at least, show on which side of the finding's limits a value lies, and the limits
/// as they are written: 0.4996 mm against 0.5 takes four.
int decimalsFor(double value, const Finding& finding);

/// A finding's numbers, all with as many decimals as the one that needs most; without their unit.
struct Figures {
    std::string value, limit, comfortable;
    std::string worst;   ///< where there is a spread
    std::string across;  ///< the limit on the other side of a fit
};
Figures figures(const Report& report, const Finding& finding);

/// "1.8 mm instead of 2 mm", with the digits that tell the one from the other.
std::string changeText(const Change& change, const design::NumberField& field);

}  // namespace bandwright::check
