#include "app/section_view.hpp"

#include <algorithm>
#include <cmath>

#include "app/card_rows.hpp"
#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/figures.hpp"
#include "design/field_table.hpp"
#include "drawing/section_drawing.hpp"
#include "focus.hpp"
#include "paint_drawing.hpp"

namespace bandwright::app {

namespace {

constexpr double kCloserStep = 1.15, kClosest = 24;
constexpr float kPull = 9;                           // pixels squared: less is a click
constexpr double kLeastCloser = 2, kMostCloser = 6;  ///< times the whole: what "closer" is

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

ImGuiMouseCursor cursorFor(const LineGrip& grip) {
    return std::abs(grip.normal.r) > std::abs(grip.normal.z) ? ImGuiMouseCursor_ResizeNS
                                                             : ImGuiMouseCursor_ResizeEW;
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

void SectionView::chooser(std::size_t settings, float width) {
    shown_ = std::min(shown_, static_cast<int>(settings));
    const ImVec2 start = ImGui::GetCursorScreenPos();
    ImGui::PushFont(theme_->strong);
    ImGui::TextUnformatted("Section");
    ImGui::PopFont();
    if (settings == 0) return;
    ImGui::SetCursorScreenPos({start.x + theme_->px(88), start.y - theme_->px(4)});
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    const auto name = [&](int i) {
        return i == 0          ? std::string("plain")
               : settings == 1 ? std::string("through the stone")
                               : "through stone " + std::to_string(i);
    };
    const int count = static_cast<int>(settings) + 1;
    float all = 0;
    for (int i = 0; i < count; ++i)
        all += ImGui::CalcTextSize(name(i).c_str()).x + 2 * ImGui::GetStyle().FramePadding.x + theme_->px(2);
    const auto note = [&](int i) {
        const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
        places_["#" + std::to_string(i)] = {low.x, low.y, high.x, high.y};
    };
    // The buttons for closer and whole stand at the right.
    const float room = width - theme_->px(88 + 120);
    if (all > room) {
        ImGui::SetNextItemWidth(std::min(room, theme_->px(170)));
        const bool isOpen = ImGui::BeginCombo("##through", name(shown_).c_str(), ImGuiComboFlags_HeightLarge);
        const ImVec2 low = ImGui::GetItemRectMin(), high = ImGui::GetItemRectMax();
        places_["#through"] = {low.x, low.y, high.x, high.y};
        for (int i = 0; isOpen && i < count; ++i) {
            if (ImGui::Selectable(name(i).c_str(), shown_ == i)) shown_ = i;
            note(i);
        }
        if (isOpen) ImGui::EndCombo();
    } else {
        for (int i = 0; i < count; ++i) {
            if (i > 0) ImGui::SameLine(0, theme_->px(2));
            ImGui::PushStyleColor(ImGuiCol_Button, shown_ == i ? palette::kPetrolSoft : IM_COL32_BLACK_TRANS);
            ImGui::PushStyleColor(ImGuiCol_Text, shown_ == i ? palette::kInk : palette::kPetrol);
            if (ImGui::Button(name(i).c_str())) shown_ = i;
            note(i);
            ImGui::PopStyleColor(2);
        }
    }
    ImGui::PopStyleVar();
    ImGui::PopFont();
}

/// The outline of another ring, dashed, so that it is told from this one without its colour.
void SectionView::ghost(const geometry::Section& outline, const Paper& paper, ImU32 colour) const {
    constexpr double kFlat = 0.15;  // pixels
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const double scale = drawn_.drawing.scale;
    const float dash = theme_->px(6), gap = theme_->px(4), wide = theme_->px(1.5F);
    for (const geometry::Loop& loop : outline) {
        float along = 0;  // of the pattern
        for (const geometry::Segment& segment : loop) {
            const std::vector<geometry::Vec2> points = flattened(segment, kFlat / (paper.pixels * scale));
            for (std::size_t i = 0; i + 1 < points.size(); ++i) {
                const ImVec2 a = paper.at(scale * points[i]), b = paper.at(scale * points[i + 1]);
                const float length = std::hypot(b.x - a.x, b.y - a.y);
                for (float at = 0; at < length;) {
                    const bool isDash = along < dash;
                    const float step = std::min(length - at, (isDash ? dash : dash + gap) - along);
                    const auto place = [&](float t) {
                        return ImVec2{a.x + (b.x - a.x) * t / length, a.y + (b.y - a.y) * t / length};
                    };
                    if (isDash) list.AddLine(place(at), place(at + step), colour, wide);
                    at += std::max(step, 0.01F);
                    along += step;
                    if (along >= dash + gap - 0.001F) along = 0;
                }
            }
        }
    }
}

std::optional<std::string> SectionView::draw(Session& session, const Theme& theme,
                                             const check::Finding* selected, const Preview& preview) {
    theme_ = &theme;
    places_.clear();
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const std::size_t settings = session.derived().settings.size();
    follow(session.derived().report, selected);
    chooser(settings, room.x);
    closerButtons(corner, room.x);

    const ImVec2 least{corner.x, corner.y + theme.px(28)}, most{corner.x + room.x, corner.y + room.y};
    const ImVec2 size{most.x - least.x, most.y - least.y};
    sheetLeast_ = least, sheetMost_ = most;
    update(session, size, selected);
    if (drawn_.drawing.bodies.empty() || size.x < 1 || size.y < 1) return std::nullopt;
    ImGui::SetCursorScreenPos(least);
    const bool released = ImGui::InvisibleButton("sheet", size);
    const bool isOver = ImGui::IsItemHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem);
    ImGui::SetItemAllowOverlap();
    if (ImGui::IsItemActivated()) takeHold(session, paperIn(least, most));
    if (!ImGui::IsItemActive()) {
        letGo(session);
    } else if (grip_) {
        pull(session);
    } else {
        moveByMouse();
    }
    if (isOver) zoomByWheel(least, most);
    if (ImGui::IsWindowFocused()) zoomByKeys();
    update(session, size, selected);

    const Paper paper = paperIn(least, most);
    ImDrawList& list = *ImGui::GetWindowDrawList();
    list.PushClipRect(least, most, true);
    paint(drawn_.drawing, list, theme, paper);
    if (preview.finished()) ghost(preview.finished()->over(shown_), paper, palette::kPetrol);
    if (preview.remedied()) ghost(preview.remedied()->over(shown_), paper, palette::kWitness);
    std::optional<std::string> field = numbers(session, paper);
    const geometry::Segment* under =
        isOver && !field && !ImGui::IsAnyItemActive() ? hovered(session, paper) : nullptr;
    if (grip_) showHeld(session, paper);
    list.PopClipRect();
    const ImFont& font = *theme.small;
    const float right = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, "right").x;
    list.AddText(&font, font.FontSize, {least.x, most.y - font.FontSize}, palette::kGraphite, "left");
    list.AddText(&font, font.FontSize, {most.x - right, most.y - font.FontSize}, palette::kGraphite, "right");
    if (released && under != nullptr && ImGui::GetIO().MouseDragMaxDistanceSqr[0] < kPull)
        field = geometry::fieldOf(session.design(), under->tag);
    return field;
}

Paper SectionView::paperIn(ImVec2 least, ImVec2 most) const {
    Paper paper{pixelsPerMm(*theme_, drawn_.drawing.textHeight), {}};
    const double scale = paper.pixels * drawn_.drawing.scale;
    paper.origin = {(least.x + most.x) / 2 - static_cast<float>(scale * centre_.z),
                    (least.y + most.y) / 2 + static_cast<float>(scale * centre_.r)};
    return paper;
}

/// Draws anew when something has changed. Pointing something out moves nothing else.
void SectionView::update(const Session& session, ImVec2 room, const check::Finding* selected) {
    Drawn wanted{session.revision(), shown_, room.x, room.y, theme_->scale, zoom_, {}, {}, 0, {}};
    if (selected != nullptr) wanted.pointed = pointedOut(session.derived().report, *selected);
    if (zoom_ <= 1) centre_ = drawn_.middle;
    if (wanted.isOf(drawn_)) return;
    drawing::Layout layout;
    layout.textWidth = [this](std::string_view text) { return widthInHeights(*theme_, text); };
    const auto draw = [&](double scale) {
        layout.scale = scale;
        return drawingOf(session, shown_, layout, {});
    };
    if (wanted.fitsLike(drawn_)) {
        wanted.wholeScale = drawn_.wholeScale;
        wanted.middle = drawn_.middle;
    } else {
        const double pixels = pixelsPerMm(*theme_, layout.textHeight);
        wanted.wholeScale = drawing::fittingScale(draw, room.x / pixels, room.y / pixels);
        if (wanted.wholeScale > 0) {
            const geometry::Rectangle extent = drawing::extentOf(draw(wanted.wholeScale));
            wanted.middle = (0.5 / wanted.wholeScale) * (extent.low + extent.high);
        }
    }
    if (wanted.wholeScale > 0) {
        layout.scale = zoom_ * wanted.wholeScale;
        wanted.drawing = drawingOf(session, shown_, layout, wanted.pointed);
    }
    drawn_ = std::move(wanted);
    if (zoom_ <= 1) centre_ = drawn_.middle;
}

void SectionView::zoomBy(double factor, geometry::Vec2 fixed) {
    const double before = zoom_;
    zoom_ = std::clamp(zoom_ * factor, 1.0, kClosest);
    centre_ = fixed + (before / zoom_) * (centre_ - fixed);
}

void SectionView::zoomByWheel(ImVec2 least, ImVec2 most) {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.MouseWheel == 0) return;
    const geometry::Vec2 under = (1 / drawn_.drawing.scale) * paperIn(least, most).mm(io.MousePos);
    zoomBy(std::pow(kCloserStep, io.MouseWheel), under);
}

