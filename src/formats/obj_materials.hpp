#pragma once

#include <string>
#include <vector>

#include "geometry/part.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::formats {

/// The text of the MTL file with the materials of all parts, each once, in the order of the parts. Throws
/// InputError when one is not in the catalogue.
std::string mtlText(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue);

}  // namespace bandwright::formats
