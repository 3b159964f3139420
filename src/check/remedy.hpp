#pragma once

#include "check/check.hpp"
#include "rules.hpp"

namespace bandwright::check {

/// Writes the remedy of one finding of the report: the smallest change of one number, by whole steps
/// of what a maker can read off, that makes its rule hold and no other worse, proved by checking the changed
/// design.
void addRemedy(const design::Design& design, const trade::Catalogue& catalogue, Report& report,
               std::size_t finding);

}  // namespace bandwright::check
