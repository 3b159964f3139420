#pragma once

#include <filesystem>
#include <string>
#include <vector>

/// What the program remembers between runs: the window's settings and the designs that were not saved.
namespace bandwright {

/// $XDG_STATE_HOME/bandwright, or ~/.local/state/bandwright (XDG Base Directory Specification 0.8). Empty
/// when neither variable is set.
std::filesystem::path stateFolder();

struct Settings {
    double uiScale = 0;                         ///< 0 = as the screen says; otherwise 0.75..3
    int width = 1360, height = 860;             ///< of the window, pixels
    std::vector<std::filesystem::path> recent;  ///< newest first, at most kMostRecent

    bool operator==(const Settings&) const = default;
};

inline constexpr std::size_t kMostRecent = 8;

/// Puts the file at the front of the recent ones, once.
void remember(Settings& settings, const std::filesystem::path& file);

/// The stored settings; the defaults where nothing is stored or what is stored makes no sense.
Settings readSettings(const std::filesystem::path& folder);

/// Throws InputError when the folder cannot be written.
void saveSettings(const std::filesystem::path& folder, const Settings& settings);

/// A design that was being worked on when the program ended without being closed.
struct Recovery {
    std::filesystem::path stored;  ///< the recovery file itself
    std::filesystem::path file;    ///< the design's own file; empty = it had none yet
    std::string text;              ///< the design, as in a design file
};

/// Stores the design under the number of this process. Throws InputError when the folder cannot be written.
void writeRecovery(const std::filesystem::path& folder, const std::filesystem::path& file,
                   const std::string& text);

/// Takes away what this process has stored.
void dropRecovery(const std::filesystem::path& folder);

/// What processes that no longer run have left, oldest first.
std::vector<Recovery> findRecoveries(const std::filesystem::path& folder);

}  // namespace bandwright
