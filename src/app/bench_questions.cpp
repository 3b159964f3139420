#include <imgui.h>

#include <algorithm>
#include <array>
#include <utility>

#include "app/bench.hpp"
#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "focus.hpp"

/// The panels that cover the bench until they are answered.
namespace bandwright::app {

namespace {

/// A panel in the middle of the window over everything else.
bool beginQuestion(const char* id, const Theme& theme, const std::string& question) {
    ImGui::OpenPopup(id);
    if (!beginPanel(theme, id, 500)) return false;
    // So that Enter answers at once, and it is visible which answer it gives.
    if (ImGui::IsWindowAppearing()) showFocus();
    paragraph(*theme.strong, ImGui::GetContentRegionAvail().x, question);
    ImGui::Dummy({0, theme.px(4)});
    return true;
}

}  // namespace

void Bench::questions(const Theme& theme) {
    if (!recoveries_.empty()) {
        recoveryQuestion(theme);
    } else if (asksAboutChanges_) {
        unsavedQuestion(theme);
    } else if (asksAboutWorkshop_) {
        workshopQuestion(theme);
    } else if (!outsideModel_.empty()) {
        outsideQuestion(theme);
    } else if (showsKeys_) {
        keysSheet(theme);
    }
    if (const auto step = steps_.draw(session_, theme, theme.px(kBarHeight))) goTo(*step);
    if (steps_.takeCompareAsked()) pair_.open(session_);
    if (finder_.shown()) finder_.draw(allCommands(theme), theme);
    const bool asked = files_.shown();
    if (const auto file = files_.draw(theme)) {
        if (files_.purpose() == FilePanel::Purpose::Save) {
            write(*file);
        } else {
            load(*file);
        }
    } else if (asked && !files_.shown()) {
        intent_ = Intent::None;
    }
}

void Bench::unsavedQuestion(const Theme& theme) {
    if (!beginQuestion("###unsaved", theme,
                       "\u201C" + session_.design().title + "\u201D has changes that are in no file.")) {
        return;
    }
    const auto leaveQuestion = [this] {
        asksAboutChanges_ = false;
        ImGui::CloseCurrentPopup();
    };
    if (ImGui::Button("Save them")) {
        leaveQuestion();
        save();
    }
    ImGui::SetItemDefaultFocus();
    ImGui::SameLine();
    if (ImGui::Button("Let them go")) {
        leaveQuestion();
        leaveOrAsk();
    }
    ImGui::SameLine();
    if (ImGui::Button("Go on working") || pressed(Key::Escape)) {
        leaveQuestion();
        intent_ = Intent::None;
    }
    ImGui::EndPopup();
}

/// Those of the workshop, when the person leaves.
void Bench::workshopQuestion(const Theme& theme) {
    if (!beginQuestion("###workshop", theme, "The workshop has changes that are in no file.")) return;
    const bool saves = ImGui::Button("Save them");
    ImGui::SetItemDefaultFocus();
    ImGui::SameLine();
    const bool letsGo = ImGui::Button("Let them go");
    ImGui::SameLine();
    const bool goesOn = ImGui::Button("Go on working") || pressed(Key::Escape);
    if (saves || letsGo || goesOn) {
        asksAboutWorkshop_ = false;
        ImGui::CloseCurrentPopup();
        if (letsGo) shop_.letGo();
        if (letsGo || (saves && shop_.save()))
            carryOut();
        else
            intent_ = Intent::None;
    }
    ImGui::EndPopup();
}

/// This session takes over the place where the work is stored, so that there is always a copy of it.
void Bench::takeUp(Recovery& recovery) {
    session_.recover(recovery.text, recovery.file, recovery.steps);
    keptIn_ = std::move(recovery.place);
    keptRevision_ = session_.revision();
}

void Bench::recoveryQuestion(const Theme& theme) {
    if (!beginQuestion("###recovery", theme, "Bandwright ended before these changes were saved.")) return;
    Recovery& recovery = recoveries_.back();
    ImGui::TextWrapped(
        "%s", recovery.file.empty() ? "A design that has no file yet" : recovery.file.string().c_str());
    if (!refusal_.empty()) {
        ImGui::TextWrapped("They cannot be taken up now: %s", refusal_.c_str());
        ImGui::TextWrapped("They are kept in %s.", recovery.place.stored.string().c_str());
    }
    ImGui::Dummy({0, theme.px(4)});
    const bool takesUp = ImGui::Button("Take them up again");
    ImGui::SetItemDefaultFocus();
    ImGui::SameLine();
    const bool keeps = ImGui::Button("Keep them for later") || pressed(Key::Escape);
    ImGui::SameLine();
    const bool letsGo = ImGui::Button("Let them go");
    bool answered = keeps || letsGo;
    if (takesUp) {
        try {
            takeUp(recovery);
            answered = true;
        } catch (const base::InputError& error) {
            refusal_ = error.what();
        }
    }
    if (answered) {
        if (letsGo) dropRecovery(std::move(recovery.place));
        recoveries_.pop_back();
        // One window works on one design; other unsaved work waits for another window.
        if (takesUp) recoveries_.clear();
        refusal_.clear();
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

void Bench::outsideQuestion(const Theme& theme) {
    if (!beginQuestion("###outside", theme,
                       "This design takes the model of a stone from outside its folder."))
        return;
    ImGui::TextWrapped("%s", wantedFile_.string().c_str());
    ImGui::TextWrapped("asks for %s", outsideModel_.string().c_str());
    ImGui::TextWrapped("If the design is not your own, be sure that you want it to read that file.");
    ImGui::Dummy({0, theme.px(4)});
    const bool leaves = ImGui::Button("Leave it closed") || pressed(Key::Escape);
    ImGui::SetItemDefaultFocus();
    ImGui::SameLine();
    const bool reads = ImGui::Button("Read it");
    if (leaves || reads) {
        outsideModel_.clear();
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
    if (reads) load(wantedFile_, formats::Outside::Allowed);
}

void Bench::keysSheet(const Theme& theme) {
    static constexpr std::array<std::array<const char*, 2>, 40> kKeys = {{
        {"Ctrl+1 .. Ctrl+4", "to the job card, stand, section, gauges"},
        {"Ctrl+5", "the work of the step shown, and away"},
        {"Ctrl+F", "find a command or a number by its name"},
        {"Ctrl+B", "one operation at a time, in large letters"},
        {"Ctrl+P", "the papers, to look at and to write as PDF"},
        {"Ctrl+E", "hand over: model, pictures, weights as files"},
        {"Ctrl+M", "two rings, or two moments of this one, compared"},
        {"Ctrl+W", "your workshop: tools, stock, prices"},
        {"Tab, Shift+Tab", "next number, previous number"},
        {"Arrow keys", "from row to row"},
        {"Enter or Space", "type, choose, press"},
        {"Up, Down in a number", "one step; with Shift a tenth"},
        {"Drag the thimble", "the same by mouse; with Shift a tenth"},
        {"3/8 in, 8/2 + 0.5", "numbers take units and arithmetic"},
        {"Ctrl+L", "lock what the client asked for; no remedy changes it"},
        {"Esc", "leave the number as it was; deselect a gauge"},
        {"On the stand", ""},
        {"Arrow keys, or drag", "turn the ring"},
        {"Page Up, Page Down, or wheel", "closer, farther"},
        {"Right button or Shift, and drag", "shift the picture"},
        {"1 .. 4, Home", "corner, bore, outside, from above; back to the start"},
        {"Comma, full stop", "previous step of the route, next step"},
        {"W, C, A, F, L", "wall map, cut away, parts apart, on a finger, lights out"},
        {"On the section", ""},
        {"+ -, Page Up, Page Down, or wheel", "closer, farther; drag moves it"},
        {"G, Home", "close to what the chosen gauge measures; the whole"},
        {"Click a number", "type another; Enter makes the change, Esc leaves it"},
        {"On the papers", ""},
        {"1 .. 8, S, M", "which paper, which sheet, with the price"},
        {"Page Up, Page Down, F, W, + -", "turn pages; whole page, width, larger, smaller"},
        {"On two rings", ""},
        {"1, 2", "choose the left ring, the right ring"},
        {"S, Space, F", "side by side; in one place, and the other; flicker"},
        {"The design", ""},
        {"Ctrl+Z, Ctrl+Shift+Z, Ctrl+H", "undo, redo, the list of steps"},
        {"Ctrl+N, Ctrl+O, Ctrl+S", "new, open, save; Ctrl+Shift+S save as"},
        {"Ctrl+Q", "leave"},
        {"The window", ""},
        {"Ctrl+D", "dark colours, light colours"},
        {"Ctrl+plus, Ctrl+minus, Ctrl+0", "larger, smaller, as the screen says"},
    }};
    if (!beginQuestion("###keys", theme, "Keys")) return;
    for (const auto& [keys, meaning] : kKeys) {
        if (*meaning == '\0') {
            ImGui::Dummy({0, theme.px(2)});
            ImGui::PushFont(theme.strong);
            ImGui::TextUnformatted(keys);
            ImGui::PopFont();
            continue;
        }
        ImGui::TextUnformatted(keys);
        ImGui::SameLine(theme.px(232));
        ImGui::PushTextWrapPos(0);
        ImGui::TextDisabled("%s", meaning);
        ImGui::PopTextWrapPos();
    }
    ImGui::Dummy({0, theme.px(4)});
    const bool leave = ImGui::Button("Back to work") || pressed(Key::Escape) ||
                       (pressed(Key::F1) && !ImGui::IsWindowAppearing());
    ImGui::SetItemDefaultFocus();
    if (leave) {
        showsKeys_ = false;
        ImGui::CloseCurrentPopup();
    }
    ImGui::EndPopup();
}

}  // namespace bandwright::app
