#pragma once

#include <string>
#include <vector>

#include "job.hpp"
#include "route/operation.hpp"

/// What the operations at the lathe share. Private to the room.
namespace bandwright::route {

/// An operation of the job's step, with nothing told yet but its name.
Operation operationFor(const Job& job, std::string name);

/// A design that is planned has passed requireMaterials.
const trade::Metal& bandMetal(const Job& job);

/// A single-point tool on the band's metal at a diameter in mm.
Cut turningCut(const Job& job, double diameter);

/// Says what the lathe cannot do, or that its speeds are not told.
void noteSpeed(const Job& job, Operation& operation);

/// Its outside turned at a feed from what is there before the step: "Turn the outside to 24.55 mm". `tool`
/// goes before what the tool is made of.
Operation onTheOutside(const Job& job, const std::string& verb, const std::string& tool, double feed);

/// A first guess: a setting of five minutes, and each pass at its feed with a third of a minute to come back.
double minutesOf(const Cut& cut, double travel);

/// Adds the operation that gives the outside its dome, hollow or ridge; nothing for a flat one.
void appendShaping(const Job& job, std::vector<Operation>& operations);

}  // namespace bandwright::route
