#pragma once

#include <filesystem>

namespace bandwright::platform {

/// Has the desktop show the folder in its own window, and does not wait for it. Whether there is a desktop
/// that can: on systems of freedesktop.org the program xdg-open. A platform without one returns false.
bool showFolder(const std::filesystem::path& folder);

}  // namespace bandwright::platform
