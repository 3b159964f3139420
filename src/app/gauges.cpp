#include "app/gauges.hpp"

#include <imgui.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>

#include "app/report_text.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/cautions.hpp"
#include "check/figures.hpp"
#include "check/weighed.hpp"
#include "focus.hpp"

namespace bandwright::app {

namespace {

void textAt(ImFont& font, ImVec2 at, ImU32 colour, const std::string& text) {
    ImGui::GetWindowDrawList()->AddText(&font, font.FontSize, at, colour, text.c_str());
}

float widthOf(const ImFont& font, const std::string& text) {
    return font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, text.c_str()).x;
}

void hatch(ImDrawList& draw, ImVec2 least, ImVec2 most, ImU32 colour, float spacing) {
    draw.PushClipRect(least, most, true);
    const float height = most.y - least.y;
    const int count = static_cast<int>((most.x - least.x + height) / spacing) + 1;
    for (int i = 0; i < count; ++i) {
        const float x = least.x - height + static_cast<float>(i) * spacing;
        draw.AddLine({x, most.y}, {x + height, least.y}, colour);
    }
    draw.PopClipRect();
}

}  // namespace

FindingId idOf(const check::Report& report, const check::Finding& finding) {
    return {finding.rule, report.measures[finding.measure].id, finding.stage};
}

const check::Finding* find(const check::Report& report, const FindingId& id) {
    const auto found = std::ranges::find_if(
        report.findings, [&](const check::Finding& finding) { return idOf(report, finding) == id; });
    return found == report.findings.end() ? nullptr : &*found;
}

std::string limitInWords(const check::Finding& finding, const std::string& unit,
                         const check::Figures& figures) {
    if (check::isYesOrNo(unit)) return "to be " + figures.limit;
    const auto side = [&](bool atLeast, const std::string& number) {
        return (atLeast ? "at least " : "at most ") + check::withUnit(number, figures.unit, figures.sides);
    };
    const bool atLeast = finding.sense == check::Sense::AtLeast;
    std::string text = side(atLeast, figures.limit);
    if (finding.across) text += ", " + side(!atLeast, figures.across);
    return text;
}

double gaugePlace(double value, double limit, double comfortable) {
    if (value < limit) return limit > 0 ? std::clamp(value / limit, 0.0, 1.0) * kLimitPlace : 0;
    if (value < comfortable) {
        return kLimitPlace + (value - limit) / (comfortable - limit) * (kComfortablePlace - kLimitPlace);
    }
    const double beyond = (value - comfortable) / std::max(comfortable, 0.1);
    return kComfortablePlace + (1 - kComfortablePlace) * beyond / (beyond + 1);
}

Gauges::Asked Gauges::draw(const Session& session, const std::vector<trade::OwnLimit>& kept,
                           const Theme& theme, std::optional<FindingId>& selected) {
    theme_ = &theme;
    session_ = &session;
    kept_ = &kept;
    limitPlaces_.clear();
    width_ = ImGui::GetContentRegionAvail().x;
    const check::Report& report = session.derived().report;
    verdict(report);
    Asked asked;
    remedyPlaces_.clear();
    gaugePlaces_.clear();
    bandPlaces_.clear();
    worst_.follow(session);
    mendTheRest(session, asked);
    stageChooser(session.stage());
    findings(report, false, selected, asked);
    // Show what was picked on the stand or before a change.
    const check::Finding* chosen = selected ? find(report, *selected) : nullptr;
    const bool chosenIsGo = chosen != nullptr && chosen->verdict == check::Verdict::Go;
    if (chosenIsGo) showsGo_ = true;
    fold(std::ranges::count_if(report.findings, [this](const check::Finding& finding) {
        return finding.verdict == check::Verdict::Go && isShown(finding);
    }));
    if (showsGo_) {
        findings(report, true, selected, asked);
    } else if (chosenIsGo) {
        selected.reset();
    }
    masses(session);
    heed(session);
    return asked;
}

