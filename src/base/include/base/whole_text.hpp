#pragma once

#include <filesystem>
#include <string>

namespace bandwright::base {

/// All of a file; `what` it holds is for the sentence when there is none. Throws InputError.
std::string wholeText(const std::filesystem::path& file, const std::string& what);

}  // namespace bandwright::base
