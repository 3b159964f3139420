#pragma once

#include <optional>
#include <string>
#include <vector>

#include "design/design.hpp"
#include "route/operation.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// What is taken from the drawer and the rack for a job. Where the workshop does not tell, the usual is
/// taken. Private to the room.
namespace bandwright::route {

/// The bar or tube a ring is turned from.
struct Piece {
    trade::Stock stock;
    bool atHand = false;   ///< told by the workshop, of this metal
    bool suffices = true;  ///< large enough; the largest there is where none is
    bool toOrder = false;  ///< made to size: a tube or a cast ring
    double standsOut = 0;  ///< mm in front of the jaws: ring, facing, parting and 3 mm of room
    double used = 0;       ///< mm of it that the ring takes: ring, facing on both sides, parting
    double length = 0;     ///< mm to have: used, and the grip of the chuck
    double volume = 0;     ///< mm3 of what is used
};

/// The smallest that suffices: its outside may be under that of the designed blank as long as 0.25 mm on the
/// radius are left to turn off, for a bar is neither round nor runs true; a tube's bore leaves as much to the
/// boring bar. One of this metal at hand goes before sizes that are sold: ASTM B348 and common practice, no
/// source. Nobody drills out a bar of precious metal: without stock of it a tube or cast ring of the designed
/// blank is ordered.
Piece pieceFor(const design::Design& design, const trade::Catalogue& catalogue,
               const trade::Workshop& workshop);

/// What a liner is turned from.
struct LinerPiece {
    trade::Stock stock;
    bool atHand = false;  ///< told by the workshop, of the liner's metal
    double used = 0;      ///< mm of it that the liner takes: its length and what is faced off
};

/// The smallest stock of the liner's metal that leaves 0.25 mm on the radius to turn off inside and outside
/// (our own choice), of two alike the tube. Where there is none, a tube of just that size, to be bought.
LinerPiece linerPieceFor(const design::Design& design, const trade::Workshop& workshop);

/// "tube for the liner, 20.5 mm by 18.7 mm"; "bar for the liner, 22 mm".
std::string linerStockText(const trade::Stock& stock);

/// Diameters of the drills in the drawer, rising; usual ones from 1 to 13 mm where none is told.
std::vector<double> drillsOf(const trade::Workshop& workshop);

/// The largest of sizes that is no larger than asked; nothing where all are.
std::optional<double> largestUpTo(const std::vector<double>& sizes, double most);

/// Diameter in mm of the hole the blank is drilled with: the largest drill that leaves 0.25 mm on the radius
/// to the boring bar; that of a tube where it has one; the smallest drill where all are larger.
double blankHole(const design::Design& design, const trade::Catalogue& catalogue,
                 const trade::Workshop& workshop);

/// A boring bar for a hole and a depth, both mm: the thickest that leaves a seventh of the hole free on
/// either side and reaches; the one that comes nearest where none does.
struct ChosenBar {
    trade::BoringBar bar;
    bool told = false;    ///< stands in the drawer
    bool reaches = true;  ///< as far as it stands out, and within its limit in diameters
    double slender = 0;   ///< the depth in diameters of the bar
    double most = 4;      ///< diameters it may stand out: 4 of steel, 6 of carbide (Widia)
};
ChosenBar boringBarFor(const trade::Workshop& workshop, double hole, double depth);

/// The widest blade no wider than a channel's floor and with corners no larger than its corner radius; where
/// none fits, the narrowest.
struct ChosenBlade {
    trade::Blade blade;
    bool told = false;
    bool fits = true;
};
ChosenBlade groovingBladeFor(const trade::Workshop& workshop, double width, double noseRadius);

/// The parting blade, or the usual one.
trade::Blade partingBladeOf(const trade::Workshop& workshop);

/// What an outside diameter is read with.
Instrument outsideInstrument(const trade::Workshop& workshop);

}  // namespace bandwright::route
