#pragma once

#include <filesystem>

namespace bandwright {

/// The path from the root on, without "." and ".."; unchanged where the folder that relative paths begin at
/// is gone. Never throws for what it finds on the disk.
std::filesystem::path absolutePath(const std::filesystem::path& path);

}  // namespace bandwright
