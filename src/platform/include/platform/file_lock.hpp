#pragma once

#include <filesystem>
#include <optional>
#include <utility>

namespace bandwright::platform {

/// A file that says "a running program has this". However the program ends, the system lets go of it.
/// Another platform must provide: a lock that is held by at most one process and goes with it; where only one
/// program can reach the files, as in a browser's own storage, a lock that always succeeds will do.
class FileLock {
  public:
    /// Takes the lock. Nothing when someone else has it or the file cannot be made; a file system without
    /// locks counts as one where nobody else has any.
    static std::optional<FileLock> tryTake(const std::filesystem::path& file);

    FileLock(FileLock&& other) noexcept
        : file_(std::move(other.file_)), descriptor_(std::exchange(other.descriptor_, -1)) {}
    FileLock& operator=(FileLock&& other) noexcept;
    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    /// Takes the file away and lets go.
    ~FileLock();

  private:
    FileLock(std::filesystem::path file, int descriptor) : file_(std::move(file)), descriptor_(descriptor) {}
    void letGo() noexcept;

    std::filesystem::path file_;
    int descriptor_;
};

}  // namespace bandwright::platform
