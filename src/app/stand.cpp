#include "app/stand.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "app/card_rows.hpp"
#include "app/keys.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/figures.hpp"
#include "design/field_table.hpp"
#include "focus.hpp"
#include "geometry/wall.hpp"
#include "route_strip.hpp"
#include "trade/linear_rgb.hpp"
#include "turning.hpp"

namespace bandwright::app {

namespace {

constexpr scene::Camera kOnFinger{.azimuth = 58, .elevation = 32, .zoom = 0.5, .pan = {-0.25, -0.08}};
constexpr double kLeastTrueZoom = 0.05;  ///< a ring at its own size may be small on a large stand

/// The camera that looks at this place from outside and a little along the axis.
scene::Camera facing(const geometry::Vec3& stagePoint, scene::Camera camera) {
    const double radius = std::max(std::hypot(stagePoint.x, stagePoint.y), 1e-6);
    const double rise = std::asin(std::clamp(stagePoint.y / radius, -1.0, 1.0)) * 180 / std::numbers::pi;
    const double tilt = stagePoint.z < 0 ? 125 : 55;
    camera.azimuth = stagePoint.x < -1e-6 ? -tilt : tilt;
    camera.elevation = std::clamp(rise, -25.0, 62.0);
    camera.zoom = std::max(camera.zoom, 1.25);
    camera.pan = {};
    return camera;
}

struct NamedView {
    const char* name;
    double azimuth, elevation;
    Key key;
};
constexpr std::array<NamedView, 4> kViewKeys = {
    {{"Corner", scene::Camera{}.azimuth, scene::Camera{}.elevation, Key::Digit1},
     {"Bore", 0, 0, Key::Digit2},
     {"Outside", 90, 0, Key::Digit3},
     {"From above", 90, 89, Key::Digit4}}};

}  // namespace

std::optional<geometry::Tag> Stand::draw(Session& session, const Theme& theme, const check::Finding* selected,
                                         Painter& painter) {
    theme_ = &theme;
    const ImVec2 corner = ImGui::GetCursorScreenPos();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    const float strip = theme.px(kRouteStripHeight);
    const ImVec2 most{corner.x + room.x, corner.y + room.y - strip};
    pictureAt_ = {corner.x, corner.y, most.x, most.y};
    places_.clear();
    if (most.x - corner.x < 32 || most.y - corner.y < 32) return std::nullopt;

    updateScene(session, selected);
    ImGui::SetItemAllowOverlap();
    const bool pressed =
        ImGui::InvisibleButton("ring", {most.x - corner.x, most.y - corner.y},
                               ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight);
    ImGui::SetItemAllowOverlap();
    const bool hovered = ImGui::IsItemHovered();
    if (turnByMouse(view_.camera, most.y - corner.y)) easing_ = false;
    if (ImGui::IsWindowFocused()) turnByKeys();
    ease();
    picture(painter, corner, most);
    if (ImGui::IsItemFocused() && showsFocus()) {
        ImGui::GetWindowDrawList()->AddRect(corner, most, palette::kPetrol, 0, 0, theme.px(2));
    }
    const scene::Size size = drawn_.size;
    const ImVec2 mouse = ImGui::GetIO().MousePos, pixels = ImGui::GetIO().DisplayFramebufferScale;
    std::optional<geometry::Tag> clicked;
    if (pressed && hovered && ImGui::GetIO().MouseDragMaxDistanceSqr[0] < 9 &&
        ImGui::GetIO().MouseReleased[0]) {
        if (const auto hit =
                scene::pick(scene_, size, (mouse.x - corner.x) * pixels.x, (mouse.y - corner.y) * pixels.y))
            clicked = hit->tag;
    }
    if (hovered && !ImGui::IsItemActive() && !easing_) {
        readOut(session, {mouse.x - corner.x, mouse.y - corner.y});
    } else {
        readFrom_ = {};
        readout_.clear();
    }
    sideMarks(corner, size);
    ghostLines(corner, size);
    markLabel(corner, size);
    if (view_.wallMap) legend({corner.x + theme.px(16), most.y - theme.px(16)});
    screenPixelsPerMm_ = painter.pixelsPerMm();
    viewButtons({corner.x + theme.px(12), corner.y + theme.px(10)}, room.x, corner.y + ringTop());
    route(session, {corner.x, most.y}, room.x);
    return clicked;
}

void Stand::updateScene(const Session& session, const check::Finding* selected) {
    if (drawn_.revision != session.revision() || drawn_.walls != showsWalls_ ||
        drawn_.finger != showsFinger_) {
        const design::Design& design = session.derived().made;
        const std::vector<geometry::Part>& parts = session.derived().parts;
        std::vector<std::vector<float>> walls;
        view_.wallMap.reset();
        if (showsWalls_) {
            walls = wallsOf(parts, design, session.stage());
            view_.wallMap = wallScale(design, session.catalogue());
        }
        scene_ =
            scene::makeScene(asLeftBy(design, session.stage()), parts, session.catalogue(), view_, walls);
        if (showsFinger_) scene_.bodies.push_back(scene::fingerIn(scene_.extent, scene_.top));
        drawn_.revision = session.revision();
        drawn_.finger = showsFinger_;
        drawn_.walls = showsWalls_;
        const std::vector<design::Setting>& settings = design.settings;
        const std::vector<double> angles =
            settings.empty() ? std::vector<double>() : design::placedAngles(settings.front().placement);
        cutAngle_ = angles.empty() ? scene_.top : angles.front();
        if (view_.cutThrough && !cutByItself_) view_.cutThrough = cutAngle_ + cutSide_;
        stale_ = true;
    }
    std::string mark;
    scene_.marks.clear();
    if (selected == nullptr && std::exchange(cutByItself_, false)) view_.cutThrough.reset();
    if (selected != nullptr) {
        const check::Measure& measure = session.derived().report.measures[selected->measure];
        constexpr std::array<double, 3> kWitness = {184 / 255.0, 48 / 255.0, 128 / 255.0};
        const std::string label = check::inFull(session.derived().report, *selected);
        if (measure.hasPlace) scene_.marks.push_back({measure.from, measure.to, kWitness, label});
        mark = selected->rule + measure.id + label;
        if (wanted_) {
            target_ = facing(scene::toStage(*wanted_, scene_.top), view_.camera);
            cutTo(session, measure);
            target_.azimuth = nearestTurn(view_.camera.azimuth, target_.azimuth);
            easing_ = true;
        }
    }
    wanted_.reset();
    if (mark != drawn_.mark) stale_ = true;
    drawn_.mark = mark;
}

/// Opens the ring where what was selected lies inside it, and closes it again for what does not, unless the
/// person cut it.
void Stand::cutTo(const Session& session, const check::Measure& measure) {
    if (view_.cutThrough && !cutByItself_) return;
    cutByItself_ = false;
    view_.cutThrough.reset();
    if (!measure.hasPlace) return;
    const geometry::Vec3 middle = 0.5 * (measure.from + measure.to);
    if (!geometry::contains(session.derived().plain.band, {middle.z, std::hypot(middle.x, middle.y)})) return;
    // Of the two halves the one towards the eye goes, and the eye looks on to the cut, not along it.
    const geometry::Vec3 seen = scene::toStage(middle, scene_.top);
    const double radius = std::hypot(seen.x, seen.y), turn = target_.azimuth * std::numbers::pi / 180;
    if (std::abs(seen.x) > std::abs(seen.y)) target_.elevation = 40;
    const double rise = target_.elevation * std::numbers::pi / 180;
    const double towardsEye = (seen.y * std::cos(rise) * std::sin(turn) - seen.x * std::sin(rise)) / radius;
    view_.cutThrough = std::atan2(middle.y, middle.x) * 180 / std::numbers::pi + (towardsEye < 0 ? 180 : 0);
    cutByItself_ = true;
}

void Stand::ease() {
    constexpr double kNear = 0.01;
    view_.spread += easingShare() * (wantedSpread_ - view_.spread);
    if (std::abs(view_.spread - wantedSpread_) < kNear) view_.spread = wantedSpread_;
    if (easing_ && easeTo(target_, view_.camera)) easing_ = false;
}

void Stand::turnByKeys() {
    if (ImGui::GetIO().WantTextInput || ImGui::GetIO().KeyCtrl) return;
    const scene::Camera before = easing_ ? target_ : view_.camera;
    scene::Camera next = turnedByArrows(before);
    const auto pressed = [](Key key) { return app::pressed(key, true); };
    if (pressed(Key::PageUp)) next = nearer(next, 1);
    if (pressed(Key::PageDown)) next = nearer(next, -1);
    if (pressed(Key::W)) toggle(Toggle::WallMap);
    if (pressed(Key::C)) toggle(Toggle::CutAway);
    if (pressed(Key::A)) toggle(Toggle::Apart);
    if (pressed(Key::L)) toggle(Toggle::LightsOut);
    if (pressed(Key::F)) {
        toggle(Toggle::Finger);
        return;
    }
    if (pressed(Key::Home)) next = scene::Camera{};
    for (const NamedView& view : kViewKeys) {
        if (pressed(view.key)) next.azimuth = view.azimuth, next.elevation = view.elevation;
    }
    if (next == before) return;
    target_ = next;
    target_.azimuth = nearestTurn(view_.camera.azimuth, next.azimuth);
    easing_ = true;
}

void Stand::toggle(Toggle what) {
    switch (what) {
        case Toggle::WallMap:
            showsWalls_ = !showsWalls_;
            return;
        case Toggle::CutAway:
            cutByItself_ = false;
            // The half towards the eye is removed.
            cutSide_ = std::remainder((easing_ ? target_ : view_.camera).azimuth, 360.0) < 0 ? 180 : 0;
            view_.cutThrough = view_.cutThrough ? std::nullopt : std::optional(cutAngle_ + cutSide_);
            return;
        case Toggle::Apart:
            wantedSpread_ = wantedSpread_ > 0 ? 0 : 1;
            return;
        case Toggle::Finger:
            showsFinger_ = !showsFinger_;
            // From so far that its tip is in the picture, and back.
            lookFrom(kOnFinger.azimuth, kOnFinger.elevation);
            if (showsFinger_) target_ = kOnFinger;
            return;
        case Toggle::LightsOut:
            view_.lightsOut = !view_.lightsOut;
            return;
    }
}

void Stand::picture(Painter& painter, ImVec2 least, ImVec2 most) {
    const ImVec2 pixels = ImGui::GetIO().DisplayFramebufferScale;
    const scene::Size size{static_cast<int>((most.x - least.x) * pixels.x),
                           static_cast<int>((most.y - least.y) * pixels.y)};
    stale_ = stale_ || drawn_.view != view_ || drawn_.size != size || texture_ == nullptr;
    scene_.view = view_;
    if (stale_) {
        texture_ = painter.paint(scene_, size, true);
        drawn_.view = view_;
        drawn_.size = size;
        busy_ = true;
        stale_ = false;
    } else if (!painter.settled()) {
        texture_ = painter.paint(scene_, size, false);
        busy_ = !painter.settled();
    } else {
        busy_ = false;
    }
    busy_ = busy_ || easing_ || view_.spread != wantedSpread_;
    if (texture_ != nullptr) ImGui::GetWindowDrawList()->AddImage(texture_, least, most, {0, 1}, {1, 0});
}

void Stand::markLabel(ImVec2 least, scene::Size size) const {
    if (scene_.marks.empty() || size.width == 0) return;
    const scene::Mark& mark = scene_.marks.front();
    const scene::Viewpoint view = scene::viewpoint(scene_, size);
    const auto at = scene::project(view, size, scene::toStage(0.5 * (mark.from + mark.to), scene_.top));
    if (!at) return;
    const ImFont& font = *theme_->strong;
    const ImVec2 text = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, mark.label.c_str());
    const ImVec2 scale = ImGui::GetIO().DisplayFramebufferScale;
    const ImVec2 corner{least.x + static_cast<float>((*at)[0]) / scale.x + theme_->px(14),
                        least.y + static_cast<float>((*at)[1]) / scale.y - text.y / 2};
    const float pad = theme_->px(5);
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled({corner.x - pad, corner.y - pad / 2},
                       {corner.x + text.x + pad, corner.y + text.y + pad / 2}, palette::kVeil, theme_->px(3));
    draw.AddText(&font, font.FontSize, corner, palette::kWitness, mark.label.c_str());
}

