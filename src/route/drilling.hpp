#pragma once

#include <vector>

#include "route/operation.hpp"

/// The sums of drilling radial holes. Private to the room.
namespace bandwright::route {

/// mm a turn in a metal that is drilled at so many m/min. US Navy 14345: 0.025 to 0.05 below 3.2 mm, 0.05 to
/// 0.10 to 6.4, 0.10 to 0.18 to 12.7, the lower end in hard metals, which are those drilled slower than 20
/// m/min; below 1.5 mm 0.01 to 0.02, from memory.
double holeFeed(double diameter, double speed);

/// What is left of speed and feed in a hole so many diameters deep. A maker's guide to twist drills: from 3
/// diameters on 0.9 and 0.9, from 4 on 0.8 and 0.9, from 5 on 0.7 and 0.8, from 6 on 0.62 and 0.8.
struct DeepHole {
    double speed = 1, feed = 1;
};
DeepHole deepHole(double diameters);

/// The depths in mm at which the drill is drawn out to clear its chips, the last the depth itself: in one go
/// down to two diameters, then by one diameter in metals that cut freely and by half of one in others
/// (Norseman, Kennametal/Greenfield: one pass to 2 or 3 diameters; the rest from memory).
std::vector<double> pecks(double depth, double diameter, double speed);

}  // namespace bandwright::route
