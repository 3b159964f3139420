#include "app/pair_view.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <exception>
#include <limits>
#include <utility>

#include "app/keys.hpp"
#include "app/step_list.hpp"
#include "base/wording.hpp"
#include "choice_key.hpp"
#include "design_source.hpp"
#include "focus.hpp"
#include "turning.hpp"

namespace bandwright::app {

namespace {

constexpr float kPairGap = 5, kPairHeading = 116, kPairMenu = 430;  ///< at scale 1

constexpr float kMostTold = 0.4F;  ///< the share of the height under the keys that the list takes

/// Each ring is seen so long. WCAG 2.1, success criterion 2.3.1: nothing flashes more than three times in a
/// second.
constexpr std::chrono::milliseconds kFlickerEvery{500};

std::string nameOf(const Session& session, const PairView::Moment& moment,
                   const std::vector<std::string>& steps) {
    switch (moment.kind) {
        case PairView::Moment::Kind::Now:
            break;
        case PairView::Moment::Kind::Saved:
            return "As saved in " + session.file().filename().string();
        case PairView::Moment::Kind::Step:
            if (moment.step == 0 || moment.step >= steps.size()) return "As it began";
            return "Step " + std::to_string(moment.step) + ", " + base::uncapitalised(steps[moment.step]);
        case PairView::Moment::Kind::File:
            return moment.file.filename().string();
    }
    return "As it is now";
}

/// The design of a moment of this ring; nothing for another file's.
std::optional<design::Design> designAt(const Session& session, const PairView::Moment& moment) {
    switch (moment.kind) {
        case PairView::Moment::Kind::Now:
            break;
        case PairView::Moment::Kind::Saved:
            if (session.saved()) return session.saved();
            break;
        case PairView::Moment::Kind::Step:
            if (moment.step < session.history().designs().size())
                return session.history().designs()[moment.step];
            break;
        case PairView::Moment::Kind::File:
            return std::nullopt;
    }
    return session.design();
}

bool isInFile(const Session& session) {
    return !session.file().empty() && session.saved();
}

}  // namespace

void PairView::open(const Session& session) {
    shown_ = true;
    const Moment kept = sides_[kLeft].moment;
    for (Shown& side : sides_) {
        side.moment = {};
        side.isThere = false;
        side.isStale = true;
    }
    Moment& left = sides_[kLeft].moment;
    if (kept.kind == Moment::Kind::File)
        left = kept;
    else if (isInFile(session) && session.unsaved())
        left.kind = Moment::Kind::Saved;
    else if (session.canUndo())
        left = {Moment::Kind::Step, session.history().place() - 1, {}};
    stepNames_ = stepNames(session);
    camera_ = {};
    easing_ = flickers_ = onePlace_ = lightsOut_ = isTold_ = false;
    seen_ = kRight;
    asked_ = kLeft;
}

void PairView::take(const std::filesystem::path& file) {
    sides_[asked_].moment = {Moment::Kind::File, 0, file};
}

bool PairView::busy() const {
    if (!shown_) return false;
    return easing_ || std::ranges::any_of(sides_, [](const Shown& side) {
               return side.coming.valid() || !side.isThere || (side.ring.problem.empty() && !side.isSettled);
           });
}

double PairView::rest() const {
    if (!shown_ || !flickers_) return std::numeric_limits<double>::infinity();
    return std::max(0.0, std::chrono::duration<double>(next_ - Clock::now()).count());
}

PairView::Ring PairView::worked(const std::optional<design::Design>& design,
                                const std::filesystem::path& file, const trade::Catalogue& catalogue,
                                const trade::Workshop& workshop) {
    Ring ring;
    try {
        const design::Design of = design ? *design : designIn(file, formats::Outside::Refused);
        const Derived derived = derive(of, catalogue, design::Stage::Finished, {.remedies = false});
        ring.scene = scene::makeScene(derived.made, derived.parts, catalogue);
        ring.figures = inFigures(of, derived.made, derived.report, derived.bodies, catalogue, workshop);
    } catch (const std::exception& error) {
        ring.problem = error.what();
    }
    return ring;
}

/// Takes in the rings that are ready, and has those made that are wanted.
void PairView::follow(const Session& session, const trade::Workshop& workshop) {
    for (Shown& side : sides_) {
        if (side.coming.valid()) {
            if (side.coming.wait_for(std::chrono::seconds(0)) != std::future_status::ready) continue;
            side.ring = side.coming.get();
            side.isThere = side.isStale = true;
            isTold_ = false;
        }
        if (side.isThere && side.made == side.moment) continue;
        side.made = side.moment;
        // Copies, because the session goes on while this is worked out.
        side.coming =
            std::async(std::launch::async, [design = designAt(session, side.made), file = side.made.file,
                                            catalogue = session.catalogue(),
                                            workshop] { return worked(design, file, catalogue, workshop); });
    }
    if (isTold_ || busyWorking()) return;
    isTold_ = true;
    told_.clear();
    if (problem(kLeft).empty() && problem(kRight).empty())
        told_ = differences(sides_[kLeft].ring.figures, sides_[kRight].ring.figures, session.catalogue());
}

bool PairView::busyWorking() const {
    return std::ranges::any_of(sides_,
                               [](const Shown& side) { return side.coming.valid() || !side.isThere; });
}

bool PairView::key(const std::string& name, const std::string& text, ImVec2 size, bool isChosen) {
    return choiceKey(places_, name, text, size, isChosen);
}

void PairView::flickerOn(bool isOn) {
    flickers_ = isOn;
    onePlace_ = onePlace_ || isOn;
    next_ = Clock::now() + kFlickerEvery;
}

void PairView::swap() {
    seen_ = seen_ == kLeft ? kRight : kLeft;
    next_ = Clock::now() + kFlickerEvery;
}

void PairView::keys() {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return;
    if (lists_) return;  // Escape has closed the list alone
    if (pressed(Key::Escape) || pressedWithCtrl(Key::M)) leaves_ = true;
    if (io.KeyCtrl) return;
    if (pressed(Key::S)) onePlace_ = flickers_ = false;
    if (pressed(Key::F)) flickerOn(!flickers_);
    if (pressed(Key::Space) && std::exchange(onePlace_, true)) swap();
    if (pressed(Key::L)) lightsOut_ = !lightsOut_;
    for (const Side side : {kLeft, kRight}) {
        if (!pressed(side == kLeft ? Key::Digit1 : Key::Digit2)) continue;
        asked_ = side;
        asksMoment_ = true;
    }
    const scene::Camera before = easing_ ? target_ : camera_;
    scene::Camera next = turnedByArrows(before);
    if (pressed(Key::Equal, true) || pressed(Key::KeypadAdd, true)) next = nearer(next, 1);
    if (pressed(Key::Minus, true) || pressed(Key::KeypadSubtract, true)) next = nearer(next, -1);
    if (pressed(Key::Home)) next = {};
    if (next == before) return;
    target_ = next;
    target_.azimuth = nearestTurn(camera_.azimuth, next.azimuth);
    easing_ = true;
}

/// How they are shown.
void PairView::bar() {
    const float apart = theme_->px(3);
    if (key("leave", "Back to the ring", {0, 0})) leaves_ = true;
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Esc");
    ImGui::SameLine(0, theme_->px(14));
    if (key("beside", "Side by side", {0, 0}, !onePlace_)) onePlace_ = flickers_ = false;
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("S");
    ImGui::SameLine(0, apart);
    if (key("place", "In one place", {0, 0}, onePlace_ && !flickers_)) {
        flickers_ = false;
        if (std::exchange(onePlace_, true)) swap();
    }
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("Space, and again for the other ring");
    ImGui::SameLine(0, apart);
    if (key("flicker", "Flicker", {0, 0}, flickers_)) flickerOn(!flickers_);
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("F: one after the other, twice a second");
    ImGui::SameLine(0, theme_->px(14));
    if (key("lights", "Lights out", {0, 0}, lightsOut_)) lightsOut_ = !lightsOut_;
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("L");
}

/// The key that names a ring, and asks for another.
void PairView::chooser(const Session& session, Side side) {
    const std::string name = nameOf(session, sides_[side].moment, stepNames_);
    const float width = ImGui::GetContentRegionAvail().x;
    const bool isSeen = onePlace_ && seen_ == side;
    const std::string place = side == kLeft ? "left" : "right";
    if (key(place, "##" + place, {width, 0}, isSeen)) {
        asked_ = side;
        asksMoment_ = true;
    }
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", wrapped(*theme_->body, width, name).c_str());
    const float pad = ImGui::GetStyle().FramePadding.x;
    writeCutOff({least.x + pad, least.y + ImGui::GetStyle().FramePadding.y}, {most.x - pad, most.y},
                ((side == kLeft ? "1  " : "2  ") + name).c_str());
}

void PairView::choosers(const Session& session, float width) {
    const float gap = theme_->px(kPairGap), half = std::floor((width - gap) / 2);
    const float height = ImGui::GetFrameHeight();
    for (const Side side : {kLeft, kRight}) {
        if (side == kRight) ImGui::SameLine(0, gap);
        ImGui::BeginChild(side == kLeft ? "of left" : "of right", {half, height}, false,
                          ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse);
        chooser(session, side);
        ImGui::EndChild();
    }
}

/// The list of rings to choose from.
void PairView::moments(const Session& session) {
    const bool begins = std::exchange(asksMoment_, false);
    if (begins) ImGui::OpenPopup("###moments");
    const float width = std::min(theme_->px(kPairMenu), ImGui::GetIO().DisplaySize.x - theme_->px(20));
    if (const auto found = places_.find(asked_ == kLeft ? "left" : "right"); found != places_.end())
        ImGui::SetNextWindowPos(
            {std::min(found->second[0], ImGui::GetIO().DisplaySize.x - width), found->second[3]});
    ImGui::SetNextWindowSizeConstraints({width, 0}, {width, ImGui::GetIO().DisplaySize.y * 0.7F});
    lists_ = ImGui::BeginPopup("###moments");
    if (!lists_) return;
    std::vector<Moment> all = {{}};
    if (isInFile(session)) all.push_back({Moment::Kind::Saved, 0, {}});
    for (std::size_t i = stepNames_.size(); i-- > 0;)
        if (i != session.history().place()) all.push_back({Moment::Kind::Step, i, {}});
    Moment& chosen = sides_[asked_].moment;
    if (chosen.kind == Moment::Kind::File) all.push_back(chosen);
    const auto line = [&](const std::string& place, const std::string& text, bool isChosen) {
        ImGui::PushID(place.c_str());
        const bool isPressed = ImGui::Selectable("##moment", isChosen);
        const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
        if (begins && isChosen) focusLastItem();
        writeCutOff({least.x + theme_->px(4), least.y + ImGui::GetStyle().ItemSpacing.y / 2}, most,
                    text.c_str());
        ImGui::PopID();
        places_[place] = {least.x, least.y, most.x, most.y};
        return isPressed;
    };
    for (std::size_t i = 0; i < all.size(); ++i) {
        const std::string place = all[i].kind == Moment::Kind::Now     ? "now"
                                  : all[i].kind == Moment::Kind::Saved ? "saved"
                                  : all[i].kind == Moment::Kind::File  ? "file"
                                                                       : "step" + std::to_string(all[i].step);
        if (line(place, nameOf(session, all[i], stepNames_), all[i] == chosen)) chosen = all[i];
    }
    ImGui::Separator();
    const bool asksFile = line("another", "Another ring, from a file", false);
    if ((pressed(Key::Enter) || pressed(Key::KeypadEnter)) && !ImGui::IsWindowAppearing()) pressFocused();
    if (pressed(Key::Escape)) ImGui::CloseCurrentPopup();
    ImGui::EndPopup();
    if (!asksFile) return;
    const std::filesystem::path& of = chosen.kind == Moment::Kind::File ? chosen.file : session.file();
    files_.ask(FilePanel::Purpose::Open, of.parent_path(), recent_);
}

/// So near that both rings are shown at the same scale, the larger one as the person wants it.
scene::Camera PairView::cameraOf(Side side, scene::Size size) const {
    const auto pixelsPerMm = [&](const Shown& shown) {
        return shown.isThere && shown.ring.problem.empty()
                   ? scene::viewpoint(camera_, shown.ring.scene.extent, size).pixelsPerMm
                   : std::numeric_limits<double>::infinity();
    };
    const double own = pixelsPerMm(sides_[side]);
    scene::Camera camera = camera_;
    camera.zoom *= std::min(own, pixelsPerMm(sides_[side == kLeft ? kRight : kLeft])) / own;
    return camera;
}

void PairView::paint(Side side, ImVec2 size, Painter& painter) {
    Shown& shown = sides_[side];
    if (!shown.isThere || !shown.ring.problem.empty()) return;
    const ImVec2 pixels = ImGui::GetIO().DisplayFramebufferScale;
    const scene::Size wanted{static_cast<int>(size.x * pixels.x), static_cast<int>(size.y * pixels.y)};
    scene::View view = shown.ring.scene.view;
    view.camera = cameraOf(side, wanted);
    view.lightsOut = lightsOut_;
    const bool isChanged = std::exchange(shown.isStale, false) || view != shown.view ||
                           wanted != shown.size || shown.texture == nullptr;
    shown.view = shown.ring.scene.view = view;
    shown.size = wanted;
    if (isChanged || !shown.isSettled) shown.texture = painter.paint(shown.ring.scene, wanted, isChanged);
    shown.isSettled = !isChanged && painter.settled();
}

/// One ring in its place; dragged, both turn.
void PairView::picture(Side side, const char* name, ImVec2 size) {
    const Theme& theme = *theme_;
    const Shown& shown = sides_[side];
    const ImVec2 least = ImGui::GetCursorScreenPos(), most{least.x + size.x, least.y + size.y};
    ImGui::InvisibleButton(name, size, ImGuiButtonFlags_MouseButtonLeft | ImGuiButtonFlags_MouseButtonRight);
    if (turnByMouse(camera_, size.y)) easing_ = false;
    places_[name] = {least.x, least.y, most.x, most.y};
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    const ImVec2 after = ImGui::GetCursorScreenPos();
    const bool isDrawn = shown.isThere && shown.ring.problem.empty() && shown.texture != nullptr;
    if (isDrawn)
        draw.AddImage(shown.texture, least, most, {0, 1}, {1, 0});
    else
        draw.AddRectFilled(least, most, palette::kPaper);
    const float pad = theme.px(12);
    if (!isDrawn) {
        ImGui::SetCursorScreenPos({least.x + pad, least.y + pad});
        const bool isRefused = shown.isThere && !shown.ring.problem.empty();
        paragraph(*theme.body, size.x - 2 * pad, isRefused ? shown.ring.problem : "Working it out",
                  isRefused ? palette::kProblem : palette::kGraphite);
    } else {
        const std::string& title = shown.ring.figures.design.title;
        const ImVec2 text = ImGui::CalcTextSize(title.c_str());
        const ImVec2 end{std::min(least.x + text.x + 2 * pad, most.x), least.y + text.y + pad};
        draw.AddRectFilled(least, end, palette::kVeil);
        draw.PushClipRect(least, end, true);
        draw.AddText({least.x + pad, least.y + pad / 2}, palette::kInk, title.c_str());
        draw.PopClipRect();
    }
    ImGui::SetCursorScreenPos(after);
}

void PairView::pictures(ImVec2 size, Painter& painter) {
    const float gap = theme_->px(kPairGap);
    const ImVec2 each = onePlace_ ? size : ImVec2{std::floor((size.x - gap) / 2), size.y};
    if (each.x < 16 || each.y < 16) return;
    if (easing_ && easeTo(target_, camera_)) easing_ = false;
    paint(kLeft, each, painter);
    paint(kRight, each, painter.beside());
    if (onePlace_) {
        picture(seen_, "picture", each);
        return;
    }
    picture(kLeft, "left picture", each);
    ImGui::SameLine(0, gap);
    picture(kRight, "right picture", each);
}

/// What differs, kind by kind.
void PairView::list(ImVec2 size) {
    const Theme& theme = *theme_;
    ImGui::BeginChild("differences", size);
    if (pressed(Key::PageDown, true)) ImGui::SetScrollY(ImGui::GetScrollY() + size.y / 2);
    if (pressed(Key::PageUp, true)) ImGui::SetScrollY(ImGui::GetScrollY() - size.y / 2);
    const float width = ImGui::GetContentRegionAvail().x, heading = theme.px(kPairHeading);
    const bool isSame = sides_[kLeft].moment == sides_[kRight].moment;
    if (isSame)
        paragraph(*theme.body, width,
                  "Both are the same. Choose another ring with 1 for the left or 2 for the right.",
                  palette::kGraphite);
    else if (!told_.empty())
        paragraph(*theme.small, width, "What the right ring has instead of the left", palette::kGraphite);
    for (const Differences& kind : told_) {
        if (isSame) break;
        const float top = ImGui::GetCursorPosY();
        paragraph(*theme.strong, heading, kind.heading);
        const float below = ImGui::GetCursorPosY();
        ImGui::SetCursorPosY(top);
        for (const std::string& line : kind.lines) {
            ImGui::SetCursorPosX(heading);
            paragraph(*theme.body, width - heading, line);
        }
        ImGui::SetCursorPosY(std::max(below, ImGui::GetCursorPosY()));
    }
    if (isTold_) toldHeight_ = ImGui::GetCursorPosY();
    ImGui::EndChild();
}

void PairView::leave() {
    shown_ = leaves_ = flickers_ = false;
    for (Shown& side : sides_)
        side.texture = nullptr;
}

void PairView::draw(const Session& session, const trade::Workshop& workshop,
                    const std::vector<std::filesystem::path>& recent, const Theme& theme, Painter& painter) {
    theme_ = &theme;
    recent_ = recent;
    places_.clear();
    keys();
    follow(session, workshop);
    if (flickers_ && Clock::now() >= next_) swap();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    // Every key of it has a letter of its own, and the arrows turn the rings.
    ImGui::Begin("Two rings", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus | ImGuiWindowFlags_NoNavInputs);
    bar();
    const ImVec2 room = ImGui::GetContentRegionAvail();
    choosers(session, room.x);
    const float rest = ImGui::GetContentRegionAvail().y;
    const float told = std::min(std::max(toldHeight_, theme.px(60)), rest * kMostTold);
    pictures({room.x, rest - told - ImGui::GetStyle().ItemSpacing.y}, painter);
    list({room.x, ImGui::GetContentRegionAvail().y});
    moments(session);
    ImGui::End();
    if (const auto file = files_.draw(theme)) take(*file);
    if (leaves_) leave();
}

}  // namespace bandwright::app
