#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cctype>
#include <utility>

#include "app/card_rows.hpp"
#include "app/gauges.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "check/rule_list.hpp"
#include "focus.hpp"

/// The limit of a gauge, typed in its place.
namespace bandwright::app {

namespace {

constexpr float kLimitBox = 92;                             ///< width at scale 1
constexpr double kLeastLimit = -1000, kMostLimit = 100000;  ///< as files may have them

/// How a limit of a measure's unit is typed.
design::NumberField fieldFor(const std::string& unit) {
    design::NumberField field;
    field.decimals = 2;
    const std::string shown = check::shownUnit(unit);
    if (unit == "mm")
        field.unit = design::Unit::Millimetres;
    else if (unit == "g")
        field.unit = design::Unit::Grams;
    else if (unit == "degrees")
        field.unit = design::Unit::Degrees;
    else if (unit == "%")
        field.unit = design::Unit::Percent;
    else if (shown.starts_with("%"))
        field.unit = design::Unit::Share;
    return field;
}

double typedLimit(const std::string& text, const std::string& unit) {
    const double limit = parseNumber(text, fieldFor(unit));
    if (limit < kLeastLimit || limit > kMostLimit)
        throw base::InputError("A limit is " + base::shortestNumber(kLeastLimit) + " to " +
                               base::shortestNumber(kMostLimit) + ".");
    return limit;
}

std::string nameOf(const check::Finding& finding, const check::Measure& measure) {
    return finding.rule + " " + measure.id;
}

}  // namespace

const trade::OwnLimit* Gauges::ownLimit(const check::Finding& finding) const {
    if (session_->catalogue().limits.empty()) return nullptr;
    const check::BookLimit book = check::bookLimit(finding, session_->derived().made, session_->catalogue());
    return trade::ownLimit(session_->catalogue().limits, book.name, session_->design().band.metal);
}

/// Not what the law sets, nor what is told in words, nor what a limits file has, which stands above the
/// workshop.
bool Gauges::canSetLimit(const check::Finding& finding, const check::Figures& figures) const {
    const char first = figures.limit.empty() ? '?' : figures.limit.front();
    if (finding.group == check::Group::Law) return false;
    if (first != '-' && std::isdigit(static_cast<unsigned char>(first)) == 0) return false;
    const trade::OwnLimit* own = ownLimit(finding);
    return own == nullptr || std::ranges::any_of(*kept_, [own](const trade::OwnLimit& each) {
               return each.rule == own->rule && each.metal == own->metal && each.limit == own->limit &&
                      each.comfortable == own->comfortable;
           });
}

/// What the limit is, in words; a click on them opens the field for another.
void Gauges::limitWords(const check::Finding& finding, const check::Measure& measure,
                        const check::Figures& figures, ImVec2 at, const std::string& words) {
    ImFont& font = *theme_->small;
    const ImVec2 size = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, words.c_str());
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    if (!canSetLimit(finding, figures)) {
        draw.AddText(&font, font.FontSize, at, palette::kGraphite, words.c_str());
        return;
    }
    const std::string name = nameOf(finding, measure);
    ImGui::SetCursorScreenPos(at);
    const bool isPressed = ImGui::InvisibleButton(("limit of " + name).c_str(), size);
    const ImVec2 end{at.x + size.x, at.y + size.y};
    if (ImGui::IsItemHovered()) {
        draw.AddLine({at.x, end.y}, end, palette::kPetrol, theme_->px(1));
        if (typing_ != name) ImGui::SetTooltip("Set a limit of your own");
    }
    markIfFocused(at, end);
    draw.AddText(&font, font.FontSize, at, palette::kPetrol, words.c_str());
    limitPlaces_[name] = {at.x, at.y, end.x, end.y};
    if (!isPressed) return;
    typing_ = typing_ == name ? "" : name;
    typed_ = formatNumber(finding.limit, fieldFor(measure.unit));
    refusal_.clear();
    begins_ = true;
    wasActive_ = false;
}

/// The field for another limit, while it is open; else, where the limit is the maker's own, the book's.
void Gauges::limitRow(const check::Finding& finding, const check::Measure& measure,
                      const check::Figures& figures, Asked& asked) {
    const std::string name = nameOf(finding, measure);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float left = at.x + theme_->px(20);
    const check::BookLimit book = check::bookLimit(finding, session_->derived().made, session_->catalogue());
    const trade::OwnLimit* own = ownLimit(finding);
    const auto inWords = [&](double limit) { return check::inSentence(limit, finding, measure.unit); };
    if (typing_ == name) {
        limitField(finding, measure, book, own, left, asked);
    } else if (own != nullptr) {
        ImGui::SetCursorScreenPos({left, at.y + theme_->px(3)});
        paragraph(*theme_->small, width_ - theme_->px(20),
                  "Your limit " + inWords(own->limit) + ", the book's " + inWords(book.limit) + ".");
        if (!canSetLimit(finding, figures)) return;
        ImGui::SetCursorScreenPos({left, ImGui::GetCursorScreenPos().y});
        ImGui::PushID(name.c_str());
        if (choice("Back to the book's", false, limitPlaces_["book " + name])) asked.limit = {*own, true};
        ImGui::PopID();
    }
}

void Gauges::limitField(const check::Finding& finding, const check::Measure& measure,
                        const check::BookLimit& book, const trade::OwnLimit* own, float left, Asked& asked) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({left, at.y + theme_->px(4)});
    ImGui::PushFont(theme_->small);
    ImGui::AlignTextToFramePadding();
    ImGui::TextUnformatted("Your limit");
    ImGui::SameLine(0, theme_->px(6));
    ImGui::SetNextItemWidth(theme_->px(kLimitBox));
    if (std::exchange(begins_, false)) ImGui::SetKeyboardFocusHere();
    ImGui::InputText("##your limit", &typed_, ImGuiInputTextFlags_AutoSelectAll);
    const bool isActive = ImGui::IsItemActive();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    limitPlaces_["field"] = {least.x, least.y, most.x, most.y};
    ImGui::SameLine(0, theme_->px(4));
    ImGui::TextUnformatted(check::shownUnit(measure.unit).c_str());
    ImGui::PopFont();
    ImGui::SetCursorScreenPos({left, ImGui::GetCursorScreenPos().y});
    paragraph(*theme_->small, width_ - theme_->px(20),
              refusal_.empty() ? "The book's " + check::inSentence(book.limit, finding, measure.unit) + "."
                               : refusal_,
              refusal_.empty() ? palette::kGraphite : palette::kProblem);
    if (!std::exchange(wasActive_, isActive) || isActive) return;
    try {
        const double limit = typedLimit(typed_, measure.unit);
        // The margin stays as wide as it is.
        trade::OwnLimit next{book.name, "", limit, limit + finding.comfortable - finding.limit};
        if (own != nullptr)
            next.metal = own->metal;
        else if (!book.isFixed)
            next.metal = session_->design().band.metal;
        typing_.clear();
        if (typed_ != formatNumber(finding.limit, fieldFor(measure.unit)))
            asked.limit = {next, own != nullptr && limit == book.limit};
    } catch (const base::InputError& error) {
        refusal_ = error.what();
    }
}

}  // namespace bandwright::app
