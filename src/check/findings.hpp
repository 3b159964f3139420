#pragma once

#include <string>

#include "check/check.hpp"

namespace bandwright::check {

/// The finding of a rule at the place of a measure, told by its id; nullptr when there is none.
const Finding* findingAt(const Report& report, const std::string& rule, const std::string& measure);

/// The value it judges.
double valueOf(const Report& report, const Finding& finding);

/// +1 when more is better, -1 when less is.
double goodDirection(Sense sense);

/// How far a value, or that of a finding, is on the good side of a limit, as a share of the limit; NaN is
/// the worst of all.
double standing(double value, Sense sense, double limit);
double standing(const Report& report, const Finding& finding);

/// Worst verdict first; among equal verdicts the worst standing first.
void sortWorstFirst(Report& report);

}  // namespace bandwright::check
