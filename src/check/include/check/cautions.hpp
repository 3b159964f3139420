#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// What to heed when a material of the ring is worked or worn. No verdict: nothing here is measured.
struct MaterialCaution {
    std::string material;  ///< its name, "Emerald"
    trade::Caution caution;
};

/// Of every material of a design, each sentence once, in the order band, liner, fills, settings.
std::vector<MaterialCaution> cautions(const design::Design& design, const trade::Catalogue& catalogue);

}  // namespace bandwright::check
