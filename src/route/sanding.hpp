#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"

/// Grits from tool marks to a finish. Private to the room.
namespace bandwright::route {

/// A grit of the FEPA P series and the mean size of its grains.
struct Grit {
    int number = 0;
    double micrometres = 0;
};

/// FEPA P, mean grain: sizes.com, ruddwoodfinishes.com.
const std::vector<Grit>& grits();

/// From one grit to another of the series, both with it, each step at most twice the number of the one
/// before: common practice, no source.
std::vector<Grit> ladder(int from, int to);

/// "P320 (46 um), P600 (26 um) and P1200 (15 um)".
std::string inWords(const std::vector<Grit>& steps);

/// How a surface is brought from turned to its finish, in order, a sentence each. Where the last grit of each
/// finish lies is common practice, no source.
std::vector<std::string> finishing(design::Finish finish);

}  // namespace bandwright::route
