#pragma once

#include <algorithm>
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

/// That of ISO 2768-1 for a length that a later step goes over, at most half of what is left for it, and no
/// finer than a fit.
double passingTolerance(const Job& job, double length, double left);

/// Plus or minus, but no more than the walls beside a feature have to spare over the whole route before one
/// is no-go; 0 where one is. The test is of a tag.
double withinWalls(const Job& job, double plusMinus, auto&& isBeside) {
    for (const check::Finding& finding : job.report.findings) {
        const check::Measure& measure = job.report.measures[finding.measure];
        if (finding.group != check::Group::Walls || finding.sense != check::Sense::AtLeast) continue;
        if (measure.unit != "mm" || !(isBeside(measure.fromTag) || isBeside(measure.toTag))) continue;
        plusMinus = std::min(plusMinus, std::max(0.0, measure.value - finding.limit));
    }
    return plusMinus;
}

/// A bore's diameter in mm as a size of the system the client named; empty where that is in mm as well.
std::string sizeOf(const design::Design& design, double diameter);

/// Whether the ring is off its bar when the step begins.
bool isOffTheBar(const Job& job);

/// "On the mandrel of 18 mm, opened or packed to the bore of 19.15 mm"; tells what is missing.
std::string mandrelFor(const Job& job, Operation& operation);

/// How it is held when its outside or edges are worked on: in the chuck on its bar, else on a mandrel; tells
/// what is missing.
std::string heldForOutside(const Job& job, Operation& operation);

/// "17.8 mm": to the hundredth, or to so many decimals.
std::string inMm(double value, int decimals = 2);

/// "45" or "4.5": degrees to the tenth.
std::string inDegrees(double value);

/// What every operation of a metal is to heed.
std::vector<std::string> metalCautions(const Job& job, std::string_view metal);

}  // namespace bandwright::route