/// Which side of the band is which, as the section and the card name them; nothing where one hides the other.
void Stand::sideMarks(ImVec2 least, scene::Size size) {
    if (size.width == 0 || view_.spread > 0) return;
    constexpr double kBeyond = 1.35;  // of the half width: beside the edge and not on it
    constexpr int kPlaces = 48;
    const scene::Viewpoint view = scene::viewpoint(scene_, size);
    const ImVec2 scale = ImGui::GetIO().DisplayFramebufferScale;
    std::array<std::array<double, 2>, 2> marks{};
    for (std::size_t side = 0; side < 2; ++side) {
        // The place of the edge that is lowest in the picture, where nothing stands before it.
        for (int i = 0; i < kPlaces; ++i) {
            const double turn = 2 * std::numbers::pi * i / kPlaces;
            const auto at =
                scene::project(view, size,
                               {scene_.extent.radius * std::cos(turn), scene_.extent.radius * std::sin(turn),
                                (side == 0 ? -kBeyond : kBeyond) * scene_.extent.halfWidth});
            if (at && (*at)[1] > marks[side][1]) marks[side] = *at;
        }
    }
    const ImFont& font = *theme_->small;
    const float pad = theme_->px(4), low = least.y + static_cast<float>(size.height) / scale.y;
    const double apart = std::hypot(marks[0][0] - marks[1][0], marks[0][1] - marks[1][1]);
    if (apart < static_cast<double>(font.FontSize * scale.x)) return;
    struct Word {
        const char* text;
        ImVec2 least, most;
    };
    std::array<Word, 2> words{{{"left", {}, {}}, {"right", {}, {}}}};
    for (std::size_t side = 0; side < 2; ++side) {
        const ImVec2 text = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, words[side].text);
        const float x = least.x + static_cast<float>(marks[side][0]) / scale.x;
        const float y = std::min(least.y + static_cast<float>(marks[side][1]) / scale.y + pad, low - text.y);
        words[side].least = {x - text.x / 2 - pad, y};
        words[side].most = {x + text.x / 2 + pad, y + text.y};
    }
    // Large words of a small ring make room for each other.
    Word &first = words[marks[0][0] <= marks[1][0] ? 0 : 1],
         &second = words[marks[0][0] <= marks[1][0] ? 1 : 0];
    const float missing = first.most.x - second.least.x;
    if (missing > 0 && first.least.y < second.most.y && second.least.y < first.most.y) {
        first.least.x -= missing / 2, first.most.x -= missing / 2;
        second.least.x += missing / 2, second.most.x += missing / 2;
    }
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    for (const Word& word : words) {
        draw.AddRectFilled(word.least, word.most, palette::kVeil, theme_->px(3));
        draw.AddText(&font, font.FontSize, {word.least.x + pad, word.least.y}, palette::kInk, word.text);
        places_[word.text] = {word.least.x, word.least.y, word.most.x, word.most.y};
    }
}