/// Drags the sheet, which has somewhere to go only where it is larger than the window.
void SectionView::moveByMouse() {
    const ImGuiIO& io = ImGui::GetIO();
    if (zoom_ <= 1) return;
    const double scale = pixelsPerMm(*theme_, drawn_.drawing.textHeight) * drawn_.drawing.scale;
    centre_.z -= io.MouseDelta.x / scale;
    centre_.r += io.MouseDelta.y / scale;
}

void SectionView::zoomByKeys() {
    if (ImGui::GetIO().WantTextInput || ImGui::GetIO().KeyCtrl) return;
    if (pressed(Key::PageUp, true) || pressed(Key::Equal, true) || pressed(Key::KeypadAdd, true))
        zoomBy(kCloserStep, centre_);
    if (pressed(Key::PageDown, true) || pressed(Key::Minus, true) || pressed(Key::KeypadSubtract, true))
        zoomBy(1 / kCloserStep, centre_);
    if (pressed(Key::Home)) showWhole();
    if (pressed(Key::G)) showPointedOut();
}

/// So close that what the chosen finding measures is a fourth of the window's height, its middle in the
/// window's.
void SectionView::showPointedOut() {
    if (!drawn_.pointed || drawn_.wholeScale <= 0) return;
    const auto& [from, to, words] = *drawn_.pointed;
    const double whole = pixelsPerMm(*theme_, drawn_.drawing.textHeight) * drawn_.wholeScale;
    const double length = std::max(geometry::length(to - from), 1e-3);
    zoom_ = std::clamp(drawn_.height / 4.0 / (whole * length), kLeastCloser, kMostCloser);
    centre_ = 0.5 * (from + to);
}

