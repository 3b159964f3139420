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

/// One material, or way of joining or closing, that mending took instead of another.
struct MendingExchange {
    Exchange exchange;
    std::string rule;  ///< the rule it was first taken for
};

struct Mended {
    design::Design design;
    std::vector<Mending> changes;            ///< in the order of the file; each is needed
    std::vector<MendingExchange> exchanges;  ///< in the order of the file; each is needed
    std::vector<Reorder> reorders;           ///< of the route, in the order they were made
    Report report;                           ///< of that design
};

/// What the client wishes and mending leaves alone unless told otherwise: the finger, the band's width and
/// metal, the stones and their sizes, the fillers.
std::vector<std::string> usualWishes();

/// A design near this one without no-go. Greedy: changes the number, or the order of the work, or where those
/// do not help the material or way of joining, that helps the whole ring most until nothing is no-go. Where
/// that leads nowhere it begins again at a ring made as usual round the same wishes. Then it undoes as much
/// of each change as possible. What a path in `locked` covers (see covers), and what the design
/// itself locks, stays as it is. Where it finds no
/// way, the returned design still has a no-go. Throws InputError as check does, and where a path covers
/// nothing that mending may change.
Mended mend(const design::Design& design, const trade::Catalogue& catalogue,
            const std::vector<std::string>& locked);

/// Why no ring without no-go has these wishes, each in words that go on a sentence: a wish that is locked
/// against the limits, by a plain inequality. What is not found here may still have no ring.
std::vector<std::string> hindrances(const design::Design& design, const trade::Catalogue& catalogue,
                                    const std::vector<std::string>& locked);

}  // namespace bandwright::check
