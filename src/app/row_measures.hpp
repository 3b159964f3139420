#pragma once

#include <imgui.h>

/// What the rows of the job card share.
namespace bandwright::app {

inline constexpr float kLabelWidth = 128;  ///< at scale 1, with the lock mark at its end
inline constexpr float kLockWidth = 16;    ///< at scale 1
inline constexpr float kRowHeight = 28;    ///< at scale 1

inline ImVec2 plus(ImVec2 a, float x, float y) {
    return {a.x + x, a.y + y};
}

}  // namespace bandwright::app
