#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"
#include "design/field_table.hpp"

/// Another material, or another way of joining or closing, in place of what a design has.
namespace bandwright::check {

/// Whether what stands in a field of a design may be exchanged: a material, a way of joining or closing.
bool isExchangeable(const design::Field& field);

/// What may stand in such a field instead, a material that looks nearest to what is there first.
std::vector<Exchange> exchangesFor(const design::Field& field, const design::Design& design,
                                   const trade::Catalogue& catalogue);

/// The design with it made; the same design when it has no such field.
design::Design exchanged(const design::Design& design, const Exchange& exchange);

/// Every such field in which two designs of the same fields differ, in the order of the file.
std::vector<Exchange> exchangesBetween(const design::Design& from, const design::Design& to);

}  // namespace bandwright::check
