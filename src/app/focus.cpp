#include "focus.hpp"

#include <imgui_internal.h>

namespace bandwright::app {

void stopTyping() {
    ImGui::ClearActiveID();
}

bool showsFocus() {
    return !ImGui::GetCurrentContext()->NavDisableHighlight;
}

void showFocus() {
    ImGui::GetCurrentContext()->NavDisableHighlight = false;
}

void pressFocused() {
    const ImGuiID item = ImGui::GetCurrentContext()->NavId;
    if (item != 0 && showsFocus()) ImGui::ActivateItem(item);
}

void markIfFocused(ImVec2 least, ImVec2 most) {
    ImGui::RenderNavHighlight(ImRect(least, most), ImGui::GetItemID());
}

void focusLastItem() {
    ImGui::SetFocusID(ImGui::GetItemID(), ImGui::GetCurrentWindow());
    ImGui::SetScrollHereY();
    showFocus();
}

void beginPassedOver() {
    ImGui::PushItemFlag(ImGuiItemFlags_NoNav, true);
}

void endPassedOver() {
    ImGui::PopItemFlag();
}

void writeCutOff(ImVec2 least, ImVec2 most, const char* text) {
    ImGui::RenderTextEllipsis(ImGui::GetWindowDrawList(), least, most, most.x, most.x, text, nullptr,
                              nullptr);
}

}  // namespace bandwright::app
