#include <imgui.h>
#include <imgui_stdlib.h>

#include <array>
#include <cmath>
#include <numbers>

#include "app/card_rows.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "focus.hpp"
#include "row_measures.hpp"

/// The rows in which something is typed: numbers with their thimble, ring sizes, texts.
namespace bandwright::app {

namespace {

constexpr float kThimbleWidth = 46;    ///< at scale 1, like all lengths here
constexpr float kNotch = 4;            ///< travel of the mouse for one step of the thimble
constexpr float kPointFromRight = 74;  ///< distance of the decimal point from the right of a number's box
constexpr double kFine = 0.1;          ///< share of a step with Shift held

/// The knurled sleeve of a micrometer seen from the side; `phase` in radians turns it.
void drawThimble(ImDrawList& draw, ImVec2 least, ImVec2 most, float phase, bool lit) {
    constexpr float kRidge = std::numbers::pi_v<float> / 9;
    const float radius = (most.x - least.x) / 2;
    const float middle = (most.x + least.x) / 2;
    const ImU32 metal = lit ? IM_COL32(205, 221, 224, 255) : IM_COL32(231, 227, 218, 255);
    draw.AddRectFilled(least, most, metal, 3);
    const float first = std::remainder(phase, kRidge) - std::numbers::pi_v<float> / 2;
    for (int ridge = 0; ridge <= 9; ++ridge) {
        const float angle = first + kRidge * static_cast<float>(ridge);
        const float x = middle + (radius - 2) * std::sin(angle);
        const int alpha = static_cast<int>(170 * std::max(0.0F, std::cos(angle)));
        const ImU32 line = lit ? IM_COL32(20, 92, 110, alpha) : IM_COL32(110, 104, 94, alpha);
        draw.AddLine({x, least.y + 4}, {x, most.y - 4}, line);
    }
    draw.AddRect(least, most, lit ? palette::kPetrol : palette::kHairline, 3);
}

}  // namespace

int onHistoryKey(ImGuiInputTextCallbackData* data) {
    auto* rows = static_cast<CardRows*>(data->UserData);
    if (rows->nudge_ == nullptr || !*rows->nudge_) return 0;
    const double steps =
        (data->EventKey == ImGuiKey_UpArrow ? 1 : -1) * (ImGui::GetIO().KeyShift ? kFine : 1);
    try {
        const std::string next =
            (*rows->nudge_)(std::string(data->Buf, static_cast<std::size_t>(data->BufTextLen)), steps);
        data->DeleteChars(0, data->BufTextLen);
        data->InsertChars(0, next.c_str());
        data->SelectAll();
        rows->nudged_ = true;
    } catch (const base::InputError&) {
        rows->nudged_ = false;  // the text is not a number yet, so there is nothing to step from
    }
    return 0;
}

void CardRows::drawAligned(const std::string& number, std::string_view unit) const {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    const std::string whole = number.substr(0, number.find('.'));
    const float x = most.x - theme_->px(kPointFromRight) - ImGui::CalcTextSize(whole.c_str()).x;
    draw.AddText({x, (least.y + most.y - ImGui::GetFontSize()) / 2}, palette::kInk, number.c_str());
    const ImFont& small = *theme_->small;
    const ImVec2 size =
        small.CalcTextSizeA(small.FontSize, FLT_MAX, 0, unit.data(), unit.data() + unit.size());
    draw.AddText(&small, small.FontSize,
                 {most.x - theme_->px(9) - size.x, (least.y + most.y - size.y) / 2 + theme_->px(1)},
                 palette::kGraphite, unit.data(), unit.data() + unit.size());
}

void CardRows::drawCut(const std::string& text) const {
    const ImVec2 least = plus(ImGui::GetItemRectMin(), theme_->px(9), 0);
    const ImVec2 most = plus(ImGui::GetItemRectMax(), -theme_->px(9), 0);
    const float down = (most.y - least.y - ImGui::GetFontSize()) / 2;
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kInk);
    writeCutOff(plus(least, 0, down), most, text.c_str());
    ImGui::PopStyleColor();
    if (!ImGui::IsItemHovered()) return;
    ImGui::BeginTooltip();
    paragraph(*theme_->body, width_, text);
    ImGui::EndTooltip();
}

void CardRows::drawResult(const std::string& text) const {
    const float size = theme_->small->FontSize;
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    ImGui::GetWindowDrawList()->AddText(theme_->small, size,
                                        {most.x + theme_->px(6), (least.y + most.y - size) / 2},
                                        palette::kPetrol, text.c_str());
}

float CardRows::boxWidth() const {
    return width_ - theme_->px(kLabelWidth) - theme_->px(kThimbleWidth + 4);
}

