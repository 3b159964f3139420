#pragma once

#include <filesystem>
#include <optional>
#include <string>

namespace bandwright::platform {

/// Whether the system has a way of its own to ask the person for a file that is to be opened: in a browser
/// the only one that reaches all files, on Windows the one that people know.
bool canAskForFile();

/// Has the system ask the person for a file whose name ends so (".ring.json"), and does not wait for the
/// answer. The file comes as one that is dropped on the window.
void askForFile(const std::string& ending);

/// The same for where to save.
bool canAskWhereToSave();

/// Has the system ask where to save a file whose name ends so, beginning at this folder, and waits; empty
/// when the person decides otherwise. Whether it replaces another has been asked.
std::optional<std::filesystem::path> askWhereToSave(const std::filesystem::path& folder,
                                                    const std::string& ending);

}  // namespace bandwright::platform