/// Where the corners of the ring that a remedy makes would run.
void Stand::ghostLines(ImVec2 least, scene::Size size) const {
    if (ghost_.empty() || size.width == 0) return;
    constexpr int kPlaces = 120;
    const scene::Viewpoint view = scene::viewpoint(scene_, size);
    const ImVec2 scale = ImGui::GetIO().DisplayFramebufferScale;
    ImDrawList& list = *ImGui::GetWindowDrawList();
    const ImVec2 most{least.x + static_cast<float>(size.width) / scale.x,
                      least.y + static_cast<float>(size.height) / scale.y};
    list.PushClipRect(least, most, true);
    for (const geometry::Vec2 corner : ghost_) {
        std::optional<ImVec2> before;
        for (int i = 0; i <= kPlaces; ++i) {
            const double turn = 2 * std::numbers::pi * i / kPlaces;
            const auto at =
                scene::project(view, size, {corner.r * std::cos(turn), corner.r * std::sin(turn), corner.z});
            if (!at) {
                before.reset();
                continue;
            }
            const ImVec2 here{least.x + static_cast<float>((*at)[0]) / scale.x,
                              least.y + static_cast<float>((*at)[1]) / scale.y};
            if (before && i % 2 == 1) list.AddLine(*before, here, palette::kWitness, theme_->px(1.5F));
            before = here;
        }
    }
    list.PopClipRect();
}