void Gauges::findings(const check::Report& report, bool go, std::optional<FindingId>& selected,
                      Asked& asked) {
    const std::vector<std::string> names = check::gaugeNames(report);
    std::vector<check::Group> groups;  // the one with the worst finding first
    for (const check::Finding& finding : report.findings)
        if ((finding.verdict == check::Verdict::Go) == go && isShown(finding) &&
            std::ranges::find(groups, finding.group) == groups.end())
            groups.push_back(finding.group);
    for (const check::Group group : groups) {
        heading(base::capitalised(check::name(group)));
        for (std::size_t i = 0; i < report.findings.size(); ++i) {
            const check::Finding& finding = report.findings[i];
            if (finding.group != group || (finding.verdict == check::Verdict::Go) != go || !isShown(finding))
                continue;
            const FindingId id = idOf(report, finding);
            const bool isSelected = selected == id;
            if (!gauge(report, finding, names[i], isSelected, asked)) continue;
            asked.turn = !isSelected;
            selected = isSelected ? std::nullopt : std::optional(id);
        }
    }
}

bool Gauges::isShown(const check::Finding& finding) const {
    return !onlyStage_ || finding.stage == *onlyStage_;
}

/// One of a few buttons in a row that show which is chosen.
bool Gauges::choice(const std::string& text, bool isOn, std::array<float, 4>& place) {
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleColor(ImGuiCol_Button, isOn ? palette::kPetrolSoft : palette::kPaper);
    ImGui::PushStyleColor(ImGuiCol_Border, isOn ? palette::kPetrol : palette::kHairline);
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kInk);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(8), theme_->px(3)));
    const bool pressed = ImGui::Button(text.c_str());
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(3);
    ImGui::PopFont();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    place = {least.x, least.y, most.x, most.y};
    return pressed;
}

/// All gauges, or those that stand worst at the stage of the strip.
void Gauges::stageChooser(design::Stage stage) {
    bool only = onlyStage_.has_value();
    if (choice("Over all", !only, allPlace_)) only = false;
    ImGui::SameLine(0, theme_->px(4));
    if (choice("Worst when " + spaced(design::name(stage)), only, stagePlace_)) only = true;
    onlyStage_ = only ? std::optional(stage) : std::nullopt;
}

/// The offer to mend all that is no-go, with the list of what would be changed before anything is.
void Gauges::mendTheRest(const Session& session, Asked& asked) {
    const bool isNoGo = session.derived().report.verdict == check::Verdict::NoGo;
    mendPlace_ = makePlace_ = {};
    mender_.follow(session);
    if (!isNoGo) return;
    if (mender_.busy()) {
        paragraph(*theme_->small, width_, "Looking for changes that leave no no-go \u2026");
    } else if (!mender_.offer()) {
        if (choice("Mend the rest \u2026", false, mendPlace_)) mender_.seek(session);
    } else {
        for (const std::string& change : mender_.offer()->sentences)
            paragraph(*theme_->small, width_, change, palette::kInk);
        if (mender_.offer()->design) {
            if (choice("Make these changes", true, makePlace_)) asked.mended = mender_.offer()->design;
            ImGui::SameLine(0, theme_->px(4));
        }
        std::array<float, 4> leave{};
        if (choice("Leave it", false, leave)) mender_.drop();
    }
    ImGui::Dummy({0, theme_->px(4)});
}

void Gauges::heading(const std::string& text) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    textAt(*theme_->small, {at.x, at.y + theme_->px(6)}, palette::kGraphite, text);
    ImGui::Dummy({width_, theme_->small->FontSize + theme_->px(8)});
}

/// The line that opens and closes the gauges that are go.
void Gauges::fold(std::ptrdiff_t count) {
    foldPlace_ = {};
    if (count == 0) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float height = theme_->body->FontSize + theme_->px(14);
    const bool pressed = ImGui::InvisibleButton("gauges that are go", {width_, height});
    foldPlace_ = {at.x, at.y, at.x + width_, at.y + height};
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const float outer = theme_->px(8);
    const ImVec2 least{at.x - outer, at.y}, most{at.x + width_ + outer, at.y + height};
    if (ImGui::IsItemHovered()) draw.AddRectFilled(least, most, palette::kPetrolFaint, theme_->px(4));
    markIfFocused(least, most);
    const float middle = at.y + height / 2, reach = theme_->px(4);
    verdictMark(draw, {at.x + theme_->px(7), middle}, theme_->px(5), check::Verdict::Go);
    textAt(*theme_->body, {at.x + theme_->px(20), at.y + theme_->px(7)}, palette::kInk,
           std::to_string(count) + (count == 1 ? " gauge is go" : " gauges are go"));
    const float right = at.x + width_ - theme_->px(8);
    if (showsGo_) {
        draw.AddTriangleFilled({right - reach, middle - reach / 2}, {right + reach, middle - reach / 2},
                               {right, middle + reach}, palette::kGraphite);
    } else {
        draw.AddTriangleFilled({right + reach / 2, middle - reach}, {right + reach / 2, middle + reach},
                               {right - reach, middle}, palette::kGraphite);
    }
    if (pressed) showsGo_ = !showsGo_;
}

