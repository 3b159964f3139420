#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "geometry/ring.hpp"
#include "job.hpp"
#include "route/operation.hpp"

/// Places on the ring at a step, and readings between them. Private to the room.
namespace bandwright::route {

struct Place {
    geometry::Tag tag;
    geometry::Vec2 at;
};

/// Across the ring at one place, along the axis between two, or along the radius between two.
Reading diameterReading(std::string what, Instrument instrument, const Place& at, double plusMinus);
Reading alongReading(std::string what, Instrument instrument, const Place& from, const Place& to,
                     double plusMinus);
Reading radialReading(std::string what, Instrument instrument, const Place& from, const Place& to,
                      double plusMinus);

/// The radius in mm of a segment over z; nothing beside it.
std::optional<double> radiusAt(const geometry::Segment& segment, double z);

/// Where the outside, or what is left of it, stands over z; nothing where a channel or an edge is.
std::optional<Place> outsidePlace(const geometry::Section& band, double z);

/// The narrowest place of the bore, of the liner where there is one; nothing where channels have left none.
std::optional<Place> borePlace(const geometry::RingSections& plain);

/// The middle of the longest stretch of an edge face; nothing where a channel has taken it.
std::optional<Place> edgeFace(const geometry::Section& band, geometry::Side side);

/// Plus or minus that is kept on a number of the design; 0 where none is.
double toleranceOf(const Job& job, std::string_view field);

/// That of ISO 2768-1 for a length that a later step goes over, at most half of what is left for it.
double passingTolerance(const Job& job, double length, double left);

/// The least slack in mm, never negative, that a rule leaves a measure over the whole route; nothing where
/// nothing was judged by it. `measure` is its id, "floor-wall@2".
std::optional<double> slackOf(const check::Report& report, std::string_view rule, std::string_view measure);

/// A bore's diameter in mm as a size of the system the client named; empty where that is in mm as well.
std::string sizeOf(const design::Design& design, double diameter);

/// Whether the ring is off its bar when the step begins.
bool isOffTheBar(const Job& job);

/// How it is held when its outside or edges are worked on: in the chuck on its bar, else on a mandrel; tells
/// what is missing.
std::string heldForOutside(const Job& job, Operation& operation);

/// "17.8 mm": to the hundredth, or the thousandth where that is needed.
std::string inMm(double value);

/// What every operation of a metal is to heed.
std::vector<std::string> metalCautions(const Job& job, std::string_view metal);

}  // namespace bandwright::route
