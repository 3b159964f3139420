#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"
#include "design/design.hpp"
#include "geometry/part.hpp"
#include "route/quote.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// What tells one ring from another, as it is said to a client.
namespace bandwright::app {

/// A ring and what was worked out from it.
struct RingInFigures {
    design::Design design;
    double mass = 0;                    ///< g, of the finished ring
    bool hasPrice = false;              ///< whether the workshop tells any
    std::string notPriced;              ///< why the ring cannot be priced; empty if it can
    route::Cents price = 0;             ///< with tax
    std::string currency;               ///< may be empty
    std::vector<std::string> unpriced;  ///< what the price leaves out, since nothing was told of it
};

/// Weighs the ring, `made` of the design as measured so far, and prices it by the workshop.
RingInFigures inFigures(const design::Design& design, const design::Design& made, const check::Report& report,
                        const std::vector<geometry::SolidPart>& bodies, const trade::Catalogue& catalogue,
                        const trade::Workshop& workshop);

/// Differences of one kind.
struct Differences {
    std::string heading;             ///< "Look"
    std::vector<std::string> lines;  ///< never empty
};

/// What `to` has instead of `from`: size, mass and price, the look, and then what a client does not see.
/// Mass and price are told of both even where they are the same; a kind without differences is left out.
std::vector<Differences> differences(const RingInFigures& from, const RingInFigures& to,
                                     const trade::Catalogue& catalogue);

}  // namespace bandwright::app
