#include "app/card_rows.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <string_view>
#include <utility>

#include "app/finder.hpp"
#include "app/keys.hpp"
#include "base/wording.hpp"
#include "focus.hpp"
#include "row_measures.hpp"

namespace bandwright::app {

void CardRows::begin(const Theme& theme, float width) {
    theme_ = &theme;
    width_ = width;
    changed_.clear();
    attempted_.clear();
    dragging_ = dragEnded_ = false;
    places_.clear();
    rows_.clear();
    headings_.clear();
    endGroup();
}

void CardRows::refuse(const std::string& sentence) {
    refusals_[changed_] = {attempted_, inLabels(sentence)};
}

std::string CardRows::inLabels(const std::string& sentence) const {
    constexpr std::string_view kOfKeys = "abcdefghijklmnopqrstuvwxyz0123456789-.[]";
    std::string out;
    for (std::size_t at = 0; at < sentence.size();) {
        const std::size_t end = std::min(sentence.find_first_not_of(kOfKeys, at), sentence.size());
        const std::string word = sentence.substr(at, end - at);
        const auto row = rows_.find(word);
        if (row == rows_.end()) {
            out += word;
        } else {
            std::string label = row->second.label;
            if (!out.empty()) label = base::uncapitalised(label);
            out += label + (word == changed_ ? "" : " (" + row->second.group + ")");
        }
        if (end < sentence.size()) out += sentence[end];
        at = end + 1;
    }
    return out;
}

std::string CardRows::refusal(const std::string& key) const {
    const auto found = refusals_.find(key);
    return found == refusals_.end() ? std::string() : found->second.sentence;
}

void CardRows::takeFocus(const std::string& key) {
    if (focusRequest_ != key) return;
    focusRequest_.clear();
    focusLastItem();
}

std::vector<std::pair<std::string, std::string>> CardRows::names() const {
    std::vector<std::pair<std::string, std::string>> all;
    for (const auto& [key, row] : rows_)
        all.emplace_back(key, row.group.empty() ? row.label : row.label + " (" + row.group + ")");
    return all;
}

void CardRows::lockable(const std::string& key, bool isLocked) {
    lock_ = {key, isLocked, false};
}

bool CardRows::lockTurned() {
    const Lock turned = std::exchange(lock_, {});
    if (!turned.isTurned) return false;
    noteChange(turned.key, "", false);
    return true;
}

void CardRows::lockMark(ImVec2 at, float x) {
    if (lock_.key.empty()) return;
    const std::string name = lock_.key + "#lock";
    const float size = theme_->px(kLockWidth), height = theme_->px(kRowHeight);
    ImGui::SetCursorScreenPos(plus(at, x, 0));
    beginPassedOver();
    if (ImGui::InvisibleButton(("##" + name).c_str(), {size, height})) lock_.isTurned = true;
    endPassedOver();
    place(name);
    const bool isHovered = ImGui::IsItemHovered();
    if (isHovered)
        ImGui::SetTooltip(lock_.isLocked ? "The client asked for this: no remedy changes it. Ctrl+L unlocks"
                                         : "Lock what the client asked for, so that no remedy changes it. "
                                           "Ctrl+L");
    // A padlock; an open one has its shackle raised on one side.
    const ImU32 colour = lock_.isLocked || isHovered ? palette::kPetrol : palette::kGrip;
    const float line = theme_->px(1.4F), half = theme_->px(4.5F), arch = theme_->px(3);
    const ImVec2 middle = plus(at, x + size / 2, height / 2);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 least = plus(middle, -half, -theme_->px(1)), most = plus(middle, half, theme_->px(6));
    if (lock_.isLocked) {
        draw.AddRectFilled(least, most, colour, theme_->px(1));
    } else {
        draw.AddRect(least, most, colour, theme_->px(1), 0, line);
    }
    const float lift = lock_.isLocked ? 0 : theme_->px(2);
    const ImVec2 top = plus(middle, 0, -theme_->px(3) - lift);
    draw.PathLineTo({top.x - arch, least.y});
    draw.PathArcTo(top, arch, std::numbers::pi_v<float>, 2 * std::numbers::pi_v<float>);
    draw.PathLineTo({top.x + arch, lock_.isLocked ? least.y : top.y + theme_->px(1)});
    draw.PathStroke(colour, 0, line);
}

void CardRows::place(const std::string& key) {
    const bool isOfLock = !lock_.key.empty() && (key == lock_.key || key.starts_with(lock_.key + "="));
    if (isOfLock && ImGui::IsItemFocused() && pressedWithCtrl(Key::L)) lock_.isTurned = true;
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_[key] = {least.x, least.y, most.x, most.y};
}

void CardRows::group(std::string name) {
    group_ = base::uncapitalised(std::move(name));
}

bool CardRows::isHidden(const std::string& key, const std::string& name) {
    if (!isFolded_) return false;
    rows_[key] = {name, group_};
    if (focusRequest_ == key) folded_.erase(heading_);  // the coming frame draws it
    return true;
}

void CardRows::heading(const std::string& text) {
    endGroup();
    group(text);
    ImGui::Dummy({0, theme_->px(8)});
    ImGui::PushFont(theme_->strong);
    ImGui::TextUnformatted(text.c_str());
    ImGui::PopFont();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine(at, plus(at, width_, 0), palette::kHairline, theme_->px(1));
    ImGui::Dummy({0, theme_->px(3)});
}

void CardRows::foldingHeading(const std::string& key, const std::string& text, const Summary& summary) {
    const ImVec2 at = plus(ImGui::GetCursorScreenPos(), 0, theme_->px(8) + ImGui::GetStyle().ItemSpacing.y);
    heading(text);
    const ImVec2 below = ImGui::GetCursorScreenPos();
    heading_ = key;
    headings_.insert(key);
    isFolded_ = folded_.contains(key);
    ImGui::PushFont(theme_->strong);
    const float end = ImGui::CalcTextSize(text.c_str()).x + theme_->px(18), height = ImGui::GetFontSize();
    ImGui::PopFont();
    ImGui::SetCursorScreenPos(at);
    if (ImGui::InvisibleButton(("##fold" + key).c_str(), {isFolded_ ? width_ : end, height})) {
        if (isFolded_) {
            folded_.erase(key);
        } else {
            folded_.insert(key);
        }
    }
    place(key + "#fold");
    const bool isLit = ImGui::IsItemHovered() || ImGui::IsItemFocused();
    markIfFocused(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", isFolded_ ? summary().c_str() : "Fold to one line");
    // Points down over open rows, and at the summary where they are folded.
    const float arm = theme_->px(3.5F);
    const ImVec2 tip = plus(at, end - theme_->px(8), height / 2);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.PathLineTo(isFolded_ ? plus(tip, -arm / 2, -arm) : plus(tip, -arm, -arm / 2));
    draw.PathLineTo(isFolded_ ? plus(tip, arm / 2, 0) : plus(tip, 0, arm / 2));
    draw.PathLineTo(isFolded_ ? plus(tip, -arm / 2, arm) : plus(tip, arm, -arm / 2));
    draw.PathStroke(isLit ? palette::kPetrol : palette::kGraphite, 0, theme_->px(1.4F));
    if (isFolded_) {
        const float x = std::max(end + theme_->px(8), theme_->px(96));
        ImGui::PushFont(theme_->small);
        ImGui::PushStyleColor(ImGuiCol_Text, palette::kGraphite);
        const float down = height - ImGui::GetFontSize();
        writeCutOff(plus(at, x, down), plus(at, width_, height + theme_->px(4)), summary().c_str());
        ImGui::PopStyleColor();
        ImGui::PopFont();
    }
    ImGui::SetCursorScreenPos(below);
}

bool CardRows::removableHeading(const std::string& key, const std::string& text, const char* what,
                                const Summary& summary) {
    const ImVec2 at = plus(ImGui::GetCursorScreenPos(), 0, theme_->px(8) + ImGui::GetStyle().ItemSpacing.y);
    foldingHeading(key, text, summary);
    if (isFolded_) return false;
    const ImVec2 below = ImGui::GetCursorScreenPos();
    ImGui::PushFont(theme_->small);
    const ImVec2 size = ImGui::CalcTextSize("Take away");
    ImGui::SetCursorScreenPos({at.x + width_ - size.x - theme_->px(8), at.y - theme_->px(2)});
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(4), theme_->px(2)));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    const bool pressed = ImGui::Button(("Take away##" + key).c_str());
    place(key + "#take-away");
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Take away %s", what);
    ImGui::PopStyleVar(2);
    ImGui::PopStyleColor();
    ImGui::PopFont();
    ImGui::SetCursorScreenPos(below);
    if (pressed) changed_ = key;
    return pressed;
}

