#pragma once

#include <cstddef>
#include <optional>
#include <string>

#include "design/design.hpp"
#include "drawing/drawing.hpp"
#include "geometry/ring.hpp"

/// The cross-section of a ring as a drawing. Every number in it is measured on the sections at that stage and
/// rounded once, to 0.01 mm.
namespace bandwright::drawing {

/// Something to point out in a drawing: a length between two places of the section, mm of the ring.
struct PointedOut {
    geometry::Vec2 from, to;
    std::string words;

    bool operator==(const PointedOut&) const = default;
};

/// The plain section: width, thickness, bore, edges, and each channel's width, depth and floor, and how far
/// from the nearer edge it begins where it is not in the middle. `plain` is
/// the design's at that stage.
Drawing sectionDrawing(const design::Design& design, design::Stage stage, const geometry::RingSections& plain,
                       const Layout& layout, const std::optional<PointedOut>& pointedOut = {});

/// The section through the middle of a setting's hole: the hole while it is empty, later the tube, the stone
/// and the metal under it, and how far its axis stands from the nearer edge. `plain` and `through` are the
/// design's at that stage.
Drawing settingDrawing(const design::Design& design, design::Stage stage, std::size_t setting,
                       const geometry::RingSections& plain, const geometry::SettingSection& through,
                       const Layout& layout, const std::optional<PointedOut>& pointedOut = {});

}  // namespace bandwright::drawing
