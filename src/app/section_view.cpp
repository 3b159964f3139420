#include "app/section_view.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "check/figures.hpp"
#include "drawing/section_drawing.hpp"
#include "paint_drawing.hpp"

namespace bandwright::app {

namespace {

/// What the finding measures, in the section's half-plane; nothing for a mass, which has no place there.
std::optional<drawing::PointedOut> pointedOut(const check::Report& report, const check::Finding& finding) {
    const check::Measure& measure = report.measures[finding.measure];
    const auto inSection = [](geometry::Vec3 point) {
        return geometry::Vec2{point.z, std::hypot(point.x, point.y)};
    };
    if (!measure.hasPlace) return std::nullopt;
    return drawing::PointedOut{inSection(measure.from), inSection(measure.to),
                               check::inFull(report, finding)};
}

drawing::Drawing drawingOf(const Session& session, int shown, const drawing::Layout& layout,
                           const std::optional<drawing::PointedOut>& pointed) {
    const Derived& derived = session.derived();
    if (shown == 0)
        return drawing::sectionDrawing(derived.made, session.stage(), derived.plain, layout, pointed);
    const auto setting = static_cast<std::size_t>(shown - 1);
    return drawing::settingDrawing(derived.made, session.stage(), setting, derived.plain,
                                   derived.settings[setting], layout, pointed);
}

}  // namespace

void SectionView::follow(const check::Report& report, const check::Finding* selected) {
    const std::optional<FindingId> id = selected ? std::optional(idOf(report, *selected)) : std::nullopt;
    if (id == followed_) return;
    followed_ = id;
    if (selected == nullptr) return;
    const check::Measure& measure = report.measures[selected->measure];
    shown_ = 0;
    for (const geometry::Tag& tag : {measure.fromTag, measure.toTag}) {
        if (const auto setting = geometry::settingOf(tag)) shown_ = static_cast<int>(*setting) + 1;
    }
}

void SectionView::chooser(std::size_t settings) {
    shown_ = std::min(shown_, static_cast<int>(settings));
    const ImVec2 start = ImGui::GetCursorScreenPos();
    ImGui::PushFont(theme_->strong);
    ImGui::TextUnformatted("Section");
    ImGui::PopFont();
    if (settings > 0) {
        ImGui::SetCursorScreenPos({start.x + theme_->px(88), start.y - theme_->px(4)});
        ImGui::PushFont(theme_->small);
        ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
        for (int i = 0; i <= static_cast<int>(settings); ++i) {
            if (i > 0) ImGui::SameLine(0, theme_->px(2));
            const std::string text = i == 0          ? "plain"
                                     : settings == 1 ? "through the stone"
                                                     : "through stone " + std::to_string(i);
            ImGui::PushStyleColor(ImGuiCol_Button, shown_ == i ? palette::kPetrolSoft : IM_COL32_BLACK_TRANS);
            ImGui::PushStyleColor(ImGuiCol_Text, shown_ == i ? palette::kInk : palette::kPetrol);
            if (ImGui::Button(text.c_str())) shown_ = i;
            ImGui::PopStyleColor(2);
        }
        ImGui::PopStyleVar();
        ImGui::PopFont();
    }
}

std::optional<geometry::Tag> SectionView::draw(const Session& session, const Theme& theme,
                                               const check::Finding* selected) {
    theme_ = &theme;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const std::size_t settings = session.derived().settings.size();
    follow(session.derived().report, selected);
    chooser(settings);

    const ImVec2 least{corner.x, corner.y + theme.px(28)}, most{corner.x + room.x, corner.y + room.y};
    update(session, {most.x - least.x, most.y - least.y}, selected);
    if (drawn_.drawing.bodies.empty()) return std::nullopt;
    Paper paper{pixelsPerMm(theme, drawn_.drawing.textHeight), {}};
    paper.origin = {(least.x + most.x) / 2 - static_cast<float>(paper.pixels * drawn_.middle.z),
                    (least.y + most.y) / 2 + static_cast<float>(paper.pixels * drawn_.middle.r)};
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(least, most, true);
    paint(drawn_.drawing, list, theme, paper);
    list.PopClipRect();
    const ImFont& font = *theme.small;
    const float right = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, "right").x;
    list.AddText(&font, font.FontSize, {least.x, most.y - font.FontSize}, palette::kGraphite, "left");
    list.AddText(&font, font.FontSize, {most.x - right, most.y - font.FontSize}, palette::kGraphite, "right");

    ImGui::SetCursorScreenPos(least);
    const bool pressed = ImGui::InvisibleButton("sheet", {most.x - least.x, most.y - least.y});
    const std::optional<geometry::Tag> under = ImGui::IsItemHovered() ? hovered(paper) : std::nullopt;
    return pressed ? under : std::nullopt;
}

/// Draws anew when something has changed. Pointing something out moves nothing else.
void SectionView::update(const Session& session, ImVec2 room, const check::Finding* selected) {
    Drawn wanted{session.revision(), shown_, room.x, room.y, theme_->scale, {}, {}, {}};
    if (selected != nullptr) wanted.pointed = pointedOut(session.derived().report, *selected);
    if (wanted.isOf(drawn_)) return;
    drawing::Layout layout;
    layout.textWidth = [this](std::string_view text) { return widthInHeights(*theme_, text); };
    const auto draw = [&](double scale) {
        layout.scale = scale;
        return drawingOf(session, shown_, layout, {});
    };
    const double pixels = pixelsPerMm(*theme_, layout.textHeight);
    layout.scale = drawing::fittingScale(draw, room.x / pixels, room.y / pixels);
    if (layout.scale > 0) {
        wanted.drawing = drawingOf(session, shown_, layout, {});
        const geometry::Rectangle extent = drawing::extentOf(wanted.drawing);
        wanted.middle = 0.5 * (extent.low + extent.high);
        if (wanted.pointed) wanted.drawing = drawingOf(session, shown_, layout, wanted.pointed);
    }
    drawn_ = std::move(wanted);
}

std::optional<geometry::Tag> SectionView::hovered(const Paper& paper) const {
    const geometry::Segment* nearest =
        drawing::outlineNear(drawn_.drawing, paper.mm(ImGui::GetIO().MousePos), theme_->px(9) / paper.pixels);
    if (nearest == nullptr) return std::nullopt;
    paint(*nearest, *ImGui::GetWindowDrawList(), paper, palette::kPetrol, theme_->px(3));
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImGui::SetTooltip("%s, %s mm long", geometry::name(nearest->tag.feature).c_str(),
                      base::fixed(geometry::arcLength(*nearest) / drawn_.drawing.scale, 2).c_str());
    return nearest->tag;
}

}  // namespace bandwright::app
