#pragma once

#include <vector>

#include "geometry/ring.hpp"

namespace bandwright {

/// The ring at one stage, as the measures look at it.
struct StagedRing {
    const Design& design;
    Workpiece piece;
    Stage stage;
    const std::vector<SettingBodies>& bodies;  ///< of each setting, as in the finished ring
    RingSections plain;
    std::vector<Section>
        drilled;            ///< the band through the hole of each setting; none before they are drilled
    double quietAngle = 0;  ///< radians round the band, farthest from all holes
};

/// What stands in the hole of each setting. A stone that several settings share is cut once.
std::vector<SettingBodies> allBodies(const Design& design);

/// Takes the holes out of its plain section.
void drill(StagedRing& ring);

/// Radians; the middle of the widest stretch between holes, 0 without any.
double angleAwayFromHoles(const Design& design);

/// The angle in radians of the first hole of a setting.
double holeAngle(const Design& design, std::size_t setting);

/// The place in space of a point of the section at an angle in radians round the band.
Vec3 placed(Vec2 point, double angle);

}  // namespace bandwright
