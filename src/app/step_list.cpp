#include "app/step_list.hpp"

#include <imgui.h>

#include <algorithm>

#include "app/change_words.hpp"
#include "app/keys.hpp"
#include "focus.hpp"

namespace bandwright::app {

namespace {

constexpr float kListWidth = 430;  ///< width at scale 1

}  // namespace

std::vector<std::string> stepNames(const Session& session) {
    const design::History& history = session.history();
    std::vector<std::string> names = {"As it began"};
    for (std::size_t i = 1; i < history.designs().size(); ++i)
        names.push_back(changeInWords(history.designs()[i - 1], history.designs()[i], session.catalogue()));
    return names;
}

std::optional<std::size_t> StepList::draw(const Session& session, const Theme& theme, float top) {
    if (!shown_) return std::nullopt;
    if (asked_ || revision_ != session.revision()) names_ = stepNames(session);
    revision_ = session.revision();
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    const float width = std::min(theme.px(kListWidth), screen.x - theme.px(20));
    ImGui::SetNextWindowPos({screen.x - width - theme.px(8), top});
    ImGui::SetNextWindowSizeConstraints({width, 0}, {width, screen.y - top - theme.px(8)});
    if (asked_) ImGui::OpenPopup("###steps");
    std::optional<std::size_t> chosen;
    places_.clear();
    shown_ = ImGui::BeginPopup("###steps");
    if (!shown_) return chosen;
    paragraph(*theme.strong, width - theme.px(24), "What was changed, the last first");
    const std::size_t now = session.history().place();
    for (std::size_t i = names_.size(); i-- > 0;) {
        const std::string name = std::to_string(i);
        ImGui::PushID(name.c_str());
        // What was undone is still there to be gone to.
        ImGui::PushStyleColor(ImGuiCol_Text, i > now ? palette::kGraphite : palette::kInk);
        if (ImGui::Selectable("##step", i == now, ImGuiSelectableFlags_DontClosePopups)) chosen = i;
        const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
        if (asked_ && i == now) focusLastItem();
        const std::string text = (i == now ? "\u2192 " : i > now ? "(undone) " : "") + names_[i];
        const bool isCutOff = ImGui::CalcTextSize(text.c_str()).x > most.x - least.x - theme.px(4);
        if (isCutOff && ImGui::IsItemHovered())
            ImGui::SetTooltip("%s", wrapped(*theme.body, width, names_[i]).c_str());
        writeCutOff({least.x + theme.px(4), least.y + ImGui::GetStyle().ItemSpacing.y / 2}, most,
                    text.c_str());
        ImGui::PopStyleColor();
        ImGui::PopID();
        places_[name] = {least.x, least.y, most.x, most.y};
    }
    ImGui::Separator();
    if (ImGui::Selectable("Compare two of them")) compareAsked_ = true;
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_["compare"] = {least.x, least.y, most.x, most.y};
    asked_ = false;
    if ((pressed(Key::Enter) || pressed(Key::KeypadEnter)) && !ImGui::IsWindowAppearing()) pressFocused();
    if (pressed(Key::Escape)) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    return chosen;
}

}  // namespace bandwright::app
