#pragma once

#include <filesystem>
#include <functional>
#include <string_view>

namespace bandwright::platform {

/// Replaces the file by these bytes so that a crash or a power cut leaves the old file or the new one, each
/// whole: writes a temporary file in the same folder, flushes it to the disk, renames it and flushes the
/// folder. The permissions of a file already there are kept, and a symbolic link goes on pointing to the file
/// it pointed to. Throws InputError with the path and the reason; the old file then is as it was and no
/// temporary file is left.
void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes);

/// Takes the next bytes of a file that is made piece by piece.
using ByteSink = std::function<void(std::string_view)>;

/// The same for a file too large to be held in memory; when `produce` throws, the old file is as it was too.
void writeFileAtomically(const std::filesystem::path& file,
                         const std::function<void(const ByteSink&)>& produce);

}  // namespace bandwright::platform