void Gauges::verdict(const check::Report& report) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float radius = theme_->px(9);
    verdictMark(*ImGui::GetWindowDrawList(),
                {at.x + radius + theme_->px(2), at.y + theme_->title->FontSize / 2}, radius, report.verdict);
    textAt(*theme_->title, {at.x + theme_->px(32), at.y}, palette::kInk,
           base::capitalised(check::name(report.verdict)));
    std::string counts;
    for (const check::Verdict verdict :
         {check::Verdict::NoGo, check::Verdict::Marginal, check::Verdict::Go}) {
        const auto count = std::ranges::count(report.findings, verdict, &check::Finding::verdict);
        if (count > 0)
            counts += (counts.empty() ? "" : ", ") + std::to_string(count) + " " + check::name(verdict);
    }
    textAt(*theme_->small, {at.x + width_ - widthOf(*theme_->small, counts), at.y + theme_->px(7)},
           palette::kGraphite, counts);
    ImGui::Dummy({width_, theme_->title->FontSize + theme_->px(8)});
}

void Gauges::scale(const check::Finding& finding, const check::Measure& measure,
                   const check::Figures& figures, ImVec2 at, float width, std::optional<double> worst) {
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const bool hasMargin = finding.comfortable != finding.limit,
               atLeast = finding.sense == check::Sense::AtLeast;
    // The numbers always rise to the right, so that what is no-go above its limit lies there.
    const auto mirrored = [&](double v) { return atLeast ? v : 2 * finding.limit - v; };
    const auto x = [&](double place) {
        return std::floor(at.x + static_cast<float>(atLeast ? place : 1 - place) * width);
    };
    const float limit = x(kLimitPlace), comfortable = x(hasMargin ? kComfortablePlace : kLimitPlace);
    const float bottom = at.y + theme_->px(8);
    const auto zone = [&](float one, float other, ImU32 colour) {
        draw.AddRectFilled({std::min(one, other), at.y}, {std::max(one, other), bottom}, colour);
    };
    zone(x(0), limit, IM_COL32(213, 94, 0, 40));
    hatch(draw, {std::min(x(0), limit), at.y}, {std::max(x(0), limit), bottom}, IM_COL32(213, 94, 0, 170),
          theme_->px(5));
    zone(limit, comfortable, IM_COL32(230, 159, 0, 120));
    zone(comfortable, x(1), IM_COL32(0, 158, 115, 40));
    for (const float tick : {limit, comfortable}) {
        draw.AddLine({tick, at.y - theme_->px(2)}, {tick, bottom + theme_->px(2)}, palette::kInk,
                     theme_->px(1));
    }
    const auto under = [&](float x0, const std::string& text) {
        textAt(*theme_->small, {x0 - widthOf(*theme_->small, text) / 2, bottom + theme_->px(3)},
               palette::kGraphite, text);
    };
    under(limit, figures.limit);
    if (hasMargin) under(comfortable, figures.comfortable);
    const auto needle = [&](double value) {
        return x(gaugePlace(mirrored(value), finding.limit, mirrored(finding.comfortable)));
    };
    const float pointer = needle(measure.value), reach = theme_->px(5);
    if (worst && *worst != measure.value) {
        // From the needle to where the tolerances can take it, with an end.
        const float end = needle(*worst), middle = at.y + theme_->px(4);
        draw.AddLine({pointer, middle}, {end, middle}, palette::kInk, theme_->px(2));
        draw.AddLine({end, at.y}, {end, bottom}, palette::kInk, theme_->px(1.5F));
        bandPlaces_[finding.rule + " " + measure.id] = {std::min(pointer, end), at.y, std::max(pointer, end),
                                                        bottom};
    }
    draw.AddTriangleFilled({pointer - reach, at.y - theme_->px(7)}, {pointer + reach, at.y - theme_->px(7)},
                           {pointer, at.y}, palette::kInk);
    draw.AddLine({pointer, at.y - theme_->px(1)}, {pointer, bottom}, palette::kInk, theme_->px(2));
}

