#pragma once

#include <imgui.h>

/// What the rows of the job card share.
namespace bandwright::app {

inline constexpr float kLabelWidth = 112;  ///< at scale 1
inline constexpr float kRowHeight = 28;    ///< at scale 1

inline ImVec2 plus(ImVec2 a, float x, float y) {
    return {a.x + x, a.y + y};
}

}  // namespace bandwright::app
