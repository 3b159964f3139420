#pragma once

#include <span>
#include <vector>

#include "geometry/ring.hpp"

namespace bandwright {

/// The ring at one stage, as the measures look at it: a view of what `stages.cpp` has worked out, which no
/// measure changes.
struct StagedRing {
    const Design& design;
    const Workpiece& piece;
    Stage stage;                               ///< under which what is measured is reported
    const std::vector<SettingBodies>& bodies;  ///< of each setting, as in the finished ring
    const RingSections& plain;                 ///< band and liner; fills left out
    std::span<const Section> drilled;  ///< the band through the hole of each setting; none before they are
                                       ///< drilled
    double quietAngle = 0;             ///< radians round the band, farthest from all holes
};

/// What stands in the hole of each setting. A stone that several settings share is cut once.
std::vector<SettingBodies> allBodies(const Design& design);

/// A body's plain section with the hole of each setting taken out.
std::vector<Section> drilledAtEach(const Section& plain, const Design& design);

/// Radians; the middle of the widest stretch between holes, 0 without any.
double angleAwayFromHoles(const Design& design);

/// The angle in radians of the first hole of a setting.
double holeAngle(const Design& design, std::size_t setting);

/// The place in space of a point of the section at an angle in radians round the band.
Vec3 placed(Vec2 point, double angle);

}  // namespace bandwright
