#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "job.hpp"

/// What several steps say alike. Private to the room.
namespace bandwright::route {

/// With three decimals below a gram, as pocket scales show it.
std::string inGrams(double grams);

/// "12 drops" up to the next whole one, where it comes out of its bottle by the drop; else in grams.
std::string inAdhesive(double grams, const trade::Adhesive& adhesive);

/// "1 stone", "5 stones".
std::string counted(int count, const std::string& one);

/// "35 minutes", "24 hours".
std::string inTime(double minutes);

/// Each sentence once.
void addCautions(Operation& operation, const std::vector<trade::Caution>& cautions);

/// What check::cautions has to say of a work: "Solder", "Laser", "Anodising", "Blackening".
void addWorkCautions(const Job& job, std::string_view work, Operation& operation);

/// What the law asks of precious metal of the ring's weight.
void addHallmark(const Job& job, Operation& operation);

}  // namespace bandwright::route
