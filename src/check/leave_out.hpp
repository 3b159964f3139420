#pragma once

#include <string>
#include <vector>

#include "check/check.hpp"

/// What cannot be had taken away: the last resort of remedies.
namespace bandwright::check {

/// The parts of a design that can be left out, by their paths: "settings[1].stone", "settings[1]",
/// "channels[0].fill", "band.liner". Those that a measure touches first, and of these the least first.
std::vector<std::string> partsToLeaveOut(const design::Design& design, const Measure& measure);

/// The design without that part; the same design when it has none there.
design::Design without(const design::Design& design, const std::string& part);

/// The same ring with that setting or channel as the last of its kind, so that what is left keeps its number
/// without it. Of other parts the design as it is.
design::Design withLast(const design::Design& design, const std::string& part);

/// The id of a measure of that kind of part in the ring that has the part as the last.
std::string idWithLast(const std::string& id, const std::string& part, const design::Design& design);

/// "Leave out the stone of setting 2".
std::string leaveOutText(const design::Design& design, const std::string& part);

}  // namespace bandwright::check
