#include "design/design.hpp"

#include <cmath>

namespace bandwright::design {

double boreRadius(const Design& design) {
    return (trade::innerDiameter(design.finger.size) + design.finger.widthCorrection) / 2;
}

double linerRadius(const Design& design) {
    return boreRadius(design) + (design.band.liner ? design.band.liner->thickness : 0);
}

double outsideRadius(const Design& design) {
    return boreRadius(design) + design.band.thickness;
}

std::vector<double> placedAngles(const Placement& placement) {
    std::vector<double> angles = placement.angles;
    if (angles.empty()) {
        const double step = placement.spacing != 0 ? placement.spacing : 360.0 / placement.count;
        for (int i = 0; i < placement.count; ++i)
            angles.push_back(placement.start + i * step);
    }
    for (double& angle : angles)
        angle -= 360 * std::floor(angle / 360);
    return angles;
}

}  // namespace bandwright::design
