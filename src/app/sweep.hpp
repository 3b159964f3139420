#pragma once

#include <cstddef>
#include <string>
#include <utility>
#include <vector>

#include "design/design.hpp"

/// A design and its like: named fields take each of several values, in every combination. Private to the
/// room.
namespace bandwright::app {

/// A field of the design file and the values it takes, as they are typed.
struct Varied {
    std::string field;
    std::vector<std::string> values;
};

/// "band.width=4:8:0.5" (from, to, step, both ends) or "band.metal=titanium-grade-2,tantalum". Throws
/// InputError for anything else, and for a range that does not end or has more than 10,000 values.
Varied variedOf(const std::string& typed);

/// One of the combinations.
struct Variant {
    std::string name;                                           ///< "harbour-007"
    std::vector<std::pair<std::string, std::string>> settings;  ///< field and value, in the order given
};

/// Every combination, the last field changing first, named by `stem` and a number. Throws InputError for more
/// than 100,000, and for a field that is named twice.
std::vector<Variant> combinations(const std::string& stem, const std::vector<Varied>& varied);

/// Throws InputError for a field that the design has no single value at.
void requireFields(const design::Design& design, const std::vector<Varied>& varied);

/// The design with the fields set. Throws InputError as requireFields does, and as parseDesign does for
/// a value that is not allowed there.
design::Design varied(const design::Design& design, const Variant& variant);

/// A field of a line of comma-separated values, quoted where it must be (RFC 4180).
std::string csvField(const std::string& text);

}  // namespace bandwright::app
