#include "route_strip.hpp"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <string>

#include "focus.hpp"

namespace bandwright {

namespace {

std::string labelOf(Stage stage) {
    std::string text = name(stage);
    text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
    return text;
}

Verdict worstAt(const Report& report, Stage stage) {
    Verdict worst = Verdict::Go;
    for (const Finding& finding : report.findings)
        if (finding.stage == stage) worst = std::max(worst, finding.verdict);
    return worst;
}

struct Strip {
    const Theme& theme;
    std::span<const Stage> stages;
    std::size_t shown;
    float first, each, line;

    float at(std::size_t i) const { return first + each * static_cast<float>(i); }
    std::size_t under(float x) const {
        const float place = std::round((x - first) / std::max(each, 1.0F));
        return static_cast<std::size_t>(std::clamp(place, 0.0F, static_cast<float>(stages.size() - 1)));
    }
};

/// The line of the work, in ink as far as it is done, and a mark for each stage.
void drawMarks(ImDrawList& draw, const Strip& strip, const Report& report,
               std::optional<std::size_t> hovered) {
    const Theme& theme = strip.theme;
    const float here = strip.at(strip.shown), last = strip.at(strip.stages.size() - 1);
    draw.AddLine({strip.first, strip.line}, {here, strip.line}, palette::kPetrol, theme.px(2));
    draw.AddLine({here, strip.line}, {last, strip.line}, palette::kGrip, theme.px(2));
    for (std::size_t i = 0; i < strip.stages.size(); ++i) {
        const ImVec2 centre{strip.at(i), strip.line};
        const bool isShown = i == strip.shown;
        const float radius = theme.px(isShown ? 7 : 4.5F);
        const Verdict worst = worstAt(report, strip.stages[i]);
        if (isShown || hovered == i)
            draw.AddCircle(centre, radius + theme.px(3), palette::kPetrol, 0, theme.px(1.5F));
        if (worst != Verdict::Go) {
            draw.AddCircleFilled(centre, radius + theme.px(1.5F), palette::kPaper);
            verdictMark(draw, centre, radius, worst);
            continue;
        }
        draw.AddCircleFilled(centre, radius, i <= strip.shown ? palette::kPetrol : palette::kPaper);
        draw.AddCircle(centre, radius, i <= strip.shown ? palette::kPetrol : palette::kGrip, 0,
                       theme.px(1.5F));
    }
}

/// Names stand under and over the line by turns; the shown one always, of the others those that have room.
void drawNames(ImDrawList& draw, const Strip& strip, float least, float most) {
    struct Taken {
        float from, to;
        bool over;
    };
    std::vector<Taken> taken;
    const auto write = [&](std::size_t i) {
        const bool isShown = i == strip.shown;
        const ImFont& font = isShown ? *strip.theme.strong : *strip.theme.small;
        const std::string text = labelOf(strip.stages[i]);
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

const char* meaning(Stage stage) {
    switch (stage) {
        case Stage::Blank:
            return "a drilled piece of bar or tube";
        case Stage::Bored:
            return "bored straight and under size, or to the joint for a liner";
        case Stage::Turned:
            return "turned outside, with what is left to true";
        case Stage::Parted:
            return "parted off and faced to width, the outside in shape";
        case Stage::Lined:
            return "the liner pressed in";
        case Stage::Channelled:
            return "the channels cut";
        case Stage::Drilled:
            return "the holes drilled and seated";
        case Stage::Filled:
            return "the channels packed, standing over the outside";
        case Stage::Trued:
            return "metal and fill taken down to where they belong";
        case Stage::Bevelled:
            return "the edges bevelled or rounded";
        case Stage::Polished:
            return "the surfaces as they are to be left";
        case Stage::Sized:
            return "the bore opened to size, in its shape and eased";
        case Stage::Etched:
            return "the layers etched out";
        case Stage::Joined:
            return "the tubes fixed in their holes";
        case Stage::Set:
            return "the stones laid in";
        case Stage::Closed:
            return "the lips closed over the stones";
        case Stage::Finished:
            return "all done";
    }
    return "";
}

std::optional<Stage> routeStrip(const Theme& theme, std::span<const Stage> stages, Stage shown,
                                const Report& report, ImVec2 corner, float width) {
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
        ImGui::SetTooltip("%s: %s", labelOf(stages[*under]).c_str(), meaning(stages[*under]));
    }
    if (!held || !under || *under == strip.shown) return std::nullopt;
    return stages[*under];
}

}  // namespace bandwright
