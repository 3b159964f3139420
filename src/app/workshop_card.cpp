#include "app/workshop_card.hpp"

#include <imgui.h>
#include <imgui_stdlib.h>

#include <algorithm>
#include <cfloat>
#include <utility>

#include "app/keys.hpp"
#include "base/input_error.hpp"
#include "check/check.hpp"
#include "focus.hpp"
#include "platform/paths.hpp"
#include "route/plan.hpp"

namespace bandwright::app {

namespace {

constexpr float kShopLabels = 150, kShopBoxes = 560, kLeastHelp = 240;  ///< widths at scale 1
constexpr const char* kNewShop = "my-workshop.json";

std::string placeOf(const trade::WorkshopField& field, std::size_t entry) {
    const std::string key = field.key;
    return field.form == trade::WorkshopForm::Records ? key + "[" + std::to_string(entry) + "]" : key;
}

/// Names that no rule or step has are refused.
void requireKnown(const trade::Workshop& workshop, trade::Catalogue catalogue) {
    route::requireSteps(workshop);
    catalogue.limits.clear();
    check::requireLimits(trade::withWorkshop(catalogue, workshop));
}

}  // namespace

WorkshopCard::WorkshopCard(trade::Workshop workshop, std::filesystem::path file)
    : workshop_(std::move(workshop)),
      saved_(workshop_),
      file_(file.empty() ? std::move(file) : platform::absolutePath(file)),
      files_({".json", "Open a workshop", "Save the workshop as", "name of the file",
              "No workshops (NAME.json) in this folder."}) {}

std::string WorkshopCard::refusal(const std::string& place) const {
    if (place.empty()) return said_;
    const auto found = refused_.find(place);
    return found == refused_.end() ? std::string() : found->second.sentence;
}

void WorkshopCard::change(trade::Workshop next) {
    if (next == workshop_) return;
    past_.push_back(std::exchange(workshop_, std::move(next)));
    future_.clear();
    said_.clear();
}

void WorkshopCard::undo() {
    if (past_.empty()) return;
    future_.push_back(std::exchange(workshop_, std::move(past_.back())));
    past_.pop_back();
    refused_.clear();
}

void WorkshopCard::redo() {
    if (future_.empty()) return;
    past_.push_back(std::exchange(workshop_, std::move(future_.back())));
    future_.pop_back();
    refused_.clear();
}

std::string WorkshopCard::keepLimits(std::vector<trade::OwnLimit> limits) {
    const bool goesOn = !file_.empty() && !unsaved();
    trade::Workshop next = workshop_;
    next.limits = std::move(limits);
    change(std::move(next));
    if (!goesOn) return {};
    write(file_);
    return unsaved() ? said_ : std::string();
}

bool WorkshopCard::save() {
    if (file_.empty()) {
        shown_ = true;
        files_.ask(FilePanel::Purpose::Save, platform::absolutePath(kNewShop));
        return false;
    }
    write(file_);
    return !unsaved();
}

void WorkshopCard::write(const std::filesystem::path& file) {
    try {
        trade::saveWorkshop(workshop_, file);
        saved_ = workshop_;
        file_ = platform::absolutePath(file);
        said_ = file_.string() + " is written.";
    } catch (const base::InputError& error) {
        said_ = error.what();
    }
}

void WorkshopCard::read(const std::filesystem::path& file, const trade::Catalogue& catalogue) {
    try {
        trade::Workshop workshop = trade::readWorkshop(file, catalogue);
        requireKnown(workshop, catalogue);
        workshop_ = saved_ = std::move(workshop);
        file_ = platform::absolutePath(file);
        past_.clear();
        future_.clear();
        refused_.clear();
        said_.clear();
    } catch (const base::InputError& error) {
        said_ = error.what();
    }
}

void WorkshopCard::take(const trade::WorkshopField& field, std::size_t entry, const std::string& place,
                        const std::string& typed, const trade::Catalogue& catalogue) {
    try {
        trade::Workshop next = trade::withTyped(workshop_, field.key, entry, typed, catalogue);
        requireKnown(next, catalogue);
        // An entry taken away moves those behind it, and what was refused there.
        if (typedForms(next, field.key).size() < typedForms(workshop_, field.key).size()) refused_.clear();
        refused_.erase(place);
        change(std::move(next));
    } catch (const base::InputError& error) {
        refused_[place] = {typed, error.what()};
    }
}

bool WorkshopCard::key(const std::string& name, const char* text, bool isEnabled) {
    ImGui::BeginDisabled(!isEnabled);
    const bool isPressed = ImGui::Button((std::string(text) + "##" + name).c_str());
    ImGui::EndDisabled();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_[name] = {least.x, least.y, most.x, most.y};
    return isPressed;
}

void WorkshopCard::keys() {
    const ImGuiIO& io = ImGui::GetIO();
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel)) return;
    if (pressedWithCtrl(Key::S)) {
        stopTyping();
        savesNext_ = true;
        return;
    }
    if (std::exchange(savesNext_, false)) save();
    if (io.WantTextInput) return;
    if ((pressed(Key::Enter) || pressed(Key::KeypadEnter))) pressFocused();
    if (pressedWithCtrl(Key::Z)) io.KeyShift ? redo() : undo();
    if (pressedWithCtrl(Key::Y)) redo();
    if (pressed(Key::Escape)) shown_ = false;
}