void CardRows::note(const std::string& text) {
    if (isFolded_) return;
    paragraph(*theme_->small, width_, text, palette::kGraphite);
}

bool CardRows::buttonBeside(const std::string& key, const char* text) {
    if (!isFolded_) ImGui::SameLine();
    return button(key, text);
}

bool CardRows::button(const std::string& key, const char* text) {
    if (isFolded_) return false;
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    ImGui::PushStyleColor(ImGuiCol_Border, palette::kGrip);
    const bool pressed = ImGui::Button((std::string(text) + "##" + key).c_str());
    ImGui::PopStyleColor(2);
    place(key);
    if (pressed) noteChange(key, text, false);
    drawRefusal(key);
    return pressed;
}

void CardRows::label(const std::string& key, const std::string& text) {
    rows_[key] = {text, group_};
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float down = (theme_->px(kRowHeight) - ImGui::GetFontSize()) / 2;
    ImGui::GetWindowDrawList()->AddText(plus(at, 0, down), palette::kInk, text.c_str());
    lockMark(at, theme_->px(kLabelWidth - kLockWidth));
    ImGui::SetCursorScreenPos(plus(at, theme_->px(kLabelWidth), 0));
}

void CardRows::noteChange(const std::string& key, const std::string& attempted, bool dragging) {
    changed_ = key;
    attempted_ = attempted;
    dragging_ = dragging;
    refusals_.erase(key);
}

