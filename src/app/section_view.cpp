#include "app/section_view.hpp"

#include <algorithm>
#include <cmath>

#include "app/fields.hpp"
#include "sheet.hpp"

namespace bandwright {

namespace {

constexpr ImU32 kMetalTint = IM_COL32(214, 220, 223, 255);
constexpr ImU32 kMetalLines = IM_COL32(120, 130, 136, 150);
constexpr ImU32 kFillTint = IM_COL32(196, 222, 220, 255);
constexpr ImU32 kFillLines = IM_COL32(60, 130, 130, 120);
constexpr ImU32 kLinerTint = IM_COL32(232, 224, 208, 255);
constexpr ImU32 kLinerLines = IM_COL32(140, 124, 92, 150);
constexpr ImU32 kTubeTint = IM_COL32(238, 220, 170, 255);
constexpr ImU32 kTubeLines = IM_COL32(150, 120, 40, 160);
constexpr ImU32 kStoneTint = IM_COL32(225, 236, 244, 255);

std::string mm(double value) {
    return formatNumber(std::round(value * 100) / 100, {NumberKind::Unit::Count, 1, 2});
}

/// Where a point of space lies in the section's half-plane.
Vec2 inSection(Vec3 point) {
    return {point.z, std::hypot(point.x, point.y)};
}

}  // namespace

void SectionView::follow(const Report& report, const Finding* selected) {
    const std::optional<FindingId> id = selected ? std::optional(idOf(report, *selected)) : std::nullopt;
    if (id == followed_) return;
    followed_ = id;
    if (selected == nullptr) return;
    const Measure& measure = report.measures[selected->measure];
    shown_ = 0;
    for (const Tag& tag : {measure.fromTag, measure.toTag}) {
        if (const auto setting = settingOf(tag)) shown_ = static_cast<int>(*setting) + 1;
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

std::optional<Tag> SectionView::draw(const Session& session, const Theme& theme, const Finding* selected) {
    theme_ = &theme;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const std::size_t settings = session.derived().settings.size();
    follow(session.derived().report, selected);
    chooser(settings);

    const ImVec2 least{corner.x, corner.y + theme.px(28)}, most{corner.x + room.x, corner.y + room.y};
    Bounds bounds;
    grow(bounds, session.derived().plain.band);
    grow(bounds, session.derived().plain.liner);
    if (shown_ > 0) {
        const SettingSection& setting = session.derived().settings[static_cast<std::size_t>(shown_ - 1)];
        grow(bounds, setting.tube);
        grow(bounds, setting.stone);
    }
    const double across = most.x - least.x - theme.px(190), up = most.y - least.y - theme.px(82);
    if (across < 40 || up < 20 || bounds.mostZ <= bounds.leastZ) return std::nullopt;
    const double scale =
        std::min(across / (bounds.mostZ - bounds.leastZ), up / (bounds.mostR - bounds.leastR));
    ImDrawList& list = *ImGui::GetWindowDrawList();
    Sheet sheet{list, theme, scale, {}, least, most};
    sheet.origin = {(least.x + most.x) / 2 - static_cast<float>(scale * (bounds.leastZ + bounds.mostZ) / 2),
                    (least.y + theme.px(52) + most.y - theme.px(30)) / 2 +
                        static_cast<float>(scale * (bounds.leastR + bounds.mostR) / 2)};
    list.PushClipRect(least, most, true);
    bodies(sheet, session);
    if (shown_ == 0) {
        plainDimensions(sheet, session);
    } else {
        settingDimensions(sheet, session);
    }
    if (selected != nullptr) witness(sheet, session.derived().report.measures[selected->measure]);
    list.PopClipRect();

    ImGui::SetCursorScreenPos(least);
    const bool pressed = ImGui::InvisibleButton("sheet", {most.x - least.x, most.y - least.y});
    const std::optional<Tag> under = ImGui::IsItemHovered() ? hovered(sheet, session) : std::nullopt;
    return pressed ? under : std::nullopt;
}

void SectionView::bodies(Sheet& sheet, const Session& session) const {
    const Derived& derived = session.derived();
    const float line = theme_->px(1.6F);
    const bool plain = shown_ == 0;
    const SettingSection* setting = plain ? nullptr : &derived.settings[static_cast<std::size_t>(shown_ - 1)];
    const Section& band = plain ? derived.plain.band : setting->band;
    const Section& liner = plain ? derived.plain.liner : setting->liner;
    sheet.cut(band, kMetalTint, kMetalLines, 45, 8);
    sheet.cut(liner, kLinerTint, kLinerLines, -45, 5);
    for (const Section& fill : plain ? derived.plain.fills : setting->fills) {
        sheet.cut(fill, kFillTint, kFillLines, -30, 6);
        sheet.outline(fill, palette::kGraphite, 1);
    }
    if (setting != nullptr) {
        sheet.cut(setting->stone, kStoneTint, kStoneTint, 0, 9);
        sheet.cut(setting->tube, kTubeTint, kTubeLines, 135, 5);
        sheet.outline(setting->tube, palette::kInk, line);
        sheet.outline(setting->stone, palette::kInk, line);
    }
    sheet.outline(liner, palette::kInk, line);
    sheet.outline(band, palette::kInk, line);
}

void SectionView::plainDimensions(Sheet& sheet, const Session& session) const {
    const Design& design = session.design();
    Bounds bounds;
    grow(bounds, session.derived().plain.band);
    grow(bounds, session.derived().plain.liner);
    const Vec2 left{bounds.leastZ, bounds.mostR}, right{bounds.mostZ, bounds.mostR};
    const Workpiece piece = workpiece(design, session.stage());
    const double outside = piece.outside;
    const float top = sheet.at({0, outside}).y;
    sheet.acrossDimension(left, right, top - theme_->px(40), mm(piece.band.width));
    const float rightSide = sheet.at(right).x;
    // As the thickness is decided: to the outside's largest radius, which a bevel may have taken away.
    sheet.upDimension({bounds.mostZ, bounds.leastR}, {bounds.mostZ, outside}, rightSide + theme_->px(26),
                      mm(outside - bounds.leastR));
    for (const Channel& channel : design.channels) {
        const std::vector<double> walls = crossings(session.derived().plain.band, channel.offset);
        if (walls.size() < 2 || !piece.channelled) continue;
        const Vec2 floor{channel.offset, walls[1]}, inside{channel.offset, walls[0]};
        const double mouth = outsideAt(piece, channel.offset);
        sheet.acrossDimension({channel.offset - channel.width / 2, mouth},
                              {channel.offset + channel.width / 2, mouth}, top - theme_->px(18),
                              mm(channel.width));
        const float x = sheet.at(floor).x;
        sheet.upDimension(floor, {channel.offset, mouth}, x, mm(mouth - walls[1]));
        sheet.upDimension(inside, floor, x, mm(walls[1] - walls[0]));
    }
    const std::string boreText = "bore \u00D8 " + mm(2 * bounds.leastR) +
                                 (session.stage() == Stage::Finished ? "" : ", " + name(session.stage()));
    sheet.note({sheet.at({0, 0}).x, sheet.at({0, bounds.leastR}).y + theme_->px(18)}, boreText,
               palette::kGraphite);
    const auto edgeNote = [&](const Edge& edge, float x) {
        if (edge.shape == EdgeShape::Sharp) return;
        const std::string text = edge.shape == EdgeShape::Bevel
                                     ? mm(edge.width) + " \u00D7 " +
                                           formatNumber(edge.angle, {NumberKind::Unit::Count, 1, 0}) +
                                           "\u00B0"
                                     : "R " + mm(edge.width);
        sheet.note({x, top - theme_->px(10)}, text, palette::kGraphite);
    };
    const float leftSide = sheet.at(left).x;
    edgeNote(piece.band.left, leftSide - theme_->px(38));
    edgeNote(piece.band.right, rightSide + theme_->px(38));
}

void SectionView::settingDimensions(Sheet& sheet, const Session& session) const {
    const auto index = static_cast<std::size_t>(shown_ - 1);
    const Setting& setting = session.design().settings[index];
    const SettingSection& section = session.derived().settings[index];
    Bounds band, stone, tube;
    grow(band, session.derived().plain.band);
    grow(band, session.derived().plain.liner);
    grow(stone, section.stone);
    grow(tube, section.tube);
    const double z = setting.placement.offset;
    const double highest = std::max({band.mostR, stone.mostR, tube.mostR});
    const float top = sheet.at({z, highest}).y;
    if (!section.stone.empty()) {
        const double half = setting.stone->diameter / 2;
        sheet.acrossDimension({z - half, stone.mostR}, {z + half, stone.mostR}, top - theme_->px(18),
                              "\u00D8 " + mm(setting.stone->diameter));
        sheet.upDimension({z, band.leastR}, {z, stone.leastR}, sheet.at({z, 0}).x,
                          mm(stone.leastR - band.leastR));
    }
    if (!section.tube.empty()) {
        const double half = setting.tube->outerDiameter / 2;
        sheet.acrossDimension({z - half, tube.mostR}, {z + half, tube.mostR}, top - theme_->px(40),
                              "\u00D8 " + mm(setting.tube->outerDiameter));
        const float side = sheet.at({band.mostZ, 0}).x;
        sheet.upDimension({z + half, tube.leastR}, {z + half, tube.mostR}, side + theme_->px(26),
                          mm(setting.tube->height));
    }
    if (!workpiece(session.design(), session.stage()).drilled) return;
    const double pilot = setting.hole.pilotDiameter / 2;
    sheet.acrossDimension({z - pilot, band.leastR}, {z + pilot, band.leastR},
                          sheet.at({0, band.leastR}).y + theme_->px(18), "pilot \u00D8 " + mm(2 * pilot));
}

std::optional<Tag> SectionView::hovered(Sheet& sheet, const Session& session) const {
    const Derived& derived = session.derived();
    std::vector<const Section*> sections;
    if (shown_ == 0) {
        sections = {&derived.plain.band, &derived.plain.liner};
        for (const Section& fill : derived.plain.fills)
            sections.push_back(&fill);
    } else {
        const SettingSection& setting = derived.settings[static_cast<std::size_t>(shown_ - 1)];
        sections = {&setting.band, &setting.liner, &setting.tube, &setting.stone};
    }
    const Vec2 mouse = sheet.mm(ImGui::GetIO().MousePos);
    const Segment* nearest = nullptr;
    double reach = theme_->px(9) / sheet.scale;
    for (const Section* section : sections) {
        for (const Loop& loop : *section) {
            for (const Segment& segment : loop) {
                const double away = distanceTo(segment, mouse, kFlatness / sheet.scale);
                if (away < reach) reach = away, nearest = &segment;
            }
        }
    }
    if (nearest == nullptr) return std::nullopt;
    sheet.segment(*nearest, palette::kPetrol, theme_->px(3));
    ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    ImGui::SetTooltip("%s, %s mm long", name(nearest->tag.feature).c_str(), mm(arcLength(*nearest)).c_str());
    return nearest->tag;
}

void SectionView::witness(Sheet& sheet, const Measure& measure) const {
    const ImVec2 from = sheet.at(inSection(measure.from)), to = sheet.at(inSection(measure.to));
    sheet.draw.AddLine(from, to, palette::kWitness, theme_->px(3));
    for (const ImVec2 end : {from, to}) {
        sheet.draw.AddCircleFilled(end, theme_->px(4), palette::kPaper);
        sheet.draw.AddCircle(end, theme_->px(4), palette::kWitness, 0, theme_->px(2));
    }
    const std::string text = mm(measure.value) + " " + measure.unit;
    sheet.note({(from.x + to.x) / 2 + theme_->px(40), (from.y + to.y) / 2}, text, palette::kWitness);
}

}  // namespace bandwright