/// At the right of the heading: to the chosen finding, and back to the whole.
void SectionView::closerButtons(ImVec2 corner, float width) {
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    ImGui::PushStyleColor(ImGuiCol_Button, IM_COL32_BLACK_TRANS);
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    float right = corner.x + width;
    const auto button = [&](const char* text, const char* name, const char* tip) {
        right -= ImGui::CalcTextSize(text).x + 2 * ImGui::GetStyle().FramePadding.x;
        ImGui::SetCursorScreenPos({right, corner.y - theme_->px(4)});
        const bool pressed = ImGui::Button(text);
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", tip);
        const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
        places_[name] = {least.x, least.y, most.x, most.y};
        right -= theme_->px(2);
        return pressed;
    };
    if (zoom_ > 1 && button("Whole", "#whole", "The whole section: Home")) showWhole();
    if (drawn_.pointed && button("Closer", "#closer", "Close to what the chosen gauge measures: G"))
        showPointedOut();
    ImGui::PopStyleColor(2);
    ImGui::PopStyleVar();
    ImGui::PopFont();
}

/// Each number is a place to click, and one that a field of the design holds is typed over there. Returns the
/// field of another that was clicked.
std::optional<std::string> SectionView::numbers(Session& session, const Paper& paper) {
    std::optional<std::string> clicked;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 low = list.GetClipRectMin(), high = list.GetClipRectMax();
    for (std::size_t i = 0; i < drawn_.drawing.dimensions.size(); ++i) {
        const drawing::Dimension& dimension = drawn_.drawing.dimensions[i];
        const geometry::Rectangle box = drawing::boxOf(dimension.text);
        const ImVec2 least = paper.at({box.low.z, box.high.r}), most = paper.at({box.high.z, box.low.r});
        if (least.x < low.x || least.y < low.y || most.x > high.x || most.y > high.y) continue;
        const bool isTyped = dimension.isField && design::numberAt(session.design(), dimension.field);
        ImGui::SetCursorScreenPos(least);
        ImGui::PushID(static_cast<int>(i));
        const bool isPressed = ImGui::InvisibleButton("number", {most.x - least.x, most.y - least.y});
        ImGui::PopID();
        markIfFocused(least, most);
        if (dimension.isField) places_[dimension.field] = {least.x, least.y, most.x, most.y};
        if (ImGui::IsItemHovered()) {
            list.AddRect(least, most, palette::kPetrol, theme_->px(2), 0, theme_->px(1));
            ImGui::SetMouseCursor(isTyped ? ImGuiMouseCursor_TextInput : ImGuiMouseCursor_Hand);
            if (const auto field = design::fieldAt(session.design(), dimension.field))
                ImGui::SetTooltip("%s%s", base::capitalised(field->phrase).c_str(),
                                  isTyped ? ": click to type" : "");
        }
        if (!isPressed) continue;
        if (!isTyped) {
            clicked = dimension.field;
            continue;
        }
        typing_ = dimension.field;
        buffer_ = formatNumber(*design::numberAt(session.design(), typing_),
                               design::fieldAt(session.design(), typing_)->number);
        startsTyping_ = true;
    }
    if (typing_.empty()) return clicked;
    const auto place = places_.find(typing_);
    if (place == places_.end()) {
        typing_.clear();
    } else {
        typeOn(session, place->second);
    }
    return clicked;
}

