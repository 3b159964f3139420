#pragma once

#include "app/keys.hpp"

/// What GLFW calls them. Private to the room.
namespace bandwright::app {

Key keyOfGlfw(int key);

/// The sum of Modifiers for GLFW's modifier bits.
int modifiersOfGlfw(int modifiers);

}  // namespace bandwright::app