void Stand::legend(ImVec2 bottomLeft) const {
    const auto encoded = [](double linear) { return static_cast<float>(trade::srgbEncoded(linear)); };
    constexpr int kSteps = 48;
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    ImFont* font = theme_->small;
    const float width = theme_->px(190), bar = theme_->px(10), line = font->FontSize, pad = theme_->px(10);
    const ImVec2 least{bottomLeft.x, bottomLeft.y - 2 * pad - 2 * line - bar - theme_->px(8)};
    draw.AddRectFilled(least, {least.x + width + 2 * pad, bottomLeft.y}, palette::kVeil, theme_->px(4));
    const ImVec2 at{least.x + pad, least.y + pad};
    draw.AddText(font, line, at, palette::kInk, "Wall");
    const float top = at.y + line + theme_->px(4);
    for (int i = 0; i < kSteps; ++i) {
        const trade::LinearRgb colour = scene::wallColour((i + 0.5) / kSteps);
        const float x0 = at.x + width * static_cast<float>(i) / kSteps;
        const float x1 = at.x + width * static_cast<float>(i + 1) / kSteps;
        draw.AddRectFilled(
            {x0, top}, {x1, top + bar},
            ImGui::ColorConvertFloat4ToU32({encoded(colour[0]), encoded(colour[1]), encoded(colour[2]), 1}));
    }
    const auto text = [&](double value, float share) {
        const std::string label = formatNumber(value, {.decimals = 2}) + " mm";
        const float wide = font->CalcTextSizeA(line, FLT_MAX, 0, label.c_str()).x;
        draw.AddText(font, line, {at.x + share * (width - wide), top + bar + theme_->px(4)}, palette::kInk,
                     label.c_str());
    };
    text(view_.wallMap->least, 0);
    text(view_.wallMap->most, 1);
}

