#pragma once

#include <string>
#include <vector>

/// What stands in the workshop, as far as the checks need it.
namespace bandwright::trade {

/// How a round is divided.
struct Dividing {
    double ratio = 40;         ///< turns of the crank for one of the spindle
    std::vector<int> circles;  ///< holes in each circle of its plates

    bool operator==(const Dividing&) const = default;

    /// The largest error in degrees when these angles round the ring, in degrees, are set by one circle of
    /// holes, the first of them at zero: the circle that does best.
    double error(const std::vector<double>& angles) const;
};

struct Tools {
    std::vector<double> boringBars;      ///< diameters in mm, of steel
    std::vector<double> groovingBlades;  ///< widths in mm
    double partingBlade = 2;             ///< width in mm
    Dividing dividing;
    std::string source;

    bool operator==(const Tools&) const = default;
};

/// What is usual; the maker's own list stands in for it.
Tools usualTools();

}  // namespace bandwright::trade