/// The box over a number. Enter makes the change, what cannot be made stays in the box; Escape, or going
/// elsewhere, leaves the number as it was.
void SectionView::typeOn(Session& session, const std::array<float, 4>& place) {
    const auto field = design::fieldAt(session.design(), typing_);
    if (!field) return typing_.clear();
    const float height = theme_->small->FontSize + theme_->px(6), width = theme_->px(84);
    ImGui::SetCursorScreenPos({(place[0] + place[2] - width) / 2, (place[1] + place[3] - height) / 2});
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(theme_->px(6), theme_->px(3)));
    ImGui::PushStyleColor(ImGuiCol_FrameBg, palette::kPaper);
    ImGui::PushStyleColor(ImGuiCol_Border, palette::kPetrol);
    ImGui::SetNextItemWidth(width);
    if (startsTyping_) ImGui::SetKeyboardFocusHere();
    std::array<char, 64> typed{};
    buffer_.copy(typed.data(), typed.size() - 1);
    const bool isDone =
        ImGui::InputText("##typed", typed.data(), typed.size(),
                         ImGuiInputTextFlags_EnterReturnsTrue | ImGuiInputTextFlags_AutoSelectAll);
    const bool isLeft = ImGui::IsItemDeactivated();
    buffer_ = typed.data();
    ImGui::PopStyleColor(2);
    ImGui::PopStyleVar();
    ImGui::PopFont();
    if (startsTyping_) {
        startsTyping_ = false;
        return;
    }
    if (isDone) {
        try {
            design::Design next = session.design();
            *design::numberAt(next, typing_) = parseNumber(buffer_, field->number);
            if (const auto refusal = session.change(std::move(next))) problem_ = *refusal;
        } catch (const base::InputError& error) {
            problem_ = base::capitalised(field->phrase) + ": " + error.what();
        }
        startsTyping_ = !problem_.empty();
        if (!startsTyping_) typing_.clear();
    } else if (isLeft) {
        typing_.clear();
    }
}

