#include "app/file_panel.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>
#include <system_error>
#include <utility>

#include "app/keys.hpp"
#include "formats/model.hpp"
#include "platform/ask_file.hpp"
#include "platform/paths.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

constexpr const char* kDesignEnding = ".ring.json";

/// Expands "~/..." as the shell does; other relative paths begin at the folder.
fs::path resolved(const std::string& typed, const fs::path& folder) {
    if (typed.starts_with("~/") || typed == "~") {
        const fs::path home = platform::homeFolder();
        if (!home.empty()) return home / typed.substr(std::min<std::size_t>(2, typed.size()));
    }
    const fs::path path(typed);
    return (path.is_absolute() ? path : folder / path).lexically_normal();
}

bool isFolder(const fs::path& path) {
    std::error_code ignored;
    return fs::is_directory(path, ignored);
}

bool isThere(const fs::path& path) {
    std::error_code ignored;
    return fs::exists(path, ignored);
}

/// Whether the name ends as a file that the program writes elsewhere, or any picture or text; "spring 1.2"
/// does not.
bool isOfAnotherKind(const fs::path& path, const std::string& ending) {
    static constexpr std::array<std::string_view, 10> kOthers = {".pdf", ".png", ".svg",  ".webp", ".dxf",
                                                                 ".txt", ".csv", ".html", ".jpg",  ".json"};
    std::string last = path.extension().string();
    std::ranges::transform(last, last.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    if (ending.ends_with(last)) return false;
    return std::ranges::find(kOthers, last) != kOthers.end() ||
           std::ranges::find(formats::modelFormats(), last, &formats::ModelFormat::ending) !=
               formats::modelFormats().end();
}

}  // namespace

FileKind designFiles() {
    return {kDesignEnding, "Open a design", "Save the design as", "name of the design",
            "No designs (NAME.ring.json) in this folder."};
}

fs::path withEnding(fs::path path, const std::string& ending) {
    const std::string name = path.filename().string();
    if (name.ends_with(ending)) return path;
    // "a.json" where ".ring.json" is wanted has the last part already, "a.ring" the first.
    const std::size_t last = ending.rfind('.');
    if (last > 0 && name.ends_with(ending.substr(last))) return path.replace_extension(ending);
    if (last > 0 && name.ends_with(ending.substr(0, last))) return path += ending.substr(last);
    return path += ending;
}

fs::path withDesignEnding(fs::path path) {
    return withEnding(std::move(path), kDesignEnding);
}

void FilePanel::ask(Purpose purpose, const fs::path& start, std::vector<fs::path> recent) {
    purpose_ = purpose;
    recent_ = std::move(recent);
    problem_.clear();
    shown_ = begins_ = true;
    const bool toFolder = start.empty() || isFolder(start);
    goTo(start.empty() ? platform::absolutePath(".") : toFolder ? start : start.parent_path());
    typed_ = toFolder ? "" : start.filename().string();
}

void FilePanel::goTo(const fs::path& folder) {
    std::error_code error;
    std::vector<Entry> entries;
    for (const fs::directory_entry& entry : fs::directory_iterator(folder, error)) {
        const std::string name = entry.path().filename().string();
        if (name.starts_with('.')) continue;
        const bool directory = isFolder(entry.path());
        if (directory || name.ends_with(kind_.ending)) entries.push_back({name, entry.path(), directory});
    }
    if (error) {
        problem_ = folder.string() + " cannot be read: " + error.message() + ".";
        return;
    }
    std::ranges::sort(entries, [](const Entry& a, const Entry& b) {
        return a.isFolder != b.isFolder ? b.isFolder : a.name < b.name;
    });
    folder_ = platform::absolutePath(folder);
    if (!folder_.has_filename()) folder_ = folder_.parent_path();
    entries_ = std::move(entries);
    problem_.clear();
    typed_.clear();
}

std::optional<fs::path> FilePanel::take(const fs::path& path) {
    if (isFolder(path)) {
        goTo(path);
        return std::nullopt;
    }
    if (purpose_ == Purpose::Save) {
        if (!isOfAnotherKind(path, kind_.ending)) return withEnding(path, kind_.ending);
        problem_ =
            path.filename().string() + ": what is saved here ends in " + kind_.ending + "." +
            (kind_.ending == kDesignEnding
                 ? " Models, pictures and weights are written under \u201CHand over\u201D, papers under "
                   "\u201CPapers\u201D."
                 : "");
        return std::nullopt;
    }
    if (isThere(path)) return path;
    const fs::path ended = withEnding(path, kind_.ending);
    if (isThere(ended)) return ended;
    problem_ = path.string() + " is not there.";
    return std::nullopt;
}

