#include "trade/tools.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bandwright::trade {

double Dividing::error(const std::vector<double>& angles) const {
    if (angles.empty()) return 0;
    double best = std::numeric_limits<double>::infinity();
    for (const int holes : circles) {
        const double step = 360 / (ratio * holes);
        double worst = 0;
        for (const double angle : angles)
            worst = std::max(worst, std::abs(std::remainder(angle - angles.front(), step)));
        best = std::min(best, worst);
    }
    return best;
}

Tools usualTools() {
    // Plates of a standard double-sided kind: US Army OD16448.
    return {
        {4, 6, 8},
        {0.4, 0.5, 0.8, 1, 1.5, 2},
        2,
        {40, {24, 25, 28, 30, 34, 37, 38, 39, 41, 42, 43, 46, 47, 49, 51, 53, 54, 57, 58, 59, 62, 66}},
        "the usual tools, common practice, no source: steel boring bars of 4, 6 and 8 mm, grooving blades "
        "from 0.4 mm, a parting blade of 2 mm, a dividing head of 40 to 1 with plates of 24 to 66 holes"};
}

}  // namespace bandwright::trade
