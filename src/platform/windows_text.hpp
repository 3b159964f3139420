#pragma once

#include <filesystem>
#include <string>
#include <string_view>

/// Windows' texts are UTF-16; the program's are UTF-8. Private to the room.
namespace bandwright::platform {

/// What is no UTF-8 becomes U+FFFD.
std::wstring wide(std::string_view utf8);
std::string narrow(std::wstring_view utf16);

/// The path from the root on in the form that may be longer than 260 characters, "\\?\...", if it is that
/// long.
std::filesystem::path longPath(const std::filesystem::path& path);

}  // namespace bandwright::platform
