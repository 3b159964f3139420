#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// What goes into a ring and what is left over.
namespace bandwright::route {

/// One material to have at hand. Where it is sold in several units, each has an item of the same `what`; they
/// are one need and not several.
struct Quantity {
    std::string what;      ///< "Titanium grade 5, bar 25.4 mm"
    std::string material;  ///< id in the catalogue; empty for what is in no list
    double amount = 0;
    std::string unit;   ///< "g", "ct", "mm", "drops", "pieces", "ml"
    double needed = 0;  ///< in the ring itself, same unit
    std::string how;    ///< the sum in words, for a person to add up again
};

struct Quantities {
    std::vector<Quantity> items;
    double blankVolume = 0, finishedVolume = 0, chipVolume = 0;  ///< mm3 of the band's metal
    double blankMass = 0, finishedMass = 0, chipMass = 0;        ///< g
    double reclaimed = 0;    ///< g of precious metal in the chips that a refiner is paid for; 0 for others
    double stockLength = 0;  ///< mm of bar or tube, with facing, parting and grip
};

/// What the ring takes in this workshop, from its exact volumes. Losses are common practice, no source: 15 %
/// of grains, 30 % of adhesive, a saw cut of 0.5 mm and 0.3 mm to face on each tube; a refiner pays for 0.9
/// of the precious metal in chips (0.85 to 0.95).
Quantities quantitiesOf(const design::Design& design, const trade::Catalogue& catalogue,
                        const trade::Workshop& workshop);

}  // namespace bandwright::route
