#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "check/check.hpp"

namespace bandwright {

/// What a measure is held against.
struct Limit {
    double limit = 0;        ///< below it: no-go
    double comfortable = 0;  ///< below it: marginal
    std::string source;
};

/// A way to mend a finding: one number of the design, and which way to change it.
struct Lever {
    /// Its path in the design file; "#" stands for the channel or setting of the measure, the last step of
    /// the hole
    /// ("steps[#]"), or the edge, "left" or "right", that the measure touches ("band.#.width").
    std::string_view field;
    std::string_view label;  ///< as a maker says it: "the depth"
    int direction = 1;       ///< +1: more; -1: less
};

/// Judges every measure of its id ("floor-wall", "floor-wall@2", ...).
struct Rule {
    std::string_view id;
    Limit (*limit)(const Design& design, const Catalogue& catalogue, const Measure& measure);
    std::string_view why;  ///< one sentence: what goes wrong below the limit
    std::vector<Lever> levers;
};

/// In the order a maker would read them.
std::span<const Rule> rules();

/// Nothing for a measure without a rule, such as a mass.
const Rule* ruleFor(const Measure& measure);

Verdict judged(double value, const Limit& limit);

}  // namespace bandwright
