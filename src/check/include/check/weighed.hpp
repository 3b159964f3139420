#pragma once

#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// Grams of a cubic millimetre of a part; a fill is grain and adhesive by its packing.
double density(const geometry::Part& part, const design::Design& design, const trade::Catalogue& catalogue);

/// Grams of one part.
double mass(const geometry::SolidPart& part, const design::Design& design, const trade::Catalogue& catalogue);

/// All parts as one body of their own densities: its volume is the mass in g, its moments are in g mm and
/// g mm2. It has no area of its own.
geometry::SolidProperties weighed(const std::vector<geometry::SolidPart>& parts, const design::Design& design,
                                  const trade::Catalogue& catalogue);

}  // namespace bandwright::check
