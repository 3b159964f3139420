#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"

namespace bandwright::check {

/// One number that mending changed.
struct Mending {
    Change change;
    std::string label;  ///< in a sentence: "the depth of the channel"
    std::string rule;   ///< the rule it was first changed for
};

struct Mended {
    design::Design design;
    std::vector<Mending> changes;  ///< in the order they were made; each is needed
    Report report;                 ///< of that design
};

/// What the client wishes and mending leaves alone unless told otherwise: the finger, the stones' sizes, the
/// band's width.
std::vector<std::string> usualWishes();

/// A design near this one without no-go: numbers that a no-go depends on are turned, one at a time and the
/// one first that brings the whole ring furthest, until none is left; then each is turned back as far as it
/// can be. Numbers that a path in `locked` covers (see covers) stay as they are. Where it finds no way, the
/// design that is returned still has a no-go. Throws InputError as check does, and where a path covers no
/// number of the design.
Mended mend(const design::Design& design, const trade::Catalogue& catalogue,
            const std::vector<std::string>& locked);

}  // namespace bandwright::check