std::optional<fs::path> FilePanel::list(const Theme& theme) {
    std::optional<fs::path> chosen, entered;
    ImGui::BeginChild("files", {0, theme.px(250)}, true, ImGuiWindowFlags_NavFlattened);
    if (folder_.has_parent_path() && folder_ != folder_.parent_path() &&
        ImGui::Selectable("..  (folder above)", false, ImGuiSelectableFlags_DontClosePopups)) {
        entered = folder_.parent_path();
    }
    for (const Entry& entry : entries_) {
        const std::string text = entry.isFolder ? entry.name + "/" : entry.name;
        if (!ImGui::Selectable(
                text.c_str(), entry.name == typed_,
                ImGuiSelectableFlags_DontClosePopups | ImGuiSelectableFlags_AllowDoubleClick)) {
            continue;
        }
        const bool byKey =
            !ImGui::IsMouseReleased(0) && !ImGui::IsMouseClicked(0) && !ImGui::IsMouseDoubleClicked(0);
        if (entry.isFolder) {
            entered = entry.path;
        } else {
            typed_ = entry.name;
            if (purpose_ == Purpose::Open && (byKey || ImGui::IsMouseDoubleClicked(0))) chosen = entry.path;
        }
    }
    if (entries_.empty()) ImGui::TextDisabled("%s", kind_.none.c_str());
    ImGui::EndChild();
    if (entered) goTo(*entered);
    return chosen;
}

std::optional<fs::path> FilePanel::recent(const Theme& theme) {
    std::optional<fs::path> chosen;
    if (purpose_ != Purpose::Open || recent_.empty()) return chosen;
    ImGui::PushFont(theme.strong);
    ImGui::TextUnformatted("Lately");
    ImGui::PopFont();
    for (const fs::path& path : recent_) {
        if (!isThere(path)) continue;
        if (ImGui::Selectable((path.filename().string() + "##" + path.string()).c_str(), false,
                              ImGuiSelectableFlags_DontClosePopups)) {
            chosen = path;
        }
        ImGui::SameLine(theme.px(230));
        ImGui::TextDisabled("%s", path.parent_path().string().c_str());
    }
    ImGui::Dummy({0, theme.px(4)});
    return chosen;
}

std::optional<fs::path> FilePanel::draw(const Theme& theme) {
    if (!shown_) return std::nullopt;
    const bool saves = purpose_ == Purpose::Save;
    if (begins_) ImGui::OpenPopup("###files");
    std::optional<fs::path> chosen;
    bool open = true;
    if (beginPanel(theme, "###files", 640)) {
        ImGui::PushFont(theme.title);
        ImGui::TextUnformatted((saves ? kind_.save : kind_.open).c_str());
        ImGui::PopFont();
        chosen = recent(theme);
        ImGui::TextDisabled("%s", folder_.string().c_str());
        ImGui::SetNextItemWidth(-1);
        if (begins_ || std::exchange(typesAgain_, false)) ImGui::SetKeyboardFocusHere();
        const std::string hint = saves ? kind_.name + ", or a path" : "a name, or a path";
        const bool entered =
            ImGui::InputTextWithHint("##path", hint.c_str(), &typed_, ImGuiInputTextFlags_EnterReturnsTrue);
        begins_ = false;
        if (const auto listed = list(theme)) chosen = listed;
        const fs::path meant = resolved(typed_, folder_);
        const bool replaces = saves && !typed_.empty() && !isOfAnotherKind(meant, kind_.ending) &&
                              isThere(withEnding(meant, kind_.ending)) && !isFolder(meant);
        if (!problem_.empty()) ImGui::TextWrapped("%s", problem_.c_str());
        if (replaces)
            ImGui::TextWrapped("%s is already there and will be replaced.",
                               withEnding(meant, kind_.ending).filename().string().c_str());
        const bool decided = ImGui::Button(saves ? (replaces ? "Replace" : "Save") : "Open");
        if ((decided || entered) && !typed_.empty()) chosen = take(meant);
        ImGui::SameLine();
        if (!saves && platform::canAskForFile()) {
            if (ImGui::Button("From this machine")) {
                platform::askForFile(kind_.ending);
                open = false;
            }
            ImGui::SameLine();
        }
        if (saves && platform::canAskWhereToSave()) {
            if (ImGui::Button("On this machine")) {
                if (const auto place = platform::askWhereToSave(folder_, kind_.ending))
                    chosen = withEnding(*place, kind_.ending);
            }
            ImGui::SameLine();
        }
        if (ImGui::Button("Go back") || pressed(Key::Escape)) open = false;
        if (chosen || !open) {
            shown_ = false;
            ImGui::CloseCurrentPopup();
        } else if (entered) {
            typesAgain_ = true;
        }
        ImGui::EndPopup();
    }
    return chosen;
}

}  // namespace bandwright::app
