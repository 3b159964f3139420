#include "app/work_view.hpp"

#include <imgui.h>

#include <algorithm>
#include <string>

#include "app/route_text.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "route/shown.hpp"

namespace bandwright::app {

namespace {

constexpr float kLabels = 64;  ///< width of the column of labels at scale 1

void row(const Theme& theme, float width, const std::string& label, const std::string& text, ImFont& font,
         ImU32 colour = palette::kInk) {
    const ImVec2 start = ImGui::GetCursorScreenPos();
    const float aside = theme.px(kLabels);
    if (!label.empty()) {
        ImGui::GetWindowDrawList()->AddText(theme.small, theme.small->FontSize,
                                            {start.x, start.y + theme.px(1)}, palette::kGraphite,
                                            label.c_str());
    }
    ImGui::SetCursorScreenPos({start.x + aside, start.y});
    ImGui::BeginGroup();
    paragraph(font, width - aside, text, colour);
    ImGui::EndGroup();
}

void operationView(const Theme& theme, float width, int number, const route::Operation& operation) {
    ImGui::Dummy({0, theme.px(4)});
    paragraph(*theme.strong, width, std::to_string(number) + "  " + operation.name);
    for (const Told& told : toldBeforeReading(operation))
        row(theme, width, told.label, told.text, *theme.body);
    for (const route::Reading& reading : operation.readings) {
        const std::string size = reading.size.empty() ? "" : ", about " + reading.size;
        row(theme, width, &reading == &operation.readings.front() ? "read" : "",
            reading.what + " " + inOneLine(route::shown(reading)) + ", " + route::name(reading.instrument) +
                size,
            *theme.strong, palette::kPetrol);
    }
    for (const Told& told : toldAfterReading(operation))
        row(theme, width, told.label, told.text, *theme.body);
}

}  // namespace

void workView(const Session& session, const Planner& planner, const Theme& theme) {
    const float width = ImGui::GetContentRegionAvail().x - theme.px(4);
    paragraph(*theme.strong, width, "Work: " + std::string(design::word(session.stage()).label));
    const route::Plan* plan = planner.plan();
    if (plan == nullptr || !(planner.planned() == session.design())) {
        const std::string said =
            planner.problem().empty() || planner.busy() ? "Being planned..." : planner.problem();
        return paragraph(*theme.body, width, said, palette::kGraphite);
    }
    int number = 0;
    bool isThere = false;
    for (const route::StageWork& work : plan->stages) {
        const bool isDone = design::isDone(session.design(), work.stage);
        const bool isShown = work.stage == session.stage();
        isThere = isThere || isShown;
        if (isShown && isDone) paragraph(*theme.body, width, route::doneText(session.design(), work.stage));
        if (isDone) continue;
        for (const route::Operation& operation : work.operations) {
            ++number;
            if (isShown) operationView(theme, width, number, operation);
        }
    }
    if (!isThere) paragraph(*theme.body, width, "Nothing is left to do at this step.", palette::kGraphite);
}

}  // namespace bandwright::app
