#pragma once

#include <cstddef>
#include <string>

#include "design/design.hpp"
#include "trade/catalogue.hpp"

/// One line for each group of the job card, in a maker's words, shown where the group is folded.
namespace bandwright::app {

std::string fingerInLine(const design::Design& design);
std::string bandInLine(const design::Design& design, const trade::Catalogue& catalogue);
std::string edgesInLine(const design::Design& design);
std::string channelInLine(const design::Channel& channel, const trade::Catalogue& catalogue);
/// Of setting `at` of the design.
std::string stoneInLine(const design::Design& design, std::size_t at, const trade::Catalogue& catalogue);
std::string finishInLine(const design::Design& design);
std::string allowancesInLine(const design::Design& design);
/// Of the steps that this ring takes.
std::string routeInLine(const design::Design& design, const trade::Catalogue& catalogue);
std::string readingInLine(const design::Design& design, std::size_t at);
std::string tickInLine(const design::Done& done);

}  // namespace bandwright::app
