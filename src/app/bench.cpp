#include "app/bench.hpp"

#include <imgui.h>

#include <algorithm>
#include <array>
#include <cfloat>
#include <cmath>
#include <numbers>
#include <string_view>

#include "app/change_words.hpp"
#include "app/keys.hpp"
#include "app/work_view.hpp"
#include "base/input_error.hpp"
#include "focus.hpp"
#include "platform/paths.hpp"

namespace bandwright::app {

namespace {

constexpr ImGuiWindowFlags kPane = ImGuiWindowFlags_NoTitleBar | ImGuiWindowFlags_NoResize |
                                   ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                                   ImGuiWindowFlags_NoCollapse | ImGuiWindowFlags_NoBringToFrontOnFocus;

constexpr ImGuiWindowFlags kStill = ImGuiWindowFlags_NoScrollbar | ImGuiWindowFlags_NoScrollWithMouse;

constexpr float kCardWidth = 356, kGaugesWidth = 348;
constexpr float kLeastMiddle = 380;  ///< of stand and section; if less, gauges share the left column
constexpr float kLeastWork = 300;    ///< of the operations beside the section; if less, they take its place
constexpr float kGap = 5;            ///< of bare desk between the sheets

/// A pane of the window; focus it when its name was asked for.
void beginPane(const char* name, ImVec2 at, ImVec2 size, std::string& paneToFocus,
               ImGuiWindowFlags more = 0) {
    ImGui::SetNextWindowPos(at);
    ImGui::SetNextWindowSize(size);
    if (paneToFocus == name) {
        ImGui::SetNextWindowFocus();
        paneToFocus.clear();
    }
    ImGui::Begin(name, nullptr, kPane | more);
}

}  // namespace

Bench::Bench(Session session, Settings settings, std::filesystem::path folder, WorkshopCard workshop,
             std::function<trade::Catalogue(const trade::Workshop&)> catalogueIn)
    : session_(std::move(session)),
      settings_(std::move(settings)),
      folder_(std::move(folder)),
      planner_(workshop.workshop()),
      start_(RingPictures(folder_.empty() ? folder_ : platform::cacheFolder())),
      shop_(std::move(workshop)),
      catalogueIn_(std::move(catalogueIn)),
      keptRevision_(session_.revision()) {
    card_.folded() = settings_.folded;
    if (!folder_.empty()) recoveries_ = findRecoveries(folder_);
    if (!session_.file().empty()) rememberFile();
}

std::string Bench::windowTitle() const {
    const std::string file = session_.file().empty() ? "" : " \u2013 " + session_.file().filename().string();
    return (session_.unsaved() ? "* " : "") + session_.design().title + file + " \u2013 Bandwright";
}

/// What covers the panes: the bench at work, the papers, what is handed over, two rings, the workshop.
/// Returns whether something does.
bool Bench::overTheWindow(const Theme& theme, Painter& painter) {
    if (atBench_.shown()) {
        planner_.follow(session_);
        switch (atBench_.draw(session_, planner_, theme)) {
            case BenchCard::Asked::Nothing:
                break;
            case BenchCard::Asked::Undo:
                undo();
                break;
            case BenchCard::Asked::Redo:
                redo();
                break;
            case BenchCard::Asked::Save:
                want(Intent::Save);
                break;
        }
    } else if (papers_.shown()) {
        papers_.draw(session_, planner_.workshop(), theme, painter);
        if (!papers_.shown()) stand_.repaint();
    } else if (handOver_.shown()) {
        handOver_.draw(session_, theme, painter);
        if (handOver_.takePapersAsked()) papers_.open(session_, planner_.workshop());
        if (!handOver_.shown()) stand_.repaint();
    } else if (pair_.shown()) {
        pair_.draw(session_, planner_.workshop(), settings_.recent, theme, painter);
        if (!pair_.shown()) stand_.repaint();
    } else if (shop_.shown()) {
        shop_.draw(session_.catalogue(), theme);
        if (!shop_.shown()) useWorkshop();
    } else if (start_.shown()) {
        if (auto begun = start_.draw(session_, theme, painter)) began(*std::move(begun));
        if (!start_.shown()) stand_.repaint();
    } else {
        return false;
    }
    return true;
}

void Bench::useWorkshop() {
    if (planner_.workshop() == shop_.workshop()) return;
    try {
        session_.use(catalogueIn_ ? catalogueIn_(shop_.workshop()) : session_.catalogue());
        planner_ = Planner(shop_.workshop());
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

void Bench::frame(const Theme& theme, Painter& painter) {
    useColours(settings_.isDark ? Colours::Dark : Colours::Light);
    if (!pair_.shown()) painter.leaveBeside();  // not before the frame that showed its picture is drawn
    if (!overTheWindow(theme, painter)) {
        shortcuts(theme);
        ImGui::GetBackgroundDrawList()->AddRectFilled({0, 0}, ImGui::GetIO().DisplaySize, palette::kDesk);
        bar(theme);
        panes(theme, painter);
    }
    if (framesToDecision_ > 0 && --framesToDecision_ == 0) decide();
    questions(theme);
}

void Bench::shortcuts(const Theme& theme) {
    const ImGuiIO& io = ImGui::GetIO();
    // ImGui 1.86 presses buttons by Space alone.
    if ((pressed(Key::Enter) || pressed(Key::KeypadEnter)) && !io.WantTextInput) pressFocused();
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return;
    if (pressedWithCtrl(Key::N)) want(Intent::New);
    if (pressedWithCtrl(Key::O)) want(Intent::AskOpen);
    if (pressedWithCtrl(Key::Q)) want(Intent::Leave);
    if (pressedWithCtrl(Key::S)) io.KeyShift ? askWhereToSave() : want(Intent::Save);
    if (!io.WantTextInput) {
        if (pressedWithCtrl(Key::Z)) io.KeyShift ? redo() : undo();
        if (pressedWithCtrl(Key::Y)) redo();
        if (pressed(Key::F1)) showsKeys_ = !showsKeys_;
    }
    struct Pane {
        Key key;
        const char* name;
    };
    static constexpr std::array<Pane, 4> kPanes = {{{Key::Digit1, "Job card"},
                                                    {Key::Digit2, "Stand"},
                                                    {Key::Digit3, "Section"},
                                                    {Key::Digit4, "Gauges"}}};
    for (std::size_t i = 0; i < kPanes.size(); ++i) {
        if (pressedWithCtrl(kPanes[i].key)) {
            paneToFocus_ = kPanes[i].name;
            gaugesInCard_ = i == 3 || (gaugesInCard_ && i != 0);
        }
    }
    if (pressedWithCtrl(Key::Digit5)) {
        showsWork_ = !showsWork_;
        if (showsWork_) paneToFocus_ = "Work";
    }
    if (pressedWithCtrl(Key::B)) atBench_.open();
    if (pressedWithCtrl(Key::H)) steps_.ask();
    if (pressedWithCtrl(Key::F)) finder_.ask();
    if (pressedWithCtrl(Key::D)) changeColours();
    if (pressedWithCtrl(Key::E)) handOver_.open(session_);
    if (pressedWithCtrl(Key::M)) pair_.open(session_);
    if (pressedWithCtrl(Key::W)) shop_.open();
    if (pressedWithCtrl(Key::P)) papers_.open(session_, planner_.workshop());
    if (pressedWithCtrl(Key::Equal) || pressedWithCtrl(Key::KeypadAdd)) scaleBy(1, theme);
    if (pressedWithCtrl(Key::Minus) || pressedWithCtrl(Key::KeypadSubtract)) scaleBy(-1, theme);
    if (pressedWithCtrl(Key::Digit0)) settings_.uiScale = 0;
    if (pressed(Key::Escape) && !io.WantTextInput) {
        message_.clear();
        selected_.reset();
    }
}

/// At once, so that they last even if the program is cut off.
void Bench::keepSettings() {
    if (folder_.empty()) return;
    try {
        saveSettings(folder_, settings_);
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

void Bench::changeColours() {
    settings_.isDark = !settings_.isDark;
    keepSettings();
}

void Bench::goTo(std::size_t step) {
    session_.goTo(step);
    card_.forgetRefusals();
}

/// The design's title and the state of its file, as far as they have room before `end`.
void Bench::barTitle(const Theme& theme, float end) {
    const float middle = theme.px(kBarHeight) / 2;
    ImGui::PushFont(theme.title);
    const float titleWidth = ImGui::CalcTextSize(session_.design().title.c_str()).x;
    ImGui::SetCursorPos({theme.px(16), middle - theme.title->FontSize / 2});
    const ImVec2 corner = ImGui::GetWindowPos();
    ImGui::PushClipRect(corner, {corner.x + std::max(end, 0.0F), corner.y + theme.px(kBarHeight)}, true);
    ImGui::TextUnformatted(session_.design().title.c_str());
    ImGui::PopClipRect();
    ImGui::PopFont();
    const std::string state = session_.file().empty() ? (session_.unsaved() ? "not saved" : "new")
                              : session_.unsaved()    ? session_.file().filename().string() + ", changed"
                                                      : session_.file().filename().string();
    const float behind = theme.px(30) + titleWidth;
    if (behind + theme.small->CalcTextSizeA(theme.small->FontSize, FLT_MAX, 0, state.c_str()).x > end) return;
    ImGui::SetCursorPos({behind, middle - theme.small->FontSize / 2 + theme.px(2)});
    ImGui::PushFont(theme.small);
    ImGui::TextDisabled("%s", state.c_str());
    ImGui::PopFont();
}

std::vector<Command> Bench::barCommands() {
    return {
        {"New", "Ctrl+N", true, [this] { want(Intent::New); }},
        {"Open", "Ctrl+O", true, [this] { want(Intent::AskOpen); }},
        {"Save", "Ctrl+S", session_.unsaved() || session_.file().empty(), [this] { want(Intent::Save); }},
        {"Save as", "Ctrl+Shift+S", true, [this] { askWhereToSave(); }},
        {"Papers", "Ctrl+P", true, [this] { papers_.open(session_, planner_.workshop()); }},
        {"Hand over", "Ctrl+E", true, [this] { handOver_.open(session_); }},
        {"Workshop", "Ctrl+W", true, [this] { shop_.open(); }},
        {"Undo", "Ctrl+Z", session_.canUndo() || undoesLimit(), [this] { undo(); }},
        {"Redo", "Ctrl+Shift+Z", session_.canRedo() || redoesLimit(), [this] { redo(); }},
        {"Steps", "Ctrl+H", true, [this] { steps_.ask(); }},
        {"Find", "Ctrl+F", true, [this] { finder_.ask(); }},
        {"Keys", "F1", true, [this] { showsKeys_ = true; }},
    };
}

std::vector<Command> Bench::allCommands(const Theme& theme) {
    std::vector<Command> all = barCommands();
    const auto pane = [this](const char* name) {
        return [this, name] {
            paneToFocus_ = name;
            gaugesInCard_ = std::string_view(name) == "Gauges";
        };
    };
    const std::vector<Command> others = {
        {"Five questions for a ring", "", true, [this] { want(Intent::New); }},
        {"To the job card", "Ctrl+1", true, pane("Job card")},
        {"To the stand", "Ctrl+2", true, pane("Stand")},
        {"To the section", "Ctrl+3", true, pane("Section")},
        {"To the gauges", "Ctrl+4", true, pane("Gauges")},
        {"Compare two rings, or two moments of this one", "Ctrl+M", true, [this] { pair_.open(session_); }},
        {"The work of the step shown", "Ctrl+5", true, [this] { showsWork_ = !showsWork_; }},
        {"At the bench, one operation at a time", "Ctrl+B", true, [this] { atBench_.open(); }},
        {settings_.isDark ? "Light colours" : "Dark colours", "Ctrl+D", true, [this] { changeColours(); }},
        {"Fold the job card to lines", "", true, [this] { card_.foldAll(); }},
        {"Unfold the job card", "", true, [this] { card_.folded().clear(); }},
        {"Larger", "Ctrl+plus", true, [this, &theme] { scaleBy(1, theme); }},
        {"Smaller", "Ctrl+minus", true, [this, &theme] { scaleBy(-1, theme); }},
        {"As large as the screen says", "Ctrl+0", true, [this] { settings_.uiScale = 0; }},
        {"Leave", "Ctrl+Q", true, [this] { want(Intent::Leave); }},
    };
    all.insert(all.end(), others.begin(), others.end());
    for (const std::pair<std::string, std::string>& row : card_.rows().names())
        all.push_back({row.second, "", true, [this, key = row.first] {
                           paneToFocus_ = "Job card";
                           gaugesInCard_ = false;
                           card_.focus(key);
                       }});
    return all;
}

/// The keys of a command of the bar, and what it would undo or redo.
std::string Bench::hintFor(const Command& command) const {
    const std::vector<design::Design>& all = session_.history().designs();
    const std::size_t now = session_.history().place();
    const auto change = [&](std::size_t to) {
        return changeInWords(all[to - 1], all[to], session_.catalogue()) + " (" + command.keys + ")";
    };
    if ((command.name == "Undo" && undoesLimit()) || (command.name == "Redo" && redoesLimit()))
        return command.name + ": a limit of your own (" + command.keys + ")";
    if (command.name == "Undo" && session_.canUndo()) return "Undo: " + change(now);
    if (command.name == "Redo" && session_.canRedo()) return "Redo: " + change(now + 1);
    return command.keys;
}

void Bench::bar(const Theme& theme) {
    const float width = ImGui::GetIO().DisplaySize.x;
    beginPane("Bar", {0, 0}, {width, theme.px(kBarHeight)}, paneToFocus_, kStill);
    const float middle = theme.px(kBarHeight) / 2;
    const std::vector<Command> commands = barCommands();
    const auto widthOf = [&](float padding, float group) {
        float all = 3 * group;
        for (const Command& command : commands)
            all += ImGui::CalcTextSize(command.name.c_str()).x + 2 * padding + theme.px(2);
        return all;
    };
    // Where there is little room they move together, and the title, which the system's bar says too, ends
    // before them.
    ImVec2 padding = ImGui::GetStyle().FramePadding;
    float group = theme.px(14);
    const bool isTight = widthOf(padding.x, group) > width - theme.px(200);
    if (isTight) {
        padding.x = theme.px(3);
        group = theme.px(5);
    }
    const float start = std::max(width - theme.px(isTight ? 4 : 14) - widthOf(padding.x, group), 0.0F);
    barTitle(theme, start - theme.px(8));
    ImGui::SetCursorPos({start, middle - ImGui::GetFrameHeight() / 2});
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, padding);
    ImGui::PushStyleVar(ImGuiStyleVar_FrameBorderSize, 0.0F);
    for (std::size_t i = 0; i < commands.size(); ++i) {
        if (i > 0) ImGui::SameLine(0, i == 4 || i == 7 || i == 10 ? group : theme.px(2));
        ImGui::BeginDisabled(!commands[i].isEnabled);
        ImGui::PushStyleColor(ImGuiCol_Text, commands[i].isEnabled ? palette::kPetrol : palette::kGraphite);
        if (ImGui::Button(commands[i].name.c_str())) commands[i].run();
        ImGui::PopStyleColor();
        ImGui::EndDisabled();
        if (ImGui::IsItemHovered()) ImGui::SetTooltip("%s", hintFor(commands[i]).c_str());
    }
    ImGui::PopStyleVar(2);
    ImGui::End();
}

float Bench::message(const Theme& theme, float top) {
    const float width = ImGui::GetIO().DisplaySize.x;
    const float aside = theme.px(36), dismiss = theme.px(110), pad = ImGui::GetStyle().WindowPadding.y;
    const std::string text = wrapped(*theme.body, width - aside - dismiss, message_);
    const float line = theme.body->FontSize;
    const float height = line * static_cast<float>(1 + std::ranges::count(text, '\n')) + 2 * pad;
    beginPane("Message", {0, top}, {width, height}, paneToFocus_, kStill);
    const ImVec2 corner = ImGui::GetWindowPos();
    verdictMark(*ImGui::GetWindowDrawList(), {corner.x + theme.px(22), corner.y + pad + line / 2},
                theme.px(5), check::Verdict::NoGo);
    ImGui::SetCursorScreenPos({corner.x + aside, corner.y + pad});
    ImGui::TextUnformatted(text.c_str());
    ImGui::SetCursorScreenPos({corner.x + width - theme.px(90), corner.y + pad});
    if (ImGui::SmallButton("Dismiss")) message_.clear();
    ImGui::End();
    return height;
}

struct Bench::Layout {
    float top = 0, height = 0;  ///< of the area under the bar
    float gap = 0, card = 0, middle = 0, gauges = 0, section = 0;
    bool narrow = false;  ///< no room for a column of gauges
};

Bench::Layout Bench::layout(const Theme& theme, float top) {
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    Layout layout;
    layout.gap = std::max(1.0F, theme.px(kGap));
    layout.top = top + layout.gap;
    layout.height = std::max(screen.y - layout.top, 1.0F);
    layout.card = std::min(theme.px(kCardWidth), screen.x * 0.6F);
    const float rest = screen.x - layout.card - layout.gap;
    const float gauges = theme.px(kGaugesWidth);
    layout.narrow = rest - gauges - layout.gap < theme.px(kLeastMiddle);
    layout.gauges = layout.narrow ? 0 : gauges;
    layout.middle = layout.narrow ? rest : rest - gauges - layout.gap;
    const float share = layout.narrow ? 0.44F : 0.38F;
    layout.section = std::min(std::clamp(layout.height * share, theme.px(190), theme.px(340)),
                              layout.height / 2);  // in a low window the ring keeps its half
    return layout;
}

void Bench::panes(const Theme& theme, Painter& painter) {
    float top = theme.px(kBarHeight);
    if (!message_.empty()) top += message(theme, top);
    const Layout at = layout(theme, top);
    sidePanes(theme, at);
    const check::Finding* finding = selected_ ? find(session_.derived().report, *selected_) : nullptr;

    const float left = at.card + at.gap;
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, ImVec2(0, 0));
    beginPane("Stand", {left, at.top}, {at.middle, at.height - at.section - at.gap}, paneToFocus_,
              kStill | ImGuiWindowFlags_NoNavInputs);
    ImGui::PopStyleVar();
    clickedOn(stand_.draw(session_, theme, finding, painter));
    ImGui::End();
    if (std::string problem = stand_.takeProblem(); !problem.empty()) message_ = std::move(problem);
    finding = selected_ ? find(session_.derived().report, *selected_) : nullptr;

    if (stand_.takeBenchAsked()) atBench_.open();
    if (stand_.takeWorkAsked()) showsWork_ = !showsWork_;
    lowerPanes(theme, at, finding);
}

void Bench::lowerPanes(const Theme& theme, const Layout& at, const check::Finding* finding) {
    const float left = at.card + at.gap, top = at.top + at.height - at.section;
    float section = at.middle;
    if (showsWork_) {
        planner_.follow(session_);
        const float half = std::floor((at.middle - at.gap) / 2);
        const bool isBeside = half >= theme.px(kLeastWork);
        section = isBeside ? half : 0;
        const float work = isBeside ? left + half + at.gap : left;
        beginPane("Work", {work, top}, {left + at.middle - work, at.section}, paneToFocus_);
        workView(session_, planner_, theme);
        ImGui::End();
    }
    if (section <= 0) return;
    beginPane("Section", {left, top}, {section, at.section}, paneToFocus_, kStill);
    if (const auto field = section_.draw(session_, theme, finding, preview_)) toField(*field);
    ImGui::End();
    if (std::string problem = section_.takeProblem(); !problem.empty()) message_ = std::move(problem);
}

/// So that what was added is seen.
void Bench::turnToLastSetting() {
    const design::Design& design = session_.design();
    const design::Placement& placement = design.settings.back().placement;
    const double angle = design::placedAngles(placement).front() * std::numbers::pi / 180;
    const double radius = design::outsideRadius(design);
    stand_.turnTo({radius * std::cos(angle), radius * std::sin(angle), placement.offset});
}

void Bench::sidePanes(const Theme& theme, const Layout& at) {
    const bool gaugesOnLeft = at.narrow && gaugesInCard_;
    Gauges::Asked asked;
    beginPane(gaugesOnLeft ? "Gauges" : "Job card", {0, at.top}, {at.card, at.height}, paneToFocus_);
    if (at.narrow) leftPaneChooser(theme);
    if (gaugesOnLeft) {
        asked = gauges_.draw(session_, shop_.workshop().limits, theme, selected_);
    } else {
        const std::size_t before = session_.design().settings.size();
        card_.draw(session_, theme);
        if (card_.folded() != settings_.folded) {
            settings_.folded = card_.folded();
            keepSettings();
        }
        if (session_.design().settings.size() == before + 1) turnToLastSetting();
    }
    ImGui::End();
    if (!at.narrow) {
        beginPane("Gauges", {at.card + at.middle + 2 * at.gap, at.top}, {at.gauges, at.height}, paneToFocus_);
        asked = gauges_.draw(session_, shop_.workshop().limits, theme, selected_);
        ImGui::End();
    }
    preview_.follow(session_, asked.looked);
    stand_.preview(preview_.moved());
    if (asked.turn) turnToSelected();
    if (asked.remedy) carryOut(*asked.remedy);
    if (asked.limit) takeLimit(*asked.limit);
    if (asked.mended) {
        if (const auto refusal = session_.change(*asked.mended)) message_ = *refusal;
    }
}

void Bench::carryOut(const check::Remedy& remedy) {
    try {
        const auto refusal = session_.change(check::carriedOut(session_.design(), remedy));
        if (refusal) message_ = *refusal;
    } catch (const base::InputError& error) {
        message_ = error.what();
    }
}

void Bench::turnToSelected() {
    const check::Report& report = session_.derived().report;
    const check::Finding* finding = selected_ ? find(report, *selected_) : nullptr;
    if (finding == nullptr) return;
    const check::Measure& measure = report.measures[finding->measure];
    if (measure.hasPlace) stand_.turnTo(0.5 * (measure.from + measure.to));
    if (const auto sentence = session_.show(finding->stage)) message_ = *sentence;
}

void Bench::leftPaneChooser(const Theme& theme) {
    for (const bool gauges : {false, true}) {
        const bool chosen = gauges == gaugesInCard_;
        ImGui::PushStyleColor(ImGuiCol_Button, chosen ? palette::kPetrolSoft : palette::kWell);
        ImGui::PushStyleColor(ImGuiCol_Border, chosen ? palette::kPetrol : palette::kHairline);
        const float room = ImGui::GetContentRegionAvail().x;
        const float half = gauges ? room : std::floor(room / 2);
        if (ImGui::Button(gauges ? "Gauges" : "Job card", {half, 0})) gaugesInCard_ = gauges;
        ImGui::PopStyleColor(2);
        if (!gauges) ImGui::SameLine(0, 0);
    }
    ImGui::Dummy({0, theme.px(4)});
}

void Bench::clickedOn(const std::optional<geometry::Tag>& tag) {
    if (tag) toField(geometry::fieldOf(session_.design(), *tag));
}

void Bench::toField(const std::string& path) {
    gaugesInCard_ = false;
    card_.focus(path);
    paneToFocus_ = "Job card";
}

void Bench::scaleBy(double steps, const Theme& theme) {
    constexpr double kStep = 0.125;
    settings_.uiScale = std::clamp(std::round((theme.scale + steps * kStep) / kStep) * kStep, 0.75, 3.0);
}

}  // namespace bandwright::app
