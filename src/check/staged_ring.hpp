#pragma once

#include <span>
#include <vector>

#include "geometry/ring.hpp"

namespace bandwright::check {

/// The ring at one stage, as the measures look at it: a view of what `stages.cpp` has worked out, which no
/// measure changes.
struct StagedRing {
    const design::Design& design;
    const geometry::Workpiece& piece;
    design::Stage stage;                                 ///< under which what is measured is reported
    const std::vector<geometry::SettingBodies>& bodies;  ///< of each setting, as in the finished ring
    const geometry::RingSections& plain;                 ///< band and liner; fills left out
    std::span<const geometry::Section> drilled;  ///< the band through the hole of each setting; none before
                                                 ///< they are drilled
    double quietAngle = 0;                       ///< radians round the band, farthest from all holes
};

/// What stands in the hole of each setting. A stone that several settings share is cut once.
std::vector<geometry::SettingBodies> allBodies(const design::Design& design);

/// A body's plain section with the hole of each setting taken out.
std::vector<geometry::Section> drilledAtEach(const geometry::Section& plain, const design::Design& design);

/// Radians; the middle of the widest stretch between holes, 0 without any.
double angleAwayFromHoles(const design::Design& design);

/// The angle in radians of the first hole of a setting.
double holeAngle(const design::Design& design, std::size_t setting);

/// The place in space of a point of the section at an angle in radians round the band.
geometry::Vec3 placed(geometry::Vec2 point, double angle);

}  // namespace bandwright::check
