#pragma once

#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>

namespace bandwright::design {

inline std::string contents(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::ostringstream bytes;
    bytes << stream.rdbuf();
    return bytes.str();
}

}  // namespace bandwright::design