/// What is under the pointer, worked out when pointer or picture have moved.
void Stand::readOut(const Session& session, ImVec2 pointer) {
    const ReadFrom from{session.revision(), view_, drawn_.size, pointer.x, pointer.y};
    if (readFrom_ != from) {
        readFrom_ = from;
        const ImVec2 scale = ImGui::GetIO().DisplayFramebufferScale;
        const auto hit = scene::pick(scene_, drawn_.size, pointer.x * scale.x, pointer.y * scale.y);
        readout_ = hit ? described(session, *hit) : std::string();
    }
    if (readout_.empty()) return;
    ImGui::PushFont(theme_->small);
    ImGui::SetTooltip("%s", readout_.c_str());
    ImGui::PopFont();
}

/// The feature, the number that decides its place, and how much metal lies under it.
std::string Stand::described(const Session& session, const scene::Pick& hit) const {
    const design::Design& design = session.derived().made;
    std::string text = base::capitalised(geometry::name(hit.tag.feature));
    const std::string path = geometry::fieldOf(design, hit.tag);
    if (const auto field = design::fieldAt(design, path)) {
        text += "\n" + base::capitalised(field->phrase);
        if (const double* value = design::numberAt(design, path))
            text += " " + formatNumber(*value, field->number) + " " +
                    std::string(design::names(field->number.unit).sign);
    }
    if (scene_.bodies[hit.body].role == geometry::PartRole::Band) {
        const double wall = geometry::wallAt(design, session.stage(), hit.tag, hit.point, hit.normal);
        text += "\nWall here " + base::fixed(wall, 2) + " mm";
    }
    return text;
}

