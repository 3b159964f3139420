#pragma once

#include <optional>
#include <string>

#include "check/check.hpp"
#include "rules.hpp"

namespace bandwright {

/// A lever at the place of a measure: one number of the design and which way to turn it.
struct Handle {
    std::string field;
    std::string label;
    int direction = 1;
    double step = 0.01;
};

/// A number is turned by no more steps: further away it is another ring.
inline constexpr int kMostSteps = 512;

/// Nothing when the design has no such number there.
std::optional<Handle> handle(const Lever& lever, const Design& design, const Measure& measure);

/// A number turned by so many steps, on whole steps.
double moved(double from, const Handle& handle, int steps);

}  // namespace bandwright