void Gauges::sentence(const char* label, const std::string& text) {
    if (text.empty()) return;
    const ImVec2 at = ImGui::GetCursorScreenPos();
    textAt(*theme_->small, {at.x + theme_->px(20), at.y}, palette::kGraphite, label);
    ImGui::SetCursorScreenPos({at.x + theme_->px(74), at.y});
    paragraph(*theme_->small, width_ - theme_->px(74), text);
}

void Gauges::remedies(const check::Measure& measure, const check::Finding& finding, Asked& asked) {
    if (finding.verdict == check::Verdict::Go) return;
    if (finding.remedies.empty()) sentence("Remedy", finding.remedy);
    const char* label = "Remedy";
    int number = 1;
    for (const check::Remedy& each : finding.remedies) {
        const std::string id =
            finding.rule + " " + measure.id + (number > 1 ? " " + std::to_string(number) : "");
        remedy(id, label, each, asked);
        label = "Or";
        ++number;
    }
}

void Gauges::remedy(const std::string& id, const char* label, const check::Remedy& remedy, Asked& asked) {
    sentence(label, remedy.text);
    sentence("", remedy.effect);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({at.x + theme_->px(74), at.y});
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    ImGui::PushStyleColor(ImGuiCol_Border, palette::kGrip);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(8), theme_->px(3)));
    if (ImGui::Button(("Do so##" + id).c_str())) asked.remedy = remedy;
    if (ImGui::IsItemHovered() || (ImGui::IsItemFocused() && showsFocus())) asked.looked = remedy;
    ImGui::PopStyleVar();
    ImGui::PopStyleColor(2);
    ImGui::PopFont();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    remedyPlaces_[id] = {least.x, least.y, most.x, most.y};
}

/// The value and its verdict, and the limit beside them, or below where there is no room.
void Gauges::valueLine(const check::Finding& finding, const check::Measure& measure,
                       const check::Figures& figures) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float right = at.x + width_ - theme_->px(20), low = at.y + theme_->px(2);
    const std::string value = check::withUnit(figures.value, figures.unit, figures.sides);
    textAt(*theme_->strong, at, palette::kInk, value);
    std::string word = check::name(finding.verdict);
    if (finding.stage != design::Stage::Finished) word += ", " + spaced(design::name(finding.stage));
    const float behind = at.x + widthOf(*theme_->strong, value) + theme_->px(10);
    textAt(*theme_->small, {behind, low}, palette::kGraphite, word);
    const std::string limit = limitInWords(finding, measure.unit, figures);
    const float start = right - widthOf(*theme_->small, limit);
    float bottom = at.y + theme_->strong->FontSize;
    if (start > behind + widthOf(*theme_->small, word) + theme_->px(8)) {
        limitWords(finding, measure, figures, {start, low}, limit);
    } else {
        limitWords(finding, measure, figures, {at.x, bottom + theme_->px(2)}, limit);
        bottom += theme_->px(2) + theme_->small->FontSize;
    }
    ImGui::SetCursorScreenPos({at.x, bottom});
}

