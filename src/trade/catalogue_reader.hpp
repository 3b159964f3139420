#pragma once

#include <string>
#include <string_view>

#include "trade/catalogue.hpp"

namespace bandwright::trade {

/// Adds the materials of one of the program's own data files, named `file` in messages: the format of
/// addMaterials, but without its search for keys that stand twice, which takes longer than all the rest.
void addBuiltIn(Catalogue& catalogue, std::string_view text, const std::string& file);

/// Adds the materials of one JSON text to the catalogue, by the rules of extendedCatalogue. `file` is its
/// name in messages. Throws InputError; the catalogue may then hold a part of the entries.
void addMaterials(Catalogue& catalogue, std::string_view text, const std::string& file);

}  // namespace bandwright::trade