CardRows::Typed CardRows::entry(const std::string& key, const std::string& shown,
                                std::optional<std::string_view> unit, const Nudge& nudge) {
    const bool wasEditing = editing_ == key;
    const auto refused = refusals_.find(key);
    const bool isRefused = refused != refusals_.end();
    const std::string resting = isRefused ? refused->second.text : shown;
    std::string text = wasEditing ? buffer_ : resting;
    const bool isCut = !unit && ImGui::CalcTextSize(text.c_str()).x > ImGui::CalcItemWidth() - theme_->px(18);
    const bool drawnByUs = (unit || isCut) && !wasEditing && !isRefused;

    if (focusRequest_ == key) {
        ImGui::SetKeyboardFocusHere();
        ImGui::SetScrollHereY(0.3F);
        focusRequest_.clear();
    }
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding,
                        ImVec2(theme_->px(9), (theme_->px(kRowHeight) - ImGui::GetFontSize()) / 2));
    ImGui::PushStyleColor(ImGuiCol_Text, drawnByUs ? IM_COL32_BLACK_TRANS : palette::kInk);
    ImGui::PushStyleColor(ImGuiCol_Border, isRefused    ? palette::kNoGo
                                           : wasEditing ? palette::kPetrol
                                                        : palette::kHairline);
    nudge_ = &nudge;
    nudged_ = false;
    ImGui::InputText(("##" + key).c_str(), &text,
                     ImGuiInputTextFlags_AutoSelectAll | ImGuiInputTextFlags_CallbackHistory, onHistoryKey,
                     this);
    nudge_ = nullptr;
    ImGui::PopStyleColor(2);
    ImGui::PopStyleVar();
    place(key);

    Typed typed{ImGui::IsItemActive(), std::nullopt};
    if (typed.active) {
        editing_ = key;
        buffer_ = text;
    } else if (wasEditing) {
        editing_.clear();
        if (text == shown) {
            refusals_.erase(key);
        } else if (text != resting) {
            typed.committed = text;
        }
    }
    if (drawnByUs && !typed.active) {
        if (isCut) {
            drawCut(shown);
        } else {
            drawAligned(shown, unit.value_or(""));
        }
    }
    return typed;
}

std::optional<double> CardRows::thimble(const std::string& key, double value, double step) {
    constexpr double kTurn = 0.12;  // radians the sleeve turns for one step
    ImGui::SameLine(0, theme_->px(4));
    beginPassedOver();
    ImGui::InvisibleButton(("##thimble" + key).c_str(), {theme_->px(kThimbleWidth), theme_->px(kRowHeight)});
    endPassedOver();
    place(key + "#thimble");
    const bool lit = ImGui::IsItemActive() || ImGui::IsItemHovered();
    if (lit) ImGui::SetMouseCursor(ImGuiMouseCursor_ResizeEW);
    drawThimble(*ImGui::GetWindowDrawList(), ImGui::GetItemRectMin(), ImGui::GetItemRectMax(),
                static_cast<float>(std::fmod(value / step * kTurn, 2 * std::numbers::pi)), lit);
    if (ImGui::IsItemActivated()) dragStart_ = value;
    if (ImGui::IsItemDeactivated()) dragEnded_ = true;
    const ImGuiIO& io = ImGui::GetIO();
    if (!ImGui::IsItemActive() || (io.MouseDelta.x == 0 && io.MouseDelta.y == 0)) return std::nullopt;
    const double notches = std::trunc((io.MousePos.x - io.MouseClickedPos[0].x) / theme_->px(kNotch));
    return dragStart_ + notches * step * (io.KeyShift ? kFine : 1);
}

bool CardRows::number(const std::string& key, const std::string& name, double& value,
                      const design::NumberField& field) {
    if (isHidden(key, name)) return false;
    const std::string shown = formatNumber(value, field);
    const Nudge nudge = [&](const std::string& typed, double steps) {
        return formatNumber(parseNumber(typed, field) + steps * field.step, field);
    };
    label(key, name);
    ImGui::SetNextItemWidth(boxWidth());
    const Typed typed = entry(key, shown, design::names(field.unit).sign, nudge);
    const double before = value;
    try {
        if (typed.committed) {
            noteChange(key, *typed.committed, false);
            value = parseNumber(*typed.committed, field);
        } else if (typed.active && nudged_) {
            noteChange(key, buffer_, true);
            value = parseNumber(buffer_, field);
        }
    } catch (const base::InputError& error) {
        refuse(error.what());
    }
    if (typed.active && buffer_ != shown && !nudged_) {
        try {
            drawResult("= " + formatNumber(parseNumber(buffer_, field), field));
        } catch (const base::InputError&) {
            drawResult("= ?");
        }
    } else if (const auto turned = thimble(key, value, field.step)) {
        // Rounded as it is shown, as after a press of an arrow key.
        const std::string text = formatNumber(*turned, field);
        value = parseNumber(text, field);
        noteChange(key, text, true);
    }
    drawRefusal(key);
    return value != before;
}

