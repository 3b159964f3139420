#pragma once

#include <filesystem>
#include <string>

namespace bandwright::base {

/// The whole text of a file. Throws InputError when there is none; its sentence names `what` the file holds.
std::string wholeText(const std::filesystem::path& file, const std::string& what);

}  // namespace bandwright::base
