#pragma once

#include <filesystem>
#include <map>
#include <set>
#include <sstream>
#include <string>

#include "program.hpp"

/// What is found in a folder after something has gone wrong there.
namespace bandwright::app {

using Files = std::map<std::string, std::string>;

inline Files filesIn(const std::filesystem::path& folder) {
    Files files;
    for (const std::filesystem::directory_entry& entry : std::filesystem::directory_iterator(folder))
        if (entry.is_regular_file()) files[entry.path().filename().string()] = readFile(entry.path());
    return files;
}

/// What stands after a key on the lines that begin with it, such as the names of an OBJ's materials.
inline std::set<std::string> wordsAfter(const std::string& text, const std::string& key) {
    std::set<std::string> words;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);)
        if (line.starts_with(key)) words.insert(line.substr(key.size()));
    return words;
}

}  // namespace bandwright::app
