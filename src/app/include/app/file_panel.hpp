#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/theme.hpp"

namespace bandwright::app {

/// What files are asked for, and in which words.
struct FileKind {
    std::string ending;      ///< ".pdf"
    std::string open, save;  ///< the panel's heading
    std::string name;        ///< "name of the design"
    std::string none;        ///< where the folder has none
};
FileKind designFiles();

/// Asks for a file: a path that can be typed, the folder's files of the kind, and the recent ones. A modal
/// panel of the current ImGui context; all of it can be reached by keyboard.
class FilePanel {
  public:
    enum class Purpose : unsigned char { Open, Save };

    explicit FilePanel(FileKind kind = designFiles()) : kind_(std::move(kind)) {}

    /// Shows the panel from the next draw on. `start` is a file or a folder to begin at.
    void ask(Purpose purpose, const std::filesystem::path& start,
             std::vector<std::filesystem::path> recent = {});

    /// Draws the panel if it is shown. Returns the file once the person has chosen one.
    std::optional<std::filesystem::path> draw(const Theme& theme);

    bool shown() const { return shown_; }
    Purpose purpose() const { return purpose_; }

  private:
    struct Entry {
        std::string name;
        std::filesystem::path path;
        bool isFolder = false;
    };

    void goTo(const std::filesystem::path& folder);
    std::optional<std::filesystem::path> take(const std::filesystem::path& path);
    std::optional<std::filesystem::path> list(const Theme& theme);
    std::optional<std::filesystem::path> recent(const Theme& theme);

    FileKind kind_;
    Purpose purpose_ = Purpose::Open;
    bool shown_ = false, begins_ = false;
    bool typesAgain_ = false;  ///< what was typed was refused
    std::string typed_, problem_;
    std::filesystem::path folder_;
    std::vector<Entry> entries_;
    std::vector<std::filesystem::path> recent_;
};

/// The path completed to end so, if any part of that ending is missing: "a" and "a.ring" become
/// "a.ring.json".
std::filesystem::path withEnding(std::filesystem::path path, const std::string& ending);
/// With that of a design, ".ring.json".
std::filesystem::path withDesignEnding(std::filesystem::path path);

}  // namespace bandwright::app
