#include "choice_key.hpp"

#include "app/theme.hpp"

namespace bandwright::app {

bool choiceKey(Places& places, const std::string& name, const std::string& text, ImVec2 size, bool isChosen) {
    ImGui::PushID(name.c_str());
    ImGui::PushStyleColor(ImGuiCol_Button, isChosen ? palette::kPetrolSoft : palette::kWell);
    ImGui::PushStyleColor(ImGuiCol_Border, isChosen ? palette::kPetrol : palette::kHairline);
    const bool isPressed = ImGui::Button(text.c_str(), size);
    ImGui::PopStyleColor(2);
    ImGui::PopID();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places[name] = {least.x, least.y, most.x, most.y};
    return isPressed;
}

}  // namespace bandwright::app
