#pragma once

#include <span>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// What to heed when a material of the ring is worked or worn. No verdict: nothing here is measured.
struct MaterialCaution {
    std::string material;  ///< its name, "Emerald", or the work that is meant, "Solder"
    trade::Caution caution;
};

/// Of every material of a design, each sentence once, in the order band, liner, fills, settings; then of
/// the work that colours, solders or welds; then, where the bodies of the finished ring are given, what the
/// law asks of precious metal of that weight.
std::vector<MaterialCaution> cautions(const design::Design& design, const trade::Catalogue& catalogue,
                                      std::span<const geometry::SolidPart> bodies = {});

}  // namespace bandwright::check
