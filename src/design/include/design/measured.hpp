#pragma once

#include <optional>
#include <string>
#include <vector>

#include "design/design.hpp"

/// What was read on the ring at the bench, and the ring that follows from it. The plan stays as it is;
/// readings stand beside it.
namespace bandwright::design {

/// The latest step that a reading was taken after: it and all before it are done. Nothing without readings.
std::optional<Stage> doneSoFar(const Design& design);

bool isDone(const Design& design, Stage step);

/// "19.55 mm"; "4.79 g".
std::string inWords(const Measured& reading);

/// What the scale said last in the order of the work; nullptr where nothing was weighed.
const Measured* lastMass(const Design& design);

/// Whether an operation was ticked, and the design with the tick set, on that day, or taken away.
bool isTicked(const Design& design, Stage stage, const std::string& operation);
Design withTick(Design design, Stage stage, const std::string& operation, bool isTicked,
                const std::string& date);

/// Whether two designs differ in nothing but what is ticked, so that they are the same ring.
bool differInTicksAlone(const Design& a, Design b);

/// Whether a step is done once the step `at` is.
bool isDoneBy(const Route& route, Stage step, Stage at);

/// Paths of the fields, with "#" for any place in a list, that the steps done so far have decided. Nothing
/// can change them any more.
std::vector<std::string> settledFields(const Design& design);

/// Whether another design has the same settled fields as this one, and the steps done so far in the same
/// order.
bool keepsSettled(const Design& design, const Design& other);

/// The plan with every field that differs between two designs as the second has it.
Design replanned(const Design& plan, const Design& from, const Design& to);

}  // namespace bandwright::design
