#pragma once

#include <filesystem>
#include <string_view>

namespace bandwright {

/// Replaces the file by these bytes so that a crash or a power cut leaves the old file or the new one, each
/// whole: writes a temporary file in the same folder, flushes it to the disk, renames it and flushes the
/// folder. The permissions of a file already there are kept, and a symbolic link goes on pointing to the file
/// it pointed to. Throws InputError with the path and the reason; the old file then is as it was and no
/// temporary file is left.
void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes);

}  // namespace bandwright
