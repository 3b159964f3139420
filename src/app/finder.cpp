#include "app/finder.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cctype>
#include <sstream>

#include "app/keys.hpp"

namespace bandwright::app {

namespace {

std::string inLowerCase(std::string text) {
    std::ranges::transform(text, text.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return text;
}

}  // namespace

bool holdsWords(const std::string& name, const std::string& typed) {
    const std::string whole = inLowerCase(name);
    std::istringstream words(inLowerCase(typed));
    for (std::string word; words >> word;)
        if (whole.find(word) == std::string::npos) return false;
    return true;
}

std::vector<std::size_t> matching(const std::vector<Command>& commands, const std::string& typed) {
    std::vector<std::size_t> found;
    const std::string sought = inLowerCase(typed);
    for (std::size_t i = 0; i < commands.size(); ++i) {
        if (holdsWords(commands[i].name, typed)) found.push_back(i);
    }
    std::stable_partition(found.begin(), found.end(),
                          [&](std::size_t i) { return inLowerCase(commands[i].name).starts_with(sought); });
    return found;
}

void Finder::ask() {
    shown_ = begins_ = true;
    typed_.clear();
    at_ = 0;
}

void Finder::draw(const std::vector<Command>& commands, const Theme& theme) {
    if (!shown_) return;
    if (begins_) ImGui::OpenPopup("###find");
    if (!beginPanel(theme, "###find", 480)) return;
    if (begins_) ImGui::SetKeyboardFocusHere();
    begins_ = false;
    ImGui::SetNextItemWidth(-1);
    const std::string before = typed_;
    const bool entered = ImGui::InputTextWithHint("##typed", "what to do, or which number", &typed_,
                                                  ImGuiInputTextFlags_EnterReturnsTrue);
    if (typed_ != before) at_ = 0;
    const std::vector<std::size_t> found = matching(commands, typed_);
    const bool up = pressed(Key::Up, true), down = pressed(Key::Down, true);
    if (up && at_ > 0) --at_;
    if (down && at_ + 1 < found.size()) ++at_;
    const Command* chosen = entered && at_ < found.size() ? &commands[found[at_]] : nullptr;
    ImGui::BeginChild("found", {0, theme.px(300)}, true, ImGuiWindowFlags_NoNav);
    for (std::size_t i = 0; i < found.size(); ++i) {
        const Command& command = commands[found[i]];
        ImGui::PushID(static_cast<int>(i));
        const ImGuiSelectableFlags flags =
            ImGuiSelectableFlags_DontClosePopups | (command.isEnabled ? 0 : ImGuiSelectableFlags_Disabled);
        if (ImGui::Selectable(command.name.c_str(), i == at_, flags)) chosen = &command;
        if (i == at_ && (up || down)) ImGui::SetScrollHereY();
        const float wide = ImGui::CalcTextSize(command.keys.c_str()).x;
        ImGui::SameLine(ImGui::GetContentRegionMax().x - wide);
        ImGui::TextDisabled("%s", command.keys.c_str());
        ImGui::PopID();
    }
    if (found.empty()) ImGui::TextDisabled("Nothing is called so.");
    ImGui::EndChild();
    const bool runs = chosen != nullptr && chosen->isEnabled;
    if (runs || pressed(Key::Escape)) {
        shown_ = false;
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
    if (runs) chosen->run();
}

}  // namespace bandwright::app
