#pragma once

#include <cstddef>
#include <vector>

#include "job.hpp"

/// The holes of one setting, from the spot to the countersink. Private to the room.
namespace bandwright::route {

/// How the round is divided for all holes of a ring.
struct Dividing {
    trade::Divider divider;
    int circle = 0;   ///< of holes, the same for all; 0 = none needed
    double zero = 0;  ///< degrees round the band at which the readings are zero
};

/// The job's step is Drilled.
std::vector<Operation> drillSetting(const Job& job, std::size_t setting, const Dividing& dividing);

}  // namespace bandwright::route
