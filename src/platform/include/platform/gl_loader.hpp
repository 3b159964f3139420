#pragma once

namespace bandwright::platform {

/// Finds an OpenGL function of the current context by its name.
using GlLoader = void (*(*)(const char* name))();

/// Has the system's OpenGL draw without a graphics card from the next context on. Another platform may do
/// nothing.
void drawInSoftware();

}  // namespace bandwright::platform
