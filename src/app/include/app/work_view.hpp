#pragma once

#include "app/planner.hpp"
#include "app/session.hpp"
#include "app/theme.hpp"

namespace bandwright::app {

/// The operations of the step shown in the route strip: tool, speed, dial, readings with their limits,
/// cautions. Draws into the current ImGui window.
void workView(const Session& session, const Planner& planner, const Theme& theme);

}  // namespace bandwright::app
