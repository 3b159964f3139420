#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"
#include "design/design.hpp"
#include "geometry/workpiece.hpp"
#include "route/operation.hpp"
#include "route/quantities.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

namespace bandwright::route {

/// The whole work of a ring, in the order of its route.
struct Plan {
    std::vector<StageWork> stages;  ///< of the steps that do something to this ring
    Quantities quantities;
};

/// Throws InputError as check does. Where the workshop does not tell what an operation needs, usual tools are
/// taken and the operation names what is missing.
Plan plan(const design::Design& design, const trade::Catalogue& catalogue, const trade::Workshop& workshop,
          const check::Report& report);

/// Throws InputError where the workshop has hours for a step that no route has.
void requireSteps(const trade::Workshop& workshop);

/// How the ring stands after a step in this workshop: as geometry::workpiece has it, but with the outside of
/// the stock that is taken until it is turned, and the hole of the drill or the tube until it is bored.
geometry::Workpiece inThisWorkshop(const design::Design& design, const trade::Catalogue& catalogue,
                                   const trade::Workshop& workshop, design::Stage stage);

}  // namespace bandwright::route
