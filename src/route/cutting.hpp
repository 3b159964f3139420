#pragma once

#include <string>
#include <vector>

#include "route/operation.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

/// The sums of cutting, as pure functions. Private to the room.
namespace bandwright::route {

/// rev/min at which a diameter in mm runs at a speed in m/min: n = 1000 v / (pi d), Machinery's Handbook.
double spindleSpeed(double speed, double diameter);

/// Length in mm of a drill's point of that angle in degrees: d / 2 / tan(angle / 2).
double drillPoint(double diameter, double angle);

/// A cutting speed in m/min, the tool it is for, and where it comes from.
struct Speed {
    double value = 0;
    std::string tool;
    std::string source;
};

/// Of a single-point tool. Where the catalogue has none for high-speed steel, that runs at half the speed of
/// carbide, as the table after Machinery's Handbook says of titanium, brass and copper; where it does not do
/// at all, carbide is told.
Speed turningSpeed(const trade::Metal& metal, trade::ToolMaterial tool);

/// Of a twist drill of high-speed or cobalt steel.
Speed drillingSpeed(const trade::Metal& metal);

/// mm a turn for a twist drill by its diameter in mm: US Navy 14345, the middle of each range.
double drillFeed(double diameter);

/// What a rigid small lathe takes at once, mm on the radius. Common practice, no source: our own choice by
/// how slowly the metal is turned, which tells how hard it is on the tool.
struct Bite {
    double roughing = 0, finishing = 0;  ///< turning and boring
    double plunge = 0;                   ///< a blade straight in, between two times that chips are cleared
};
Bite biteOf(const trade::Metal& metal);

/// mm a turn on work as small as a ring: a fifth of what TM 43-0106 gives for 25 mm stock; of a blade, common
/// practice, no source.
inline constexpr double kRoughFeed = 0.08, kFinishFeed = 0.04, kBladeFeed = 0.03;

/// What the dial says at the end of each pass, mm from a zero touched off: passes of `roughing` each, what is
/// left of that in one more, and a last one of `finishing`, or up to 0.02 more. The last is `total`. Empty
/// when there is nothing to take.
std::vector<double> dialOf(double total, double roughing, double finishing);

/// The spindle set for that speed on that diameter, and whether the machine is too slow. A machine that is
/// not told is taken to reach any speed.
Cut cutAt(const Speed& speed, double diameter, const std::optional<trade::Spindle>& spindle);

/// How a cone is turned with the compound slide: set at an angle to the ring's axis and fed along itself,
/// while the cross slide gives the depth.
struct CompoundSetting {
    double angle = 0;   ///< degrees from the axis
    double travel = 0;  ///< mm the slide runs along the finished cone
    double radial = 0;  ///< mm the cross slide goes in from where the tool touches the sharp corner
    double axial = 0;   ///< or mm the carriage goes along
    double square = 0;  ///< mm of metal over the finished cone, square to it
};

/// For a corner of 90 degrees: the legs are what the cone takes along the axis and along the radius, mm.
CompoundSetting compoundFor(double axialLeg, double radialLeg);

}  // namespace bandwright::route
