#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace bandwright::trade {

/// A limit the maker set in place of one that comes with the program.
struct OwnLimit {
    std::string rule;                   ///< e.g. "floor-wall"
    std::string metal;                  ///< id of the band's metal it holds for; empty = for all
    double limit = 0, comfortable = 0;  ///< in the unit of the rule
    /// "the maker's own: ..."; empty in a workshop, which does not tell it
    std::string source = {};
    std::string place = {};  ///< where it stands, for messages: "my-limits.json, $.limits[2]"; likewise

    bool operator==(const OwnLimit&) const = default;
};

/// The limit for a rule and a band's metal: one for that metal before one for all, the last of equals;
/// nullptr when the maker set none.
const OwnLimit* ownLimit(const std::vector<OwnLimit>& limits, std::string_view rule, std::string_view metal);

}  // namespace bandwright::trade
