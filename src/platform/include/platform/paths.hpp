#pragma once

#include <filesystem>
#include <string_view>

/// Where things lie on this system.
namespace bandwright::platform {

/// The path from the root on, without "." and ".."; unchanged where the folder that relative paths begin at
/// is gone. Never throws for what it finds on the disk.
std::filesystem::path absolutePath(const std::filesystem::path& path);

/// The person's own folder; empty where there is none.
std::filesystem::path homeFolder();

/// Where a program remembers things between runs: $XDG_STATE_HOME/bandwright, or ~/.local/state/bandwright
/// (XDG Base Directory Specification 0.8). Empty when neither variable is set, and where there is no such
/// place.
std::filesystem::path stateFolder();

/// The file of this name that belongs to the program: installed with it, or else where it was built; empty
/// when it is in neither place.
std::filesystem::path dataFile(std::string_view name);

/// The file of the window's font of this name, such as "Inter-Regular.otf", or of the nearest font of this
/// system where that is not there; empty when there is none.
std::filesystem::path fontFile(std::string_view name);

}  // namespace bandwright::platform
