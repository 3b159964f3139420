#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "design/route.hpp"
#include "geometry/feature.hpp"
#include "geometry/vector.hpp"

/// The work at the bench as plain values: what is held, cut and read at each step.
namespace bandwright::route {

/// What a reading is taken with.
enum class Instrument : std::uint8_t {
    Rule,
    Caliper,
    Micrometer,
    DepthGauge,   ///< caliper's rod or a depth micrometer, from the surface as it is then
    BoreGauge,    ///< caliper's inner jaws, a bore gauge or plugs
    RingMandrel,  ///< a stepped or tapered stick with ring sizes
    PinGauge,     ///< plain pins or drill shanks, for holes
    BallGauge,    ///< micrometer with a ball anvil, for a wall over a curved bore
    Scales,
    Protractor,
};

/// "caliper", "depth gauge".
std::string name(Instrument instrument);

/// How the two places of a reading lie to each other.
enum class Span : std::uint8_t {
    Diameter,  ///< across the ring: twice the radius of the one place
    Along,     ///< along the axis, between two z
    Radial,    ///< along the radius, between two r: a depth or a wall
    HoleDiameter,
    Angle,  ///< degrees
    Mass,   ///< grams
};

/// What an instrument says when an operation is done. The number follows from the ring at that stage: of a
/// diameter twice from.r (and what a loose part is larger), of a length from.z to to.z, of a depth or wall
/// from.r to to.r.
struct Reading {
    std::string what;  ///< "Bore", "Depth of the channel"
    Instrument instrument = Instrument::Caliper;
    Span span = Span::Diameter;
    geometry::Tag fromTag, toTag;
    geometry::Vec2 from, to;  ///< in the half-plane, mm
    double value = 0;         ///< mm, degrees or grams by its span
    double least = 0, most = 0;
    double loose = 0;   ///< mm that a part by itself is larger than it is in the ring: a press fit
    std::string size;   ///< the same as a ring size, where it is one: "US 9 1/4"
    std::string field;  ///< the number of the design that decides it; empty for none
};

/// How material is cut away.
struct Cut {
    double speed = 0;      ///< m/min, as wanted
    double diameter = 0;   ///< mm, where that speed counts: of the work, or of the drill
    double spindle = 0;    ///< rev/min, as set
    bool clipped = false;  ///< the machine cannot turn as fast as wanted
    double feed = 0;       ///< mm a turn; 0 = by hand
    /// From a zero touched off on the surface as it is, what the dial says at the end of each pass, mm; on
    /// the radius or along the axis. The last is all that is removed.
    std::vector<double> dial;
    std::string along;  ///< what the dial counts: "on the radius", "along the axis"
    /// Of plunges beside each other: where the tool's right-hand corner stands at each, mm along the axis to
    /// the left of the right-hand face as it is then.
    std::vector<double> across;
    std::string source;  ///< of the speed
};

/// One place of the dividing head, set from the first so that errors do not add up.
struct Indexing {
    int place = 0;            ///< of the hole, from 1
    double angle = 0;         ///< degrees from the first
    int turns = 0;            ///< whole turns of the crank, or whole degrees
    int holes = 0;            ///< and holes more
    int circle = 0;           ///< in this circle; 0 = none needed
    double errorMinutes = 0;  ///< minutes of arc it is off, with its sign
    std::string set;          ///< the same in words: "2 turns and 16 holes of 18", "hole 8 of 24"
};

/// One layer of a fill.
struct Layer {
    double depth = 0;                 ///< mm
    double grains = 0, adhesive = 0;  ///< grams
    double drops = 0;                 ///< of the adhesive out of its bottle; 0 = it is weighed out
    double waitMinutes = 0;
};

/// A wall of the ring at the end of an operation, or the gauge that stands worst then.
struct Tightest {
    std::string what;  ///< the finding's name
    std::string value, limit;
    std::string verdict;
};

/// One thing to do, from setting up to the reading.
struct Operation {
    design::Stage stage = design::Stage::Blank;
    std::string name;  ///< "Bore to 17.8 mm"
    std::string hold;  ///< how the work is held
    std::string tool;  ///< which one, from the drawer where it is there
    std::optional<Cut> cut;
    std::vector<std::string> doing;  ///< what to do, in order, a sentence each
    std::vector<Indexing> indexing;
    std::vector<Layer> layers;
    std::vector<Reading> readings;
    std::vector<std::string> cautions;
    std::vector<std::string> missing;  ///< what the workshop file does not tell and would matter here
    double minutes = 0;                ///< a first guess, until the maker's own is known
};

/// What a step of the route leaves.
struct StageWork {
    design::Stage stage = design::Stage::Blank;
    std::vector<Operation> operations;
    double volume = 0;                    ///< mm3 of band and liner when it is done
    double chips = 0;                     ///< mm3 of the band's metal it takes away
    double mass = 0, chipMass = 0;        ///< the same in grams
    std::optional<Tightest> wall, gauge;  ///< least wall left, worst gauge at this stage
    double hours = 0;                     ///< the maker's own, else the sum of the minutes
    bool ownHours = false;
};

}  // namespace bandwright::route
