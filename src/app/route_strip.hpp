#pragma once

#include <optional>
#include <span>

#include "app/theme.hpp"
#include "check/check.hpp"

namespace bandwright::app {

/// Height of the strip at scale 1.
inline constexpr float kRouteStripHeight = 60;

/// The stages of a ring in a row. Marks show the current stage and those at which a finding is no-go or
/// marginal. A press on a stage, or a drag along the row, asks for it. Private to the room.
std::optional<design::Stage> routeStrip(const Theme& theme, std::span<const design::Stage> stages,
                                        design::Stage shown, const check::Report& report, ImVec2 corner,
                                        float width);

}  // namespace bandwright::app
