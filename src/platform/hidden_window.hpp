#pragma once

struct GLFWwindow;

namespace bandwright::platform {

/// A window that is never shown, whose context of OpenGL 4.1 is current; nullptr where there is no display,
/// or none with that.
GLFWwindow* hiddenWindow(bool debug);

}  // namespace bandwright::platform
