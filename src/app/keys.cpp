#include "app/keys.hpp"

#include <imgui.h>

#include <array>
#include <utility>

namespace bandwright::app {

void mapKeys(ImGuiIO& io) {
    constexpr std::array<std::pair<int, Key>, 22> kKeys = {{
        {ImGuiKey_Tab, Key::Tab},
        {ImGuiKey_LeftArrow, Key::Left},
        {ImGuiKey_RightArrow, Key::Right},
        {ImGuiKey_UpArrow, Key::Up},
        {ImGuiKey_DownArrow, Key::Down},
        {ImGuiKey_PageUp, Key::PageUp},
        {ImGuiKey_PageDown, Key::PageDown},
        {ImGuiKey_Home, Key::Home},
        {ImGuiKey_End, Key::End},
        {ImGuiKey_Insert, Key::Insert},
        {ImGuiKey_Delete, Key::Delete},
        {ImGuiKey_Backspace, Key::Backspace},
        {ImGuiKey_Space, Key::Space},
        {ImGuiKey_Enter, Key::Enter},
        {ImGuiKey_Escape, Key::Escape},
        {ImGuiKey_KeyPadEnter, Key::KeypadEnter},
        {ImGuiKey_A, Key::A},
        {ImGuiKey_C, Key::C},
        {ImGuiKey_V, Key::V},
        {ImGuiKey_X, Key::X},
        {ImGuiKey_Y, Key::Y},
        {ImGuiKey_Z, Key::Z},
    }};
    for (const auto& [theirs, ours] : kKeys)
        io.KeyMap[theirs] = static_cast<int>(ours);
}

bool pressed(Key key, bool repeats) {
    return ImGui::IsKeyPressed(static_cast<int>(key), repeats);
}

bool pressedWithCtrl(Key key) {
    return ImGui::GetIO().KeyCtrl && pressed(key);
}

}  // namespace bandwright::app