const geometry::Segment* SectionView::hovered(const Session& session, const Paper& paper) {
    const ImVec2 mouse = ImGui::GetIO().MousePos;
    const geometry::Segment* nearest =
        drawing::outlineNear(drawn_.drawing, paper.mm(mouse), theme_->px(9) / paper.pixels);
    if (nearest == nullptr) return nullptr;
    if (hovered_.revision != session.revision() || hovered_.shown != shown_ || hovered_.tag != nearest->tag) {
        hovered_ = {session.revision(), shown_, nearest->tag, {}};
        hovered_.grip = gripOn(session.design(), session.stage(), shown_, nearest->tag,
                               (1 / drawn_.drawing.scale) * paper.mm(mouse));
    }
    paint(*nearest, *ImGui::GetWindowDrawList(), paper, palette::kPetrol, theme_->px(3));
    ImGui::SetMouseCursor(hovered_.grip ? cursorFor(*hovered_.grip) : ImGuiMouseCursor_Hand);
    const auto field = hovered_.grip ? design::fieldAt(session.design(), hovered_.grip->field) : std::nullopt;
    ImGui::SetTooltip("%s, %s mm long%s", geometry::name(nearest->tag.feature).c_str(),
                      base::fixed(geometry::arcLength(*nearest) / drawn_.drawing.scale, 2).c_str(),
                      field ? ("\nPull to change " + field->phrase).c_str() : "");
    return nearest;
}

/// Of the line under the pointer, where the button goes down.
void SectionView::takeHold(const Session& session, const Paper& paper) {
    const geometry::Vec2 place = paper.mm(ImGui::GetIO().MousePos);
    const geometry::Segment* line = drawing::outlineNear(drawn_.drawing, place, theme_->px(9) / paper.pixels);
    if (line == nullptr) return;
    gripTag_ = line->tag;
    heldAt_ = ImGui::GetIO().MousePos;
    heldScale_ = paper.pixels * drawn_.drawing.scale;
    grip_ = gripOn(session.design(), session.stage(), shown_, line->tag, (1 / drawn_.drawing.scale) * place);
}

/// What cannot be made leaves the ring as it was.
void SectionView::pull(Session& session) {
    const ImGuiIO& io = ImGui::GetIO();
    if (io.MouseDragMaxDistanceSqr[0] < kPull) return;
    const geometry::Vec2 by{(io.MousePos.x - heldAt_.x) / heldScale_,
                            (heldAt_.y - io.MousePos.y) / heldScale_};
    design::Design next = session.design();
    double* value = design::numberAt(next, grip_->field);
    const double pulled = grip_->pulled(by, io.KeyShift);
    if (value == nullptr || *value == pulled) return;
    *value = pulled;
    session.hold(true);
    refusal_ = session.change(std::move(next), "pull " + grip_->field).value_or("");
}

void SectionView::letGo(Session& session) {
    if (!grip_) return;
    grip_.reset();
    refusal_.clear();
    session.endDrag();
    session.hold(false);
}

/// The lines that follow the pointer, and the number.
void SectionView::showHeld(const Session& session, const Paper& paper) const {
    if (ImGui::GetIO().MouseDragMaxDistanceSqr[0] < kPull) return;
    for (const drawing::CutBody& body : drawn_.drawing.bodies)
        for (const geometry::Loop& loop : body.outline)
            for (const geometry::Segment& s : loop)
                if (s.tag == gripTag_)
                    paint(s, *ImGui::GetWindowDrawList(), paper, palette::kPetrol, theme_->px(3));
    ImGui::SetMouseCursor(cursorFor(*grip_));
    const auto field = design::fieldAt(session.design(), grip_->field);
    const double* value = design::numberAt(session.design(), grip_->field);
    if (!field || value == nullptr) return;
    const std::string text = base::capitalised(field->phrase) + " " + formatNumber(*value, field->number) +
                             " " + std::string(design::names(field->number.unit).sign);
    ImGui::SetTooltip("%s%s%s", text.c_str(), refusal_.empty() ? "" : "\n", refusal_.c_str());
}

std::array<float, 2> SectionView::at(geometry::Vec2 place) const {
    const ImVec2 pixel = paperIn(sheetLeast_, sheetMost_).at(drawn_.drawing.scale * place);
    return {pixel.x, pixel.y};
}

}  // namespace bandwright::app