bool Gauges::gauge(const check::Report& report, const check::Finding& finding, const std::string& name,
                   bool selected, Asked& asked) {
    const check::Measure& measure = report.measures[finding.measure];
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const float left = theme_->px(20);
    draw.ChannelsSplit(2);
    draw.ChannelsSetCurrent(1);
    const float line = theme_->body->FontSize;
    verdictMark(draw, {at.x + theme_->px(7), at.y + theme_->px(8) + line / 2}, theme_->px(5),
                finding.verdict);
    ImGui::SetCursorScreenPos({at.x + left, at.y + theme_->px(8)});
    paragraph(*theme_->body, width_ - left, name, palette::kInk);
    const check::Figures figures = check::figures(report, finding);
    ImGui::SetCursorScreenPos({at.x + left, ImGui::GetItemRectMax().y + theme_->px(2)});
    valueLine(finding, measure, figures);
    const float track = ImGui::GetCursorScreenPos().y + theme_->px(9);
    const std::optional<double> worst = worst_.of(report, finding);
    scale(finding, measure, figures, {at.x + left, track}, width_ - left, worst);
    gaugePlaces_[finding.rule + " " + measure.id] = {at.x, at.y, at.x + width_, track};
    ImGui::SetCursorScreenPos({at.x, track + theme_->px(13) + theme_->small->FontSize + theme_->px(4)});
    limitRow(finding, measure, figures, asked);
    remedies(measure, finding, asked);
    if (selected) {
        sentence("Why", finding.why);
        if (measure.hasPlace)
            sentence("Between", geometry::name(measure.fromTag.feature) + " and " +
                                    geometry::name(measure.toTag.feature));
        sentence("Limit", finding.source);
        if (worst && *worst != measure.value)
            sentence("At worst", check::inSentence(*worst, finding, measure.unit) +
                                     ", with every number at the worse end of its tolerance");
    }
    const float height = ImGui::GetCursorScreenPos().y - at.y + theme_->px(1);

    draw.ChannelsSetCurrent(0);
    ImGui::SetCursorScreenPos(at);
    const std::string id = finding.rule + measure.id + design::name(finding.stage);
    const bool pressed = ImGui::InvisibleButton(id.c_str(), {width_, height});
    const float outer = theme_->px(8);
    const ImVec2 least{at.x - outer, at.y}, most{at.x + width_ + outer, at.y + height};
    if (selected || ImGui::IsItemHovered()) {
        draw.AddRectFilled(least, most, selected ? palette::kPetrolSoft : palette::kPetrolFaint,
                           theme_->px(4));
    }
    if (selected)
        draw.AddRectFilled(least, {least.x + theme_->px(3), most.y}, palette::kWitness, theme_->px(2));
    markIfFocused(least, most);
    draw.ChannelsMerge();
    return pressed;
}

void Gauges::masses(const Session& session) {
    std::map<std::string, double> byMaterial;
    std::vector<std::string> order;
    double total = 0;
    for (const geometry::SolidPart& body : session.derived().bodies) {
        const std::string material = materialName(body.part, session.derived().made, session.catalogue());
        const double grams = check::mass(body, session.derived().made, session.catalogue());
        if (byMaterial.emplace(material, 0).second) order.push_back(material);
        byMaterial[material] += grams;
        total += grams;
    }
    ImGui::Dummy({0, theme_->px(10)});
    ImGui::PushFont(theme_->strong);
    ImGui::TextUnformatted("Mass");
    ImGui::PopFont();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine(at, {at.x + width_, at.y}, palette::kHairline, theme_->px(1));
    ImGui::Dummy({0, theme_->px(2)});
    const auto row = [&](const std::string& text, double grams, ImFont& font) {
        const ImVec2 start = ImGui::GetCursorScreenPos();
        const std::string amount = base::fixed(grams, 2) + " g";
        textAt(font, {start.x + width_ - widthOf(font, amount), start.y}, palette::kInk, amount);
        const float room = width_ - theme_->px(72);
        paragraph(font, room, text);
    };
    for (const std::string& material : order)
        row(material, byMaterial[material], *theme_->body);
    row("Together", total, *theme_->strong);
}

void Gauges::heed(const Session& session) {
    const std::vector<check::MaterialCaution> all =
        check::cautions(session.derived().made, session.catalogue(), session.derived().report.bodies);
    if (all.empty()) return;
    ImGui::Dummy({0, theme_->px(10)});
    ImGui::PushFont(theme_->strong);
    ImGui::TextUnformatted("Cautions");
    ImGui::PopFont();
    const ImVec2 at = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddLine(at, {at.x + width_, at.y}, palette::kHairline, theme_->px(1));
    ImGui::Dummy({0, theme_->px(2)});
    for (const auto& [material, caution] : all)
        paragraph(*theme_->small, width_, material + ": " + caution.text);
}

}  // namespace bandwright::app
