#pragma once

#include "check/check.hpp"
#include "rules.hpp"

namespace bandwright::check {

/// Writes the remedies of every finding that is not go: up to three ways that make its rule hold and no other
/// worse, each the smallest of its kind by whole steps of what a maker can read off, and each proved by
/// checking the changed design. Where there is none, the finding says what was tried and over which range.
void addRemedies(const design::Design& design, const trade::Catalogue& catalogue, Report& report);

}  // namespace bandwright::check