bool CardRows::count(const std::string& key, const std::string& name, int& value) {
    double number = value;
    const bool changed = this->number(key, name, number, {.unit = design::Unit::Pieces});
    if (changed) value = static_cast<int>(std::round(number));
    return changed;
}

bool CardRows::ringSize(const std::string& key, const std::string& name, trade::RingSize& size) {
    if (isHidden(key, name)) return false;
    const auto turned = [](trade::RingSize from, double steps) {
        from.value += steps * trade::sizeRule(from.system).step;
        return from;
    };
    const Nudge nudge = [&](const std::string& typed, double steps) {
        return trade::formatRingSize(turned(trade::parseRingSize(typed, size.system),
                                            std::copysign(std::ceil(std::abs(steps)), steps)));
    };
    const trade::RingSize before = size;
    label(key, name);
    ImGui::SetNextItemWidth(boxWidth());
    const Typed typed = entry(key, trade::formatRingSize(size), std::nullopt, nudge);
    try {
        if (typed.committed || (typed.active && nudged_)) {
            noteChange(key, typed.committed.value_or(buffer_), !typed.committed);
            size = trade::parseRingSize(attempted_, size.system);
        } else if (const auto value = thimble(key, size.value, trade::sizeRule(size.system).step)) {
            noteChange(key, trade::formatRingSize({size.system, *value}), true);
            size = trade::parseRingSize(attempted_);
        }
    } catch (const base::InputError& error) {
        refuse(error.what());
    }
    drawRefusal(key);
    return size != before;
}

bool CardRows::sizeSystems(const std::string& key, trade::RingSize& size) {
    if (isFolded_) return false;
    using trade::SizeSystem;
    struct Cell {
        SizeSystem system;
        const char* name;
        std::size_t beside;  ///< how many are in its line
    };
    static constexpr std::array<Cell, 7> kCells{{{SizeSystem::Us, "us", 4},
                                                 {SizeSystem::Uk, "uk", 4},
                                                 {SizeSystem::Iso, "iso", 4},
                                                 {SizeSystem::Japan, "jp", 4},
                                                 {SizeSystem::Swiss, "ch", 3},
                                                 {SizeSystem::Diameter, "across", 3},
                                                 {SizeSystem::Circumference, "round", 3}}};
    const trade::RingSize before = size;
    const float least = ImGui::GetCursorScreenPos().x;
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, theme_->px(4)));
    ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(0, 0));
    for (const auto& [system, name, beside] : kCells) {
        const bool isOwn = system == before.system;
        const trade::RingSize same = isOwn ? before : trade::convert(before, system);
        std::string text = trade::formatRingSize(same);
        if (system == SizeSystem::Diameter) text.insert(0, "\u00D8 ");
        if (system == SizeSystem::Circumference) text = base::shortestNumber(same.value) + " mm round";
        const bool hasName = same.value >= trade::sizeRule(system).first;
        ImGui::BeginDisabled(!hasName);
        if (cell(key, text, {width_ / static_cast<float>(beside), theme_->px(24)}, isOwn) && !isOwn) {
            size = same;
            noteChange(key, text, false);
        }
        ImGui::EndDisabled();
        place(key + "=" + name);
        if (ImGui::IsItemHovered())
            ImGui::SetTooltip("%s: %s, %s mm across", std::string(trade::sizeRule(system).name).c_str(),
                              trade::formatRingSize(same).c_str(),
                              base::fixed(trade::innerDiameter(same), 2).c_str());
        if (system == SizeSystem::Japan || system == SizeSystem::Circumference) continue;
        ImGui::SameLine(0, 0);
    }
    ImGui::PopStyleVar(2);
    ImGui::PopFont();
    ImGui::SetCursorScreenPos({least, ImGui::GetCursorScreenPos().y + theme_->px(4)});
    return size != before;
}

bool CardRows::text(const std::string& key, const std::string& name, std::string& value) {
    if (isHidden(key, name)) return false;
    label(key, name);
    ImGui::SetNextItemWidth(width_ - theme_->px(kLabelWidth));
    const Typed typed = entry(key, value, std::nullopt, {});
    if (typed.committed) {
        noteChange(key, *typed.committed, false);
        value = *typed.committed;
    }
    drawRefusal(key);
    return typed.committed.has_value();
}

}  // namespace bandwright::app