/// How far below the picture's upper edge the whole ring begins, seen along its axis.
float Stand::ringTop() const {
    if (drawn_.size.width == 0) return 0;
    const scene::Camera along{.azimuth = 0, .elevation = 0};
    const scene::Viewpoint view = scene::viewpoint(along, scene::heldExtent(scene_), drawn_.size);
    const auto top = scene::project(view, drawn_.size, {0, scene_.extent.radius, scene_.extent.halfWidth});
    return top ? static_cast<float>((*top)[1]) / ImGui::GetIO().DisplayFramebufferScale.y : 0;
}

void Stand::viewButtons(ImVec2 corner, float width, float top) {
    ImGui::SetCursorScreenPos(corner);
    ImGui::PushFont(theme_->small);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    ImGui::PushStyleColor(ImGuiCol_Button, palette::kVeil);
    ImGui::PushStyleColor(ImGuiCol_ButtonHovered, palette::kWellHover);
    ImGui::PushStyleColor(ImGuiCol_ButtonActive, palette::kWell);
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    const Switches toggles = {{{"Wall map", showsWalls_, Toggle::WallMap},
                               {"Cut away", view_.cutThrough.has_value(), Toggle::CutAway},
                               {"Apart", wantedSpread_ > 0, Toggle::Apart},
                               {"Finger", showsFinger_, Toggle::Finger}}};
    const float apart = theme_->px(3);
    const auto widthOf = [&](const char* text) {
        return ImGui::CalcTextSize(text).x + 2 * ImGui::GetStyle().FramePadding.x + apart;
    };
    float views = widthOf("Light"), right = 0;
    for (const NamedView& view : kViewKeys)
        views += widthOf(view.name);
    for (const Switch& each : toggles)
        right += widthOf(each.name);
    // Never over the ring.
    const bool isClear = corner.y + ImGui::GetFrameHeight() <= top;
    if (!isClear || views + right > width - theme_->px(24)) {
        viewList(toggles);
    } else {
        for (const NamedView& view : kViewKeys) {
            if (viewButton(view.name)) lookFrom(view.azimuth, view.elevation);
            ImGui::SameLine(0, apart);
        }
        if (viewButton("Light", view_.lightsOut)) ImGui::OpenPopup("light");
        if (ImGui::BeginPopup("light")) {
            lightList();
            ImGui::EndPopup();
        }
        ImGui::SetCursorScreenPos({corner.x + width - theme_->px(24) - right + apart, corner.y});
        for (const Switch& each : toggles) {
            if (viewButton(each.name, each.isOn)) toggle(each.toggle);
            ImGui::SameLine(0, apart);
        }
    }
    ImGui::PopStyleColor(4);
    ImGui::PopStyleVar();
    ImGui::PopFont();
}

/// One button over the picture; what is on is filled and framed, and keeps its word.
bool Stand::viewButton(const char* text, bool isOn) {
    if (isOn) {
        ImGui::PushStyleColor(ImGuiCol_Button, palette::kPetrol);
        ImGui::PushStyleColor(ImGuiCol_ButtonHovered, palette::kPetrol);
        ImGui::PushStyleColor(ImGuiCol_ButtonActive, palette::kPetrol);
        ImGui::PushStyleColor(ImGuiCol_Text, palette::kPaper);
    }
    const bool isPressed = ImGui::Button(text);
    if (isOn) ImGui::PopStyleColor(4);
    notePlace(text);
    return isPressed;
}

/// One line of a list.
bool Stand::listed(const char* text, bool isOn) {
    const bool isPressed = ImGui::Selectable(text, isOn);
    notePlace(text);
    return isPressed;
}

void Stand::notePlace(const char* text) {
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_[text] = {least.x, least.y, most.x, most.y};
}