void CardRows::drawRefusal(const std::string& key) {
    const std::string sentence = refusal(key);
    if (sentence.empty()) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    verdictMark(*ImGui::GetWindowDrawList(), plus(at, theme_->px(6), theme_->px(8)), theme_->px(4),
                check::Verdict::NoGo);
    ImGui::SetCursorScreenPos(plus(at, theme_->px(18), 0));
    paragraph(*theme_->small, width_ - theme_->px(18), sentence);
}

bool CardRows::choice(const std::string& key, const std::string& name, std::string& id,
                      std::span<const Option> options) {
    if (isHidden(key, name)) return false;
    label(key, name);
    const ImVec2 least = ImGui::GetCursorScreenPos();
    const float width = width_ - theme_->px(kLabelWidth), height = theme_->px(kRowHeight),
                down = (height - ImGui::GetFontSize()) / 2;
    ImGui::SetNextItemWidth(width);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(9), down));
    const bool open = ImGui::BeginCombo(("##" + key).c_str(), "", ImGuiComboFlags_HeightLarge);
    ImGui::PopStyleVar();
    const auto chosen = std::ranges::find(options, id, &Option::id);
    const Option shown = chosen == options.end() ? Option{id, id, {}} : *chosen;
    bool changed = false;
    if (open) {
        places_[key] = {least.x, least.y, least.x + width, least.y + height};
        changed = list(key, id, options);
        ImGui::EndCombo();
    } else {
        place(key);
        takeFocus(key);
    }
    drawOption(shown, plus(least, theme_->px(9), down), least.x + width - height - theme_->px(2));
    drawRefusal(key);
    return changed;
}

bool CardRows::soughtOption(const std::string& key) {
    if (ImGui::IsWindowAppearing()) {
        sought_.clear();
        ImGui::SetKeyboardFocusHere();
    }
    ImGui::SetNextItemWidth(-1);
    const bool isEntered = ImGui::InputTextWithHint(("##seek" + key).c_str(), "Type to find", &sought_,
                                                    ImGuiInputTextFlags_EnterReturnsTrue);
    place(key + "#seek");
    return isEntered;
}

bool CardRows::list(const std::string& key, std::string& id, std::span<const Option> options) {
    constexpr std::size_t kSeenAtOnce = 9;  // in a list of so many the eye finds faster than the hand
    const bool isLong = options.size() > kSeenAtOnce;
    bool isEntered = isLong && soughtOption(key);
    float names = 0;
    for (const Option& option : options)
        names = std::max(names, ImGui::CalcTextSize(option.name.c_str()).x);
    const std::string before = id;
    bool isAny = false;
    for (const Option& option : options) {
        if (isLong && !holdsWords(option.name + " " + option.note, sought_)) continue;
        isAny = true;
        const ImVec2 at = ImGui::GetCursorScreenPos();
        const float whole = names + theme_->px(option.swatch ? 44 : 20);
        const float note =
            option.note.empty() ? 0 : theme_->px(16) + ImGui::CalcTextSize(option.note.c_str()).x;
        const bool isPressed = ImGui::Selectable(("##" + option.id).c_str(), option.id == before,
                                                 ImGuiSelectableFlags_None, {whole + note, 0});
        if (isPressed || std::exchange(isEntered, false)) {
            if (!isPressed) ImGui::CloseCurrentPopup();
            if (option.id != before) noteChange(key, option.name, false);
            id = option.id;
        }
        if (option.id == before) ImGui::SetItemDefaultFocus();
        place(key + "=" + option.id);
        drawOption(option, at, at.x + whole);
        if (option.note.empty()) continue;
        ImGui::GetWindowDrawList()->AddText(plus(at, whole, 0), palette::kGraphite, option.note.c_str());
    }
    if (!isAny) ImGui::TextDisabled("Nothing is called so.");
    return id != before;
}

void CardRows::drawOption(const Option& option, ImVec2 at, float right) const {
    const float height = ImGui::GetFontSize();
    if (option.swatch) {
        drawSwatch(*ImGui::GetWindowDrawList(), at, plus(at, theme_->px(18), height), *option.swatch);
        at.x += theme_->px(24);
    }
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kInk);
    writeCutOff(at, {right, at.y + height + theme_->px(4)}, option.name.c_str());
    ImGui::PopStyleColor();
}

