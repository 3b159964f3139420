#pragma once

namespace bandwright::platform {

/// Finds an OpenGL function of the current context by its name.
using GlLoader = void (*(*)(const char* name))();

}  // namespace bandwright::platform