void WorkshopCard::head(float width) {
    const Theme& theme = *theme_;
    paragraph(*theme.title, width, "Workshop");
    const std::string state = file_.empty() ? (unsaved() ? "in no file yet" : "nothing told yet")
                                            : file_.string() + (unsaved() ? ", changed" : "");
    paragraph(*theme.small, width, state, palette::kGraphite);
    if (key("save", "Save", unsaved() || file_.empty())) save();
    ImGui::SameLine();
    if (key("save-as", "Save as"))
        files_.ask(FilePanel::Purpose::Save, file_.empty() ? platform::absolutePath(kNewShop) : file_);
    ImGui::SameLine();
    if (key("open", "Open", !unsaved()))
        files_.ask(FilePanel::Purpose::Open, file_.empty() ? std::filesystem::path() : file_.parent_path());
    ImGui::SameLine();
    if (key("undo", "Undo", !past_.empty())) undo();
    ImGui::SameLine();
    if (key("redo", "Redo", !future_.empty())) redo();
    ImGui::SameLine();
    if (key("leave", "Back to the ring")) shown_ = false;
    if (!said_.empty()) paragraph(*theme.body, width, said_, palette::kPetrol);
}

void WorkshopCard::row(const trade::WorkshopField& field, std::size_t entry, const std::string& form,
                       const trade::Catalogue& catalogue, float width) {
    const Theme& theme = *theme_;
    const std::string place = placeOf(field, entry);
    const auto refused = refused_.find(place);
    const bool isEditing = editing_ == place;
    std::string text = isEditing ? buffer_ : refused != refused_.end() ? refused->second.typed : form;
    std::string hint;
    if (entry > 0)
        hint = "one more";
    else if (!field.needs.empty())
        hint = "not told: " + std::string(field.needs) + " needs it";
    ImGui::SetNextItemWidth(std::min(theme.px(kShopBoxes), width));
    ImGui::InputTextWithHint(("##" + place).c_str(), hint.c_str(), &text);
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_[place] = {least.x, least.y, most.x, most.y};
    if (ImGui::IsItemActive()) {
        editing_ = place;
        buffer_ = text;
    } else if (isEditing) {
        editing_.clear();
        if (text != form)
            take(field, entry, place, text, catalogue);
        else
            refused_.erase(place);
    }
    if (refused != refused_.end() && refused_.contains(place))
        paragraph(*theme.body, width, refusal(place), palette::kProblem);
}

void WorkshopCard::rows(const trade::Catalogue& catalogue, float width) {
    const Theme& theme = *theme_;
    static const std::vector<trade::WorkshopField> fields = trade::workshopFields();
    std::string_view group;
    for (const trade::WorkshopField& field : fields) {
        if (field.group != group) {
            group = field.group;
            ImGui::Dummy({0, theme.px(6)});
            paragraph(*theme.strong, width, group);
        }
        std::vector<std::string> forms = trade::typedForms(workshop_, field.key);
        if (forms.empty() || field.form == trade::WorkshopForm::Records) forms.emplace_back();
        const ImVec2 start = ImGui::GetCursorScreenPos();
        const float aside = std::min(theme.px(kShopLabels), std::floor(width * 0.3F));
        ImGui::PushFont(theme.body);
        ImGui::AlignTextToFramePadding();
        ImGui::TextUnformatted(std::string(field.label).c_str());
        ImGui::PopFont();
        ImGui::SetCursorScreenPos({start.x + aside, start.y});
        ImGui::BeginGroup();
        for (std::size_t i = 0; i < forms.size(); ++i)
            row(field, i, forms[i], catalogue, width - aside);
        const float beside = aside + theme.px(kShopBoxes + 12);
        const bool hasRoom = width - beside > theme.px(kLeastHelp);
        if (!hasRoom) paragraph(*theme.small, width - aside, field.help, palette::kGraphite);
        ImGui::EndGroup();
        if (hasRoom) {
            const ImVec2 end = ImGui::GetCursorScreenPos();
            ImGui::SetCursorScreenPos({start.x + beside, start.y + ImGui::GetStyle().FramePadding.y});
            paragraph(*theme.small, width - beside, field.help, palette::kGraphite);
            const float under = ImGui::GetCursorScreenPos().y;
            ImGui::SetCursorScreenPos({end.x, std::max(end.y, under)});
        }
    }
}

void WorkshopCard::draw(const trade::Catalogue& catalogue, const Theme& theme) {
    theme_ = &theme;
    places_.clear();
    keys();
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(ImGui::GetIO().DisplaySize);
    ImGui::Begin("Workshop", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoBringToFrontOnFocus);
    head(ImGui::GetContentRegionAvail().x);
    ImGui::BeginChild("rows", {0, 0}, false, ImGuiWindowFlags_NavFlattened);
    rows(catalogue, ImGui::GetContentRegionAvail().x - theme.px(8));
    ImGui::EndChild();
    ImGui::End();
    if (const auto file = files_.draw(theme)) {
        if (files_.purpose() == FilePanel::Purpose::Save)
            write(*file);
        else
            read(*file, catalogue);
    }
}

}  // namespace bandwright::app