/// The same in a list that opens, where they have no room beside each other.
void Stand::viewList(const Switches& toggles) {
    if (viewButton("View")) ImGui::OpenPopup("views");
    if (!ImGui::BeginPopup("views")) return;
    for (const NamedView& view : kViewKeys)
        if (listed(view.name)) lookFrom(view.azimuth, view.elevation);
    ImGui::Separator();
    for (const Switch& each : toggles)
        if (listed(each.name, each.isOn)) toggle(each.toggle);
    ImGui::Separator();
    lightList();
    ImGui::EndPopup();
}

void Stand::lookFrom(double azimuth, double elevation) {
    target_ = view_.camera;
    target_.azimuth = nearestTurn(view_.camera.azimuth, azimuth);
    target_.elevation = elevation;
    target_.pan = {};
    target_.zoom = 1;
    easing_ = true;
}

/// The lights, one under the other, and how large the ring is.
void Stand::lightList() {
    static constexpr std::array<std::pair<scene::Studio, const char*>, 3> kStudios = {
        {{scene::Studio::Tent, "Light tent"},
         {scene::Studio::Window, "Window light"},
         {scene::Studio::DarkField, "Dark field"}}};
    for (const auto& [studio, name] : kStudios)
        if (listed(name, view_.studio == studio)) view_.studio = studio;
    if (listed("Lights out", view_.lightsOut)) toggle(Toggle::LightsOut);
    ImGui::Separator();
    if (listed("Scale bar", view_.scaleBar)) view_.scaleBar = !view_.scaleBar;
    if (screenPixelsPerMm_ <= 0) return;
    if (listed("True size")) trueSize();
    if (ImGui::IsItemHovered())
        ImGui::SetTooltip("As large as the ring itself, if the screen states its size correctly");
}

void Stand::trueSize() {
    if (drawn_.size.width == 0) return;
    target_ = view_.camera;
    target_.zoom =
        std::clamp(scene::zoomForScale(scene_, drawn_.size, screenPixelsPerMm_), kLeastTrueZoom, kMostZoom);
    target_.pan = {};
    easing_ = true;
}

/// Right of the strip: what has to be done at the step shown.
void Stand::routeButtons(ImVec2 corner, float width) {
    const float height = theme_->px(kRouteStripHeight), tall = theme_->px(25);
    ImGui::GetWindowDrawList()->AddRectFilled(corner, {corner.x + width, corner.y + height}, palette::kPaper);
    const float first = corner.y + height / 2 - tall - theme_->px(1);
    ImGui::SetCursorScreenPos({corner.x, first});
    ImGui::PushStyleColor(ImGuiCol_Text, palette::kPetrol);
    ImGui::PushFont(theme_->small);
    if (ImGui::Button("Work", {width - theme_->px(2), tall})) workAsked_ = true;
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    workButton_ = {least.x, least.y, most.x, most.y};
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("What has to be done at this step: Ctrl+5");
    ImGui::SetCursorScreenPos({corner.x, first + tall + theme_->px(2)});
    if (ImGui::Button("At the bench", {width - theme_->px(2), tall})) benchAsked_ = true;
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("One operation at a time, in large letters: Ctrl+B");
    ImGui::PopFont();
    ImGui::PopStyleColor();
}

void Stand::route(Session& session, ImVec2 corner, float width) {
    const std::vector<design::Stage> known = check::stages(session.design(), session.catalogue());
    const float buttons = theme_->px(84);
    std::optional<design::Stage> asked =
        routeStrip(*theme_, known, session.stage(), session.derived().report, corner, width - buttons);
    routeButtons({corner.x + width - buttons, corner.y}, buttons);
    if (ImGui::IsWindowFocused() && !ImGui::GetIO().WantTextInput && !ImGui::GetIO().KeyCtrl) {
        const auto here = std::ranges::find(known, session.stage());
        if (pressed(Key::Comma, true) && here != known.begin()) asked = *(here - 1);
        if (pressed(Key::Period, true) && here + 1 != known.end()) asked = *(here + 1);
    }
    if (!asked) return;
    if (const auto sentence = session.show(*asked)) problem_ = *sentence;
}

}  // namespace bandwright::app
