#pragma once

#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "trade/catalogue.hpp"

namespace bandwright {

/// Grams of a cubic millimetre of a part; a fill is grain and adhesive by its packing.
double density(const Part& part, const Design& design, const Catalogue& catalogue);

/// Grams of one part.
double mass(const SolidPart& part, const Design& design, const Catalogue& catalogue);

/// All parts as one body of their own densities: its volume is the mass in g, its moments are in g mm and
/// g mm2. It has no area of its own.
SolidProperties weighed(const std::vector<SolidPart>& parts, const Design& design,
                        const Catalogue& catalogue);

}  // namespace bandwright
