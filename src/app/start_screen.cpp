#include "app/start_screen.hpp"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <system_error>
#include <utility>

#include "app/keys.hpp"
#include "choice_key.hpp"
#include "focus.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

constexpr float kQuestions = 372, kTile = 190, kTilesApart = 14;  ///< widths at scale 1

std::vector<fs::path> designsIn(const fs::path& folder) {
    std::vector<fs::path> files;
    std::error_code error;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error))
        if (entry.path().filename().string().ends_with(".ring.json")) files.push_back(entry.path());
    std::ranges::sort(files);
    return files;
}

std::string stemOf(const fs::path& file) {
    const std::string name = file.filename().string();
    return name.substr(0, name.find('.', 1));
}

}  // namespace

void StartScreen::open(const std::vector<fs::path>& recent, const fs::path& samples,
                       const trade::Catalogue& catalogue) {
    shown_ = true;
    std::vector<fs::path> files;
    std::error_code ignored;
    for (const fs::path& file : recent)
        if (fs::exists(file, ignored)) files.push_back(file);
    recent_ = files.size();
    for (fs::path& file : designsIn(samples))
        if (std::ranges::find(files, file) == files.end()) files.push_back(std::move(file));
    pictures_.show(files, catalogue);
}

/// A picture to press, with the ring's title and a few words under it.
bool StartScreen::tile(const std::string& name, std::size_t ring, float width, Painter& painter) {
    const RingPictures::Ring& shown = pictures_.rings()[ring];
    const Theme& theme = *theme_;
    const float picture = std::floor(width * RingPictures::kSize.height / RingPictures::kSize.width);
    const float height = picture + theme.strong->FontSize + theme.small->FontSize + theme.px(10);
    const ImVec2 at = ImGui::GetCursorScreenPos();
    const ImVec2 most{at.x + width, at.y + height};
    const bool isPressed = ImGui::InvisibleButton(name.c_str(), {width, height});
    places_[name] = {at.x, at.y, most.x, most.y};
    const bool isHovered = ImGui::IsItemHovered();
    ImDrawList& draw = *ImGui::GetWindowDrawList();
    draw.AddRectFilled(at, {most.x, at.y + picture}, palette::kWell);
    if (const ImTextureID texture = pictures_.texture(painter); shown.isThere && texture != nullptr) {
        const std::array<float, 4> within = pictures_.within(ring);
        draw.AddImage(texture, at, {most.x, at.y + picture}, {within[0], within[1]}, {within[2], within[3]});
    }
    draw.AddRect(at, {most.x, at.y + picture}, isHovered ? palette::kPetrol : palette::kHairline);
    if (isHovered) draw.AddRectFilled({at.x, at.y + picture}, most, palette::kPetrolFaint);
    markIfFocused(at, most);
    const auto line = [&](ImFont& font, float top, ImU32 colour, const std::string& text) {
        ImGui::PushFont(&font);
        ImGui::PushStyleColor(ImGuiCol_Text, colour);
        writeCutOff({at.x + theme.px(4), top}, {most.x - theme.px(2), top + font.FontSize + theme.px(2)},
                    text.c_str());
        ImGui::PopStyleColor();
        ImGui::PopFont();
    };
    line(*theme.strong, at.y + picture + theme.px(3), palette::kInk, shown.title);
    line(*theme.small, at.y + picture + theme.px(5) + theme.strong->FontSize,
         shown.problem.empty() ? palette::kGraphite : palette::kProblem,
         shown.problem.empty() ? shown.words : "cannot be opened");
    const std::string told = !shown.problem.empty() ? shown.problem
                             : ring < recent_       ? shown.file.string()
                                                    : "";
    if (isHovered && !told.empty())
        ImGui::SetTooltip("%s", wrapped(*theme.body, theme.px(420), told).c_str());
    return isPressed;
}

/// Returns the ring that was pressed.
std::optional<std::size_t> StartScreen::gallery(Painter& painter) {
    const Theme& theme = *theme_;
    const float room = ImGui::GetContentRegionAvail().x - theme.px(4), apart = theme.px(kTilesApart);
    const int across = std::max(1, static_cast<int>((room + apart) / (theme.px(kTile) + apart)));
    const float width = std::floor((room + apart) / static_cast<float>(across) - apart);
    std::optional<std::size_t> chosen;
    const auto row = [&](const char* heading, std::size_t from, std::size_t to) {
        if (from == to) return;
        paragraph(*theme.title, room, heading);
        ImGui::PushStyleVar(ImGuiStyleVar_ItemSpacing, ImVec2(apart, apart));
        for (std::size_t i = from; i < to; ++i) {
            if ((i - from) % static_cast<std::size_t>(across) != 0) ImGui::SameLine();
            const std::string name = from == 0 && recent_ > 0 ? "lately=" + std::to_string(i)
                                                              : "sample=" + stemOf(pictures_.rings()[i].file);
            if (tile(name, i, width, painter)) chosen = i;
        }
        ImGui::PopStyleVar();
        ImGui::Dummy({0, theme.px(8)});
    };
    row("Lately", 0, recent_);
    row("Samples", recent_, pictures_.rings().size());
    return chosen;
}

std::optional<StartScreen::Begun> StartScreen::questionsAndKeys(const Session& session, float width) {
    const Theme& theme = *theme_;
    paragraph(*theme.title, width, "A new ring");
    std::optional<Begun> begun;
    if (auto ring = questions_.draw(session.catalogue(), theme, width)) begun = Begun{std::move(ring), {}};
    ImGui::Dummy({0, theme.px(10)});
    if (choiceKey(places_, "file", "Open a file", {width, 0}, false)) begun = Begun{.asksForFile = true};
    if (choiceKey(places_, "back", "Back to \u201C" + session.design().title + "\u201D", {width, 0}, false))
        shown_ = false;
    return begun;
}

std::optional<StartScreen::Begun> StartScreen::draw(const Session& session, const Theme& theme,
                                                    Painter& painter) {
    theme_ = &theme;
    places_.clear();
    pictures_.follow(painter);
    std::optional<Begun> begun;
    const bool isAsked = ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel);
    const ImGuiIO& io = ImGui::GetIO();
    if (!isAsked) {
        if ((pressed(Key::Enter) || pressed(Key::KeypadEnter)) && !io.WantTextInput) pressFocused();
        if (pressed(Key::Escape) && !io.WantTextInput) shown_ = false;
        if (pressedWithCtrl(Key::O)) begun = Begun{.asksForFile = true};
    }
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(io.DisplaySize);
    ImGui::Begin("Start", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    const float room = ImGui::GetContentRegionAvail().x;
    ImGui::BeginChild("questions", {std::min(theme.px(kQuestions), std::floor(room * 0.5F)), 0});
    if (auto asked = questionsAndKeys(session, ImGui::GetContentRegionAvail().x)) begun = std::move(asked);
    ImGui::EndChild();
    ImGui::SameLine(0, theme.px(28));
    ImGui::BeginChild("gallery", {0, 0}, false, ImGuiWindowFlags_NavFlattened);
    if (const auto chosen = gallery(painter))
        begun = Begun{.file = pictures_.rings()[*chosen].file, .isSample = *chosen >= recent_};
    ImGui::EndChild();
    ImGui::End();
    if (begun) shown_ = false;
    return begun;
}

}  // namespace bandwright::app
