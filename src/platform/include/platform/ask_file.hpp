#pragma once

#include <string>

namespace bandwright::platform {

/// Whether the files that the program can reach are not all that the person has, so that a file must be asked
/// for: in a browser. Where there is a file system, it is not.
bool canAskForFile();

/// Has the system ask the person for a file whose name ends so (".ring.json"), and does not wait for the
/// answer. The file comes as one that is dropped on the window.
void askForFile(const std::string& ending);

}  // namespace bandwright::platform
