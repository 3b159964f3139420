#pragma once

#include <string>
#include <string_view>

namespace bandwright::trade {

inline bool contains(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

}  // namespace bandwright::trade
