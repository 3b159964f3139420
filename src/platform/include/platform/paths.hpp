#pragma once

#include <filesystem>
#include <string>
#include <string_view>

/// Where things lie on this system.
namespace bandwright::platform {

/// The path from the root on, without "." and ".."; unchanged where the folder that relative paths begin at
/// is gone. Never throws for what it finds on the disk.
std::filesystem::path absolutePath(const std::filesystem::path& path);

/// The person's own folder; empty where there is none.
std::filesystem::path homeFolder();

/// Where a program remembers things between runs: $XDG_STATE_HOME/bandwright, or ~/.local/state/bandwright
/// (XDG Base Directory Specification 0.8); on Windows %LOCALAPPDATA%\\Bandwright. Empty when none of these is
/// set, and where there is no such place.
std::filesystem::path stateFolder();

/// Where a program keeps what it can make again: $XDG_CACHE_HOME/bandwright, or ~/.cache/bandwright (as
/// above); on Windows a folder of that one. Empty likewise.
std::filesystem::path cacheFolder();

/// The folder of the sample rings: installed with the program, or else where it was built; on Windows beside
/// it. Empty when there is none.
std::filesystem::path samplesFolder();

/// What is in the file of this name that belongs to the program: within it, installed with it, or else where
/// it was built; empty when it is nowhere.
std::string dataOf(std::string_view name);

/// What is in the file of the window's font of this name, such as "Inter-Regular.otf", or of the nearest font
/// of this system where that is not there; empty when there is none.
std::string fontOf(std::string_view name);

}  // namespace bandwright::platform
