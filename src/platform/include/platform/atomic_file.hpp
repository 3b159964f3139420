#pragma once

#include <filesystem>
#include <functional>
#include <string_view>
#include <vector>

namespace bandwright::platform {

/// Replaces the file by these bytes so that a crash or a power cut leaves the old file or the new one, each
/// whole: writes a temporary file in the same folder, flushes it to the disk, renames it and flushes the
/// folder. The permissions of a file already there are kept, and a symbolic link goes on pointing to the file
/// it pointed to. Throws InputError with the path and the reason; the old file then is as it was and no
/// temporary file is left. What a program that was killed has left is removed by the next one that writes in
/// that folder; files of running programs never are.
void writeFileAtomically(const std::filesystem::path& file, std::string_view bytes);

/// Takes the next bytes of a file that is made piece by piece.
using ByteSink = std::function<void(std::string_view)>;
using Produce = std::function<void(const ByteSink&)>;

/// The same for a file too large to be held in memory; when `produce` throws, the old file is as it was too.
void writeFileAtomically(const std::filesystem::path& file, const Produce& produce);

/// The same for files that belong together: none is touched until all are written. Then the old ones go
/// before the first new one comes, so that a crash in that moment leaves some of the old or some of the new,
/// never some of both. When it throws, the old ones are as they were.
void writeSetAtomically(const std::vector<std::filesystem::path>& files,
                        const std::function<void(std::size_t, const ByteSink&)>& produce);

}  // namespace bandwright::platform
