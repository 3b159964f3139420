#pragma once

#include "app/keys.hpp"

/// Translates GLFW's keys and modifiers. Private to the room.
namespace bandwright::app {

Key keyOfGlfw(int key);

/// The sum of Modifiers for GLFW's modifier bits.
int modifiersOfGlfw(int modifiers);

}  // namespace bandwright::app
