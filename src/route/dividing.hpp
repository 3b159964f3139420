#pragma once

#include <string>
#include <vector>

#include "route/operation.hpp"
#include "trade/workshop.hpp"

/// Dividing the round: what the crank of a dividing head, an indexer or a plate of holes is set to.
namespace bandwright::route {

/// What is taken where the workshop has told of no divider: a head of 40 to 1 with the plates of usualTools.
trade::Divider usualDivider();

/// Readings for angles in degrees round the band, in their order. Each counts from `zero`, the angle at which
/// the first hole is made, so that errors do not add up; `circle` is that of all readings, 0 where the crank
/// makes whole turns alone. Turns = angle x ratio / 360 (Machinery's Handbook: 9 degrees a turn at 40 to 1).
std::vector<Indexing> indexed(const std::vector<double>& angles, double zero, const trade::Divider& divider,
                              int circle);

/// The one circle of holes by which the worst of these angles comes out best, the smallest of equals; 0 where
/// whole turns or whole degrees are exact, or there is no circle.
int bestCircle(const std::vector<double>& angles, double zero, const trade::Divider& divider);

/// The angle in degrees from the zero that a reading sets.
double angleSet(const Indexing& reading, const trade::Divider& divider);

/// "the zero", "13 turns and 5 holes of 15", "120 degrees", "hole 8 of 24".
std::string inWords(const Indexing& reading, const trade::Divider& divider);

}  // namespace bandwright::route
