#pragma once

#include <string>

namespace bandwright::platform {

/// Says something in a window of its own, which needs no OpenGL, until the person closes it or presses a key:
/// who started the program from the desktop sees no standard error. False where there is no display for it.
/// Another platform provides what it has for such a thing.
bool showNotice(const std::string& title, const std::string& text);

}  // namespace bandwright::platform
