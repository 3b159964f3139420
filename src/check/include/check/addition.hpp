#pragma once

#include "check/check.hpp"

/// What the program adds to a ring by itself, so that it is go in this very ring, and how what belongs to a
/// part follows when the part changes.
namespace bandwright::check {

/// A ring with something added, the rest as it was.
struct Added {
    design::Design design;
    /// Whether no finding stands worse than before and none of the new ones is worse than go. Where nothing
    /// was found that is, this is the one with the fewest findings worse.
    bool isGo = false;
};

/// One more channel, as wide and deep as goes: the mirror image of one that has none, else in the middle,
/// else as near to it as there is room. Throws InputError where no ring can be made with one more.
/// `fill` says with what; its grains are those usual for its filler.
Added withChannel(const design::Design& design, const trade::Catalogue& catalogue,
                  const design::Fill& fill = {});

/// One more stone, in a tube or without, as large as goes, up to 4 mm: in the middle of the width and of the
/// widest gap between the stones there are. Throws InputError as above.
/// `gem` is the stone's id; empty = as of the last there is, else emerald.
Added withSetting(const design::Design& design, const trade::Catalogue& catalogue,
                  const std::string& gem = {});

/// One more step of a setting's hole, counted from 0: wider than the last and less deep. Throws InputError as
/// above.
Added withStep(const design::Design& design, std::size_t setting, const trade::Catalogue& catalogue);

/// The setting's tube and hole made to fit its stone by the usual proportions: the seat as wide as the stone;
/// the tube, or without one the edge of the hole, high enough to be closed over it.
design::Setting fittedToStone(design::Setting setting);

/// `after`, which is `before` with a field changed, with what belongs to that: tube and hole are as much
/// larger as the stone, the hole as the tube, and another filler brings its own grains. A stone put into a
/// seat is as large as it takes, a tube as its hole. What was fitted by fittedToStone stays fitted.
design::Design following(const design::Design& before, design::Design after,
                         const trade::Catalogue& catalogue);

/// What a client says first of a ring.
struct Wishes {
    trade::RingSize finger;
    std::string metal = "titanium-grade-5";
    double width = 6;         ///< mm
    std::string filler = {};  ///< of a channel; empty = none
    std::string gem = {};     ///< of a stone; empty = none
};

/// The materials of which an ordinary ring, 8 mm wide, is go: ids in the catalogue's order.
struct Ordinary {
    std::vector<std::string> metals, fillers, gems;
};
Ordinary ordinaryMaterials(const trade::Catalogue& catalogue);

/// A ring that is go with these wishes, the rest as usual; where none was found, the best there is. Throws
/// InputError for a metal, filler or gem that is not in the catalogue.
Added ringFor(const Wishes& wishes, const trade::Catalogue& catalogue);

}  // namespace bandwright::check