bool CardRows::cell(const std::string& key, const std::string& text, ImVec2 size, bool isChosen) {
    ImGui::PushStyleColor(ImGuiCol_Button, isChosen ? palette::kPetrolSoft : palette::kWell);
    ImGui::PushStyleColor(ImGuiCol_Border, isChosen ? palette::kPetrol : palette::kHairline);
    const bool isPressed = ImGui::Button(std::string(text).append("##").append(key).c_str(), size);
    ImGui::PopStyleColor(2);
    return isPressed;
}

bool CardRows::segments(const std::string& key, const std::string& name, std::string& id,
                        std::span<const Option> options, std::span<const Pictogram> pictograms) {
    if (isHidden(key, name)) return false;
    label(key, name);
    const float whole = width_ - theme_->px(kLabelWidth);
    const auto edge = [&](std::size_t i) {
        return std::floor(whole * static_cast<float>(i) / static_cast<float>(options.size()));
    };
    const float height = theme_->px(pictograms.empty() ? kRowHeight : kRowHeight + 14);
    const std::string before = id;
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, theme_->px(4)));
    ImGui::PushStyleVar(ImGuiStyleVar_ButtonTextAlign, ImVec2(0.5F, pictograms.empty() ? 0.5F : 1.0F));
    ImGui::PushFont(theme_->small);
    for (std::size_t i = 0; i < options.size(); ++i) {
        const std::string& text = options[i].name;
        const bool chosen = before == options[i].id;
        const float each = edge(i + 1) - edge(i);
        if (i > 0) ImGui::SameLine(0, 0);
        if (cell(key, text, {each, height}, chosen) && !chosen) {
            id = options[i].id;
            noteChange(key, text, false);
        }
        place(std::string(key).append("=").append(text));
        if (chosen) takeFocus(key);
        if (i >= pictograms.size()) continue;
        const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
        pictograms[i](*ImGui::GetWindowDrawList(), plus(least, each * 0.25F, theme_->px(7)),
                      {most.x - each * 0.25F, least.y + theme_->px(19)},
                      chosen ? palette::kPetrol : palette::kGraphite);
    }
    ImGui::PopFont();
    ImGui::PopStyleVar(2);
    drawRefusal(key);
    return id != before;
}

bool CardRows::toggle(const std::string& key, const std::string& name, bool& value) {
    if (isHidden(key, name)) return false;
    rows_[key] = {name, group_};
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(3), theme_->px(3)));
    ImGui::PushStyleColor(ImGuiCol_Border, palette::kGrip);
    const bool changed = ImGui::Checkbox((name + "##" + key).c_str(), &value);
    ImGui::PopStyleColor();
    ImGui::PopStyleVar();
    place(key);
    takeFocus(key);
    if (changed) noteChange(key, name, false);
    const ImVec2 below = ImGui::GetCursorScreenPos();
    const std::array<float, 4>& box = places_[key];
    lockMark({below.x, (box[1] + box[3] - theme_->px(kRowHeight)) / 2}, box[2] - below.x + theme_->px(4));
    ImGui::SetCursorScreenPos(below);
    drawRefusal(key);
    return changed;
}

int CardRows::mover(const std::string& key, int number, const std::string& text, bool canRise, bool canSink) {
    if (isFolded_) return 0;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = theme_->px(22), each = theme_->px(26);
    const float down = (height - ImGui::GetFontSize()) / 2;
    const std::string count = std::to_string(number);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddText(plus(at, theme_->px(18) - ImGui::CalcTextSize(count.c_str()).x, down), palette::kGraphite,
                 count.c_str());
    draw.AddText(plus(at, theme_->px(30), down), palette::kInk, text.c_str());
    int moved = 0;
    const auto arrow = [&](const char* sign, const char* end, int direction, bool enabled, float x) {
        ImGui::SetCursorScreenPos(plus(at, x, 0));
        ImGui::BeginDisabled(!enabled);
        if (ImGui::Button((std::string(sign) + "##" + key).c_str(), {each, height})) moved = direction;
        ImGui::EndDisabled();
        place(key + end);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip(direction < 0 ? "One step earlier" : "One step later");
    };
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, 0));
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, theme_->px(1)));
    arrow("\u2191", "#earlier", -1, canRise, width_ - 2 * each);
    arrow("\u2193", "#later", 1, canSink, width_ - each);
    ImGui::PopStyleVar(3);
    ImGui::PopStyleColor();
    if (moved != 0) noteChange(key, text, false);
    drawRefusal(key);
    return moved;
}

}  // namespace bandwright::app
