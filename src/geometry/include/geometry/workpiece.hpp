#pragma once

#include "design/design.hpp"

namespace bandwright::geometry {

/// The ring as it stands at a stage of its route: its outline by then, and what has been cut and put in. What
/// a design does not have is never there.
struct Workpiece {
    design::Band band;  ///< with the width, edges, outside and bore that it has by then
    double bore = 0;    ///< mm, radius at mid-width of the innermost body
    double joint = 0;  ///< mm, radius of the band's own inside at mid-width; the bore while there is no liner
    double outside = 0;  ///< mm, largest radius
    bool lined = false, channelled = false, drilled = false, filled = false;
    bool trued = false;  ///< fills stand where they belong; before, over the outside
    bool joined = false, set = false, closed = false;  ///< tubes, stones and lips

    bool operator==(const Workpiece&) const = default;
};

/// A step that is not on the design's route counts as done last.
Workpiece workpiece(const design::Design& design, design::Stage stage);

/// Radius in mm of its outside over z, before channels are cut and edges bevelled or rounded.
double outsideAt(const Workpiece& piece, double z);

/// The metal alone, as it is turned: holes, fills, tubes and stones ignored.
Workpiece turnedMetal(Workpiece piece);

/// Whether a setting's tube or stone stands in the ring by then: a tube once it is joined, a stone once it is
/// set in what it is set in.
bool hasTube(const Workpiece& piece, const design::Setting& setting);
bool hasStone(const Workpiece& piece, const design::Setting& setting);

}  // namespace bandwright::geometry
