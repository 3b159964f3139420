#pragma once

#include "design/design.hpp"

/// The ring that follows from what was read on it at the bench. The plan stays as it is; readings stand
/// beside it (design/measured.hpp).
namespace bandwright::geometry {

/// The design with each number that a reading tells in place of the planned one, in the order of the route. A
/// later reading does not move what an earlier one found: where the outside is trued lower than planned, what
/// was left for that grows and channels and seats already cut are less deep by as much. What is not cut yet
/// keeps its planned number: a ring bored larger before it is turned keeps its thickness, after that its
/// outside. The same design when there is nothing measured, and when it is done twice.
/// Throws InputError, naming the reading, where the thing read is not there at that step, metal would have
/// had to grow, or the numbers that follow lie outside their fields' ranges.
design::Design asMeasured(const design::Design& plan);

}  // namespace bandwright::geometry
