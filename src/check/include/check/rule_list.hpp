#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::check {

/// A rule's limits for some of the metals a band can be made of.
struct ListedLimit {
    std::vector<std::string> metals;  ///< ids; empty = every metal
    double limit = 0, comfortable = 0;
    std::string source;
};

/// One rule of the checks, for a person to read.
struct ListedRule {
    std::string id;
    std::string measured;  ///< what it measures: "the wall of the tube's lip"
    std::string unit;      ///< of the limits
    Sense sense = Sense::AtLeast;
    std::vector<ListedLimit> limits;  ///< metals of the same limit together, in the catalogue's order
    std::string why;                  ///< one sentence: what goes wrong past the limit
};

/// What a finding would be held against without the maker's own limits, on the side that it is told by.
struct BookLimit {
    std::string name;  ///< by which a limit of the maker's own stands in for it
    double limit = 0, comfortable = 0;
    bool isFixed = true;  ///< the same for all rings; else it depends on the band's metal or more
};
BookLimit bookLimit(const Finding& finding, const design::Design& design, const trade::Catalogue& catalogue);

/// What the rule of an id measures, in a sentence: "the metal between two channels"; empty for none.
std::string_view measuredBy(std::string_view rule);

/// Every rule in the order a maker would read them, with the limits of the catalogue's metals and the maker's
/// own.
std::vector<ListedRule> listedRules(const trade::Catalogue& catalogue);

}  // namespace bandwright::check
