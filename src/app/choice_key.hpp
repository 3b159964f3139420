#pragma once

#include <imgui.h>

#include <array>
#include <map>
#include <string>

namespace bandwright::app {

/// Where things lie on the screen, by name: left, top, right, bottom.
using Places = std::map<std::string, std::array<float, 4>>;

/// A button of a panel's list; the chosen one is filled. Notes its place and returns whether it was pressed.
bool choiceKey(Places& places, const std::string& name, const std::string& text, ImVec2 size, bool isChosen);

}  // namespace bandwright::app
