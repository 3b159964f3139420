#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::app {

/// What differs in one field, or in the number of "channels" or "settings"; the path is empty for what no
/// field holds.
struct FieldChange {
    std::string path, text;
};

/// What differs between two designs, in the maker's words, in the order of the file: "Width of the band: 8.5
/// mm instead of 8 mm". Of a channel or a setting that was put in or taken out it says that alone. Empty
/// only where nothing differs.
std::vector<std::string> changesInWords(const design::Design& from, const design::Design& to,
                                        const trade::Catalogue& catalogue);

/// The same, each with where it stands in the file.
std::vector<FieldChange> changesByField(const design::Design& from, const design::Design& to,
                                        const trade::Catalogue& catalogue);

/// The same in one line: the first change, and how many more there are.
std::string changeInWords(const design::Design& from, const design::Design& to,
                          const trade::Catalogue& catalogue);

}  // namespace bandwright::app
