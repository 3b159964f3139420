#pragma once

#include <filesystem>
#include <set>
#include <string>
#include <vector>

#include "platform/file_lock.hpp"

/// What the program remembers between runs: the window's settings and the designs that were not saved.
namespace bandwright::app {

struct Settings {
    double uiScale = 0;                         ///< 0 = as the screen says; otherwise 0.75..3
    int width = 1360, height = 860;             ///< of the window, pixels
    bool isDark = false;                        ///< whether the window has its dark colours
    std::set<std::string> folded;               ///< keys of the job card's groups that are folded
    std::vector<std::filesystem::path> recent;  ///< newest first, at most kMostRecent

    bool operator==(const Settings&) const = default;
};

inline constexpr std::size_t kMostRecent = 8;

/// Puts the file at the front of the recent ones, once; nothing for a design without a file.
void remember(Settings& settings, const std::filesystem::path& file);

/// The stored settings; defaults for those that are not stored or make no sense.
Settings readSettings(const std::filesystem::path& folder);

/// Throws InputError when the folder cannot be written.
void saveSettings(const std::filesystem::path& folder, const Settings& settings);

/// A file for work that is in no other file. While this object lives, no program treats the work as left
/// behind. Its end leaves the file as it is.
struct RecoveryPlace {
    std::filesystem::path stored;
    platform::FileLock lock;
};

/// A free place where nothing is stored. Throws InputError if the folder cannot have one.
RecoveryPlace newRecoveryPlace(const std::filesystem::path& folder);

/// The steps that led to a design, each as in a design file, oldest first, and its own place among them.
struct KeptSteps {
    std::vector<std::string> designs;
    std::size_t place = 0;
};

/// Stores the design as text, its own file (absolute; empty = it has none yet) and its steps. Throws
/// InputError if it cannot be written; what was stored before then stays.
void storeRecovery(const RecoveryPlace& place, const std::filesystem::path& file, const std::string& text,
                   const KeptSteps& steps = {});

/// Removes the stored work. Call it only once the person has discarded the work or it is in a file of its
/// own.
void dropRecovery(RecoveryPlace place);

/// A design that was being worked on when the program ended without being closed.
struct Recovery {
    RecoveryPlace place;
    std::filesystem::path file;  ///< the design's own file; empty = it had none yet
    std::string text;            ///< the design, as in a design file
    KeptSteps steps;             ///< none where they were not stored whole
};

/// Unsaved work of programs that no longer run, oldest first.
std::vector<Recovery> findRecoveries(const std::filesystem::path& folder);

}  // namespace bandwright::app
