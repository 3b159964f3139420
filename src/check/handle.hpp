#pragma once

#include <optional>

#include "check/check.hpp"
#include "design/field_table.hpp"
#include "rules.hpp"

namespace bandwright::check {

/// A lever at the place of a measure: one number of the design and which way to turn it.
struct Handle {
    design::Field field;
    int direction = 1;
};

/// The most steps a number is turned by: further away it is another ring.
inline constexpr int kMostSteps = 512;

/// Nothing when the design has no such number there.
std::optional<Handle> handle(const Lever& lever, const design::Design& design, const Measure& measure);

/// A number turned by so many of its field's finest steps, landing on a whole step.
double moved(double from, const Handle& handle, int steps);

}  // namespace bandwright::check
