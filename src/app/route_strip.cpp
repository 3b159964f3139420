#include "route_strip.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>

#include "design/fields.hpp"
#include "focus.hpp"

namespace bandwright::app {

namespace {

check::Verdict worstAt(const check::Report& report, design::Stage stage) {
    check::Verdict worst = check::Verdict::Go;
    for (const check::Finding& finding : report.findings)
        if (finding.stage == stage) worst = std::max(worst, finding.verdict);
    return worst;
}

struct Strip {
    const Theme& theme;
    std::span<const design::Stage> stages;
    std::size_t shown;
    float first, each, line;

    float at(std::size_t i) const { return first + each * static_cast<float>(i); }
    std::size_t under(float x) const {
        const float place = std::round((x - first) / std::max(each, 1.0F));
        return static_cast<std::size_t>(std::clamp(place, 0.0F, static_cast<float>(stages.size() - 1)));
    }
};

/// The line of the work, in ink up to the shown stage, and a mark for each stage.
void drawMarks(ImDrawList& draw, const Strip& strip, const check::Report& report,
               std::optional<std::size_t> hovered) {
    const Theme& theme = strip.theme;
    const float here = strip.at(strip.shown), last = strip.at(strip.stages.size() - 1);
    draw.AddLine({strip.first, strip.line}, {here, strip.line}, palette::kPetrol, theme.px(2));
    draw.AddLine({here, strip.line}, {last, strip.line}, palette::kGrip, theme.px(2));
    for (std::size_t i = 0; i < strip.stages.size(); ++i) {
        const ImVec2 centre{strip.at(i), strip.line};
        const bool isShown = i == strip.shown;
        const float radius = theme.px(isShown ? 7 : 4.5F);
        const check::Verdict worst = worstAt(report, strip.stages[i]);
        if (isShown || hovered == i)
            draw.AddCircle(centre, radius + theme.px(3), palette::kPetrol, 0, theme.px(1.5F));
        if (worst != check::Verdict::Go) {
            draw.AddCircleFilled(centre, radius + theme.px(1.5F), palette::kPaper);
            verdictMark(draw, centre, radius, worst);
            continue;
        }
        draw.AddCircleFilled(centre, radius, i <= strip.shown ? palette::kPetrol : palette::kPaper);
        draw.AddCircle(centre, radius, i <= strip.shown ? palette::kPetrol : palette::kGrip, 0,
                       theme.px(1.5F));
    }
}

/// Names stand alternately under and over the line: always the shown stage's, and others if they have room.
void drawNames(ImDrawList& draw, const Strip& strip, float least, float most) {
    struct Taken {
        float from, to;
        bool over;
    };
    std::vector<Taken> taken;
    const auto write = [&](std::size_t i) {
        const bool isShown = i == strip.shown;
        const ImFont& font = isShown ? *strip.theme.strong : *strip.theme.small;
        const std::string text(design::word(strip.stages[i]).label);
        const ImVec2 size = font.CalcTextSizeA(font.FontSize, 1e6F, 0, text.c_str());
        const float x = std::clamp(strip.at(i) - size.x / 2, least, std::max(least, most - size.x));
        const bool over = i % 2 == 1;
        const float gap = strip.theme.px(5);
        for (const Taken& other : taken)
            if (other.over == over && x < other.to + gap && other.from < x + size.x + gap) return;
        taken.push_back({x, x + size.x, over});
        const float y = over ? strip.line - strip.theme.px(11) - size.y : strip.line + strip.theme.px(10);
        draw.AddText(&font, font.FontSize, {x, y}, isShown ? palette::kInk : palette::kGraphite,
                     text.c_str());
    };
    write(strip.shown);
    for (std::size_t i = 0; i < strip.stages.size(); ++i)
        if (i != strip.shown) write(i);
}

}  // namespace

std::optional<design::Stage> routeStrip(const Theme& theme, std::span<const design::Stage> stages,
                                        design::Stage shown, const check::Report& report, ImVec2 corner,
                                        float width) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float height = theme.px(kRouteStripHeight), margin = theme.px(38);
    draw.AddRectFilled(corner, {corner.x + width, corner.y + height}, palette::kPaper);
    const float room = std::max(width - 2 * margin, 1.0F);
    const float each =
        std::min(room / static_cast<float>(std::max<std::size_t>(stages.size(), 2) - 1), theme.px(96));
    const float whole = each * static_cast<float>(stages.size() - 1);
    const auto place = static_cast<std::size_t>(std::ranges::find(stages, shown) - stages.begin());
    const Strip strip{theme,
                      stages,
                      std::min(place, stages.size() - 1),
                      corner.x + (width - whole) / 2,
                      each,
                      corner.y + height / 2};

    ImGui::SetCursorScreenPos({corner.x + theme.px(4), corner.y + theme.px(2)});
    ImGui::InvisibleButton("route", {std::max(width - theme.px(8), 1.0F), height - theme.px(4)});
    const bool hovered = ImGui::IsItemHovered(), held = ImGui::IsItemActive();
    markIfFocused(ImGui::GetItemRectMin(), ImGui::GetItemRectMax());
    std::optional<std::size_t> under;
    if (hovered || held) under = strip.under(ImGui::GetIO().MousePos.x);
    drawMarks(draw, strip, report, under);
    drawNames(draw, strip, corner.x + theme.px(8), corner.x + width - theme.px(8));
    if (hovered && under) {
        // Over the strip, so that it hides no name.
        ImGui::SetNextWindowPos({strip.at(*under), corner.y - theme.px(4)}, ImGuiCond_Always, {0.5F, 1});
        const design::Word<design::Stage>& stage = design::word(stages[*under]);
        const std::string text = std::string(stage.label) + ": " + std::string(stage.help);
        ImGui::SetTooltip("%s", text.c_str());
    }
    if (!held || !under || *under == strip.shown) return std::nullopt;
    return stages[*under];
}

}  // namespace bandwright::app
