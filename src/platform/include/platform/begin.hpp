#pragma once

#include <string>
#include <vector>

namespace bandwright::platform {

/// Makes ready to write and draw, and returns what the program was called with, in UTF-8, its own name first.
/// Called once, at the start. What `main` was given is just that on most systems; on Windows, where a shell
/// hands
/// "*.json" on as it is, this finds the files.
std::vector<std::string> begin(int argc, char** argv);

}  // namespace bandwright::platform
