#pragma once

#include <optional>

#include "check/check.hpp"
#include "design/field_table.hpp"
#include "rules.hpp"

namespace bandwright::check {

/// A lever at the place of a measure: a number of the design, which way to turn it, and what is turned with
/// it.
struct Handle {
    design::Field field;
    int direction = 1;
    std::vector<std::string> with;  ///< paths of the numbers that are turned by as much
};

/// The most steps a number is turned by: further away it is another ring.
inline constexpr int kMostSteps = 512;

/// Nothing when the design has no such number there, or it has no meaning.
std::optional<Handle> handle(const Lever& lever, const design::Design& design, const Measure& measure);

/// Every handle that may move a measure of this rule: first those its rule names, then the other numbers of
/// the channel, setting or band they belong to. Each once.
std::vector<Handle> handlesOf(const Rule& rule, const design::Design& design, const Measure& measure);

/// Those that the rule itself names.
std::vector<Handle> ownHandlesOf(const Rule& rule, const design::Design& design, const Measure& measure);

/// Adds it unless it is there already.
void addOnce(std::vector<Handle>& handles, Handle handle);

/// The design with a handle turned by so many steps. What must follow so that a ring can be made follows: a
/// hole's parts stay each wider and less deep than the one below, a tube's walls stay. Nothing when a number
/// would leave its range.
std::optional<design::Design> turned(const design::Design& design, const Handle& handle, int steps);

/// A number turned by so many of its field's finest steps, landing on a whole step.
double moved(double from, const Handle& handle, int steps);

}  // namespace bandwright::check
