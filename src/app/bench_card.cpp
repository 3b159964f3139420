#include "app/bench_card.hpp"

#include <imgui.h>

#include <algorithm>
#include <charconv>
#include <chrono>
#include <string_view>

#include "app/keys.hpp"
#include "app/route_text.hpp"
#include "check/tolerance_stack.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "issue.hpp"
#include "route/shown.hpp"

namespace bandwright::app {

namespace {

using design::Measurable;
using route::Span;

constexpr std::size_t kMostTyped = 12;
constexpr float kBar = 76, kPad = 232;  ///< at scale 1

std::string dateToday() {
    const std::chrono::year_month_day day = today();
    const auto two = [](unsigned n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(static_cast<int>(day.year())) + "-" + two(static_cast<unsigned>(day.month())) +
           "-" + two(static_cast<unsigned>(day.day()));
}

/// Of a path such as "channels[2].depth" the number in brackets and what follows them.
std::optional<std::pair<std::size_t, std::string>> inList(const std::string& path, std::string_view list) {
    if (!path.starts_with(std::string(list) + "[")) return std::nullopt;
    const std::size_t open = list.size() + 1, close = path.find("].", open);
    if (close == std::string::npos) return std::nullopt;
    return std::pair{static_cast<std::size_t>(std::stoul(path.substr(open, close - open))),
                     path.substr(close + 2)};
}

std::optional<Measurable> ofBand(const route::Reading& reading) {
    if (reading.span == Span::Diameter && reading.field == check::kBore) return Measurable::Bore;
    if (reading.span == Span::Diameter && reading.field == "band.thickness") return Measurable::Outside;
    if (reading.span != Span::Along) return std::nullopt;
    if (reading.field == "band.width") return Measurable::Width;
    return std::nullopt;
}

std::optional<Measurable> ofChannel(const route::Reading& reading, const std::string& field) {
    if (reading.span == Span::Radial && field == "depth") return Measurable::ChannelDepth;
    if (reading.span == Span::Along && field == "width") return Measurable::ChannelWidth;
    return std::nullopt;
}

std::optional<Measurable> ofHole(const route::Reading& reading, const std::string& field,
                                 const design::Setting& setting) {
    if (reading.span == Span::HoleDiameter && field == "hole.pilot-diameter")
        return Measurable::PilotDiameter;
    const std::string seat = "hole.steps[" + std::to_string(setting.hole.steps.size() - 1) + "].";
    if (setting.hole.steps.empty() || !field.starts_with(seat)) return std::nullopt;
    if (reading.span == Span::HoleDiameter && field == seat + "diameter") return Measurable::SeatDiameter;
    return std::nullopt;
}

}  // namespace

std::optional<design::Measured> measuredBy(const route::Reading& reading, design::Stage stage,
                                           const design::Design& design) {
    if (reading.span == Span::Mass) {
        // The scales come last: after whatever step the route ends with.
        design::Measured weighed;
        weighed.stage = design.route[design::kRouteLength - 1];
        weighed.what = Measurable::Mass;
        weighed.instrument = route::name(reading.instrument);
        return weighed;
    }
    // What else is read on the finished ring belongs to no step of the route.
    if (std::ranges::find(design.route, stage) == design.route.end()) return std::nullopt;
    design::Measured measured;
    measured.stage = stage;
    measured.instrument = route::name(reading.instrument);
    std::optional<Measurable> what = ofBand(reading);
    if (const auto channel = inList(reading.field, "channels")) {
        what = ofChannel(reading, channel->second);
        measured.number = static_cast<int>(channel->first) + 1;
    } else if (const auto hole = inList(reading.field, "settings")) {
        if (hole->first < design.settings.size())
            what = ofHole(reading, hole->second, design.settings[hole->first]);
        measured.number = static_cast<int>(hole->first) + 1;
    }
    if (!what) return std::nullopt;
    measured.what = *what;
    return measured;
}

std::vector<BenchCard::Item> BenchCard::itemsOf(const Session& session, const route::Plan& plan) {
    std::vector<Item> items;
    for (const route::StageWork& work : plan.stages) {
        const bool isDone = design::isDone(session.design(), work.stage);
        for (const route::Operation& operation : work.operations) {
            const bool isTicked = design::isTicked(session.design(), work.stage, operation.name);
            items.push_back({&operation, isDone || isTicked});
        }
    }
    return items;
}

void BenchCard::begin(const Session& session, const std::vector<Item>& items) {
    place_ = true;
    const auto shown = std::ranges::find_if(items, [&](const Item& item) {
        return session.stage() != design::Stage::Finished && item.operation->stage == session.stage();
    });
    const auto undone = std::ranges::find_if(items, [](const Item& item) { return !item.isDone; });
    const auto first = shown != items.end() ? shown : undone != items.end() ? undone : items.begin();
    position_ = static_cast<std::size_t>(first - items.begin());
    step(0, items.size());
}

void BenchCard::step(int by, std::size_t count) {
    if (by < 0 && position_ > 0) --position_;
    if (by > 0 && position_ + 1 < count) ++position_;
    reading_ = 0;
    typed_.clear();
    refusal_.clear();
}

void BenchCard::type(char c) {
    refusal_.clear();
    if (c == '\b') {
        if (!typed_.empty()) typed_.pop_back();
    } else if (typed_.size() < kMostTyped && (c != '.' || typed_.find('.') == std::string::npos)) {
        typed_ += c;
    }
}

BenchCard::Asked BenchCard::keys(std::size_t count, bool& ticks, bool& keeps) {
    if (ImGui::IsPopupOpen("", ImGuiPopupFlags_AnyPopupId | ImGuiPopupFlags_AnyPopupLevel))
        return Asked::Nothing;
    if (ImGui::GetIO().KeyCtrl) {
        if (pressedWithCtrl(Key::Z)) return ImGui::GetIO().KeyShift ? Asked::Redo : Asked::Undo;
        if (pressedWithCtrl(Key::Y)) return Asked::Redo;
        return pressedWithCtrl(Key::S) ? Asked::Save : Asked::Nothing;
    }
    if (pressed(Key::Escape)) shown_ = false;
    if (pressed(Key::Left) || pressed(Key::PageUp)) step(-1, count);
    if (pressed(Key::Right) || pressed(Key::PageDown)) step(1, count);
    if (pressed(Key::Space)) ticks = true;
    if (pressed(Key::Enter) || pressed(Key::KeypadEnter)) keeps = true;
    if (pressed(Key::Backspace, true)) type('\b');
    for (const ImWchar c : ImGui::GetIO().InputQueueCharacters) {
        if (c >= '0' && c <= '9') type(static_cast<char>(c));
        if (c == '.' || c == ',') type('.');
    }
    return Asked::Nothing;
}

/// Where the work is, and what belongs to the whole of it.
BenchCard::Asked BenchCard::head(const Session& session, const std::string& words, float room) {
    const float wide = theme_->px(96), tall = theme_->px(40), apart = theme_->px(6);
    const float keys = 3 * wide + 2 * apart;
    const ImVec2 top = ImGui::GetCursorScreenPos();
    paragraph(*theme_->large, room - keys - apart, words, palette::kGraphite);
    const float under = ImGui::GetCursorScreenPos().y;
    ImGui::SetCursorScreenPos({top.x + room - keys, top.y});
    Asked asked = Asked::Nothing;
    ImGui::BeginDisabled(!session.canUndo());
    if (key("undo", "Undo", {wide, tall})) asked = Asked::Undo;
    ImGui::EndDisabled();
    ImGui::SameLine(0, apart);
    ImGui::BeginDisabled(!session.unsaved());
    if (key("save", "Save", {wide, tall})) asked = Asked::Save;
    ImGui::EndDisabled();
    ImGui::SameLine(0, apart);
    if (key("leave", "Leave", {wide, tall})) shown_ = false;
    const ImVec2 end = ImGui::GetCursorScreenPos();
    ImGui::SetCursorScreenPos({end.x, std::max(end.y, under)});
    return asked;
}

bool BenchCard::key(const std::string& name, const char* text, ImVec2 size, bool isStrong) {
    ImGui::PushFont(theme_->large);
    ImGui::PushStyleColor(ImGuiCol_Text, isStrong ? palette::kPaper : palette::kInk);
    if (isStrong)
        for (const ImGuiCol ground : {ImGuiCol_Button, ImGuiCol_ButtonHovered, ImGuiCol_ButtonActive})
            ImGui::PushStyleColor(ground, palette::kPetrol);
    ImGui::PushID(name.c_str());
    ImGui::PushStyleVar(ImGuiStyleVar_FramePadding, ImVec2(0, 0));
    const bool isPressed = ImGui::Button(text, size);
    ImGui::PopStyleVar();
    ImGui::PopID();
    ImGui::PopStyleColor(isStrong ? 4 : 1);
    ImGui::PopFont();
    const ImVec2 least = ImGui::GetItemRectMin(), most = ImGui::GetItemRectMax();
    places_[name] = {least.x, least.y, most.x, most.y};
    return isPressed;
}

void BenchCard::told(const Item& item, const Session& session, float width) {
    const route::Operation& operation = *item.operation;
    paragraph(*theme_->big, width, operation.name);
    if (design::isDone(session.design(), operation.stage))
        paragraph(*theme_->large, width, route::doneText(session.design(), operation.stage),
                  palette::kPetrol);
    const auto lines = [&](const std::vector<Told>& all) {
        for (const Told& line : all) {
            if (!line.label.empty()) {
                ImGui::Dummy({0, theme_->px(4)});
                paragraph(*theme_->body, width, line.label, palette::kGraphite);
            }
            paragraph(*theme_->large, width, line.text);
        }
    };
    // Cautions first: what is under the last line in sight may never be read.
    lines(toldAfterReading(operation));
    lines(toldBeforeReading(operation));
    for (std::size_t i = 0; i < operation.readings.size(); ++i) {
        const route::Reading& reading = operation.readings[i];
        ImGui::Dummy({0, theme_->px(4)});
        paragraph(*theme_->body, width, reading.what + ", " + route::name(reading.instrument),
                  palette::kGraphite);
        paragraph(*theme_->big, width, inOneLine(route::shown(reading)), palette::kPetrol);
    }
}

void BenchCard::pad(const Item& item, const Session& session, float width, bool& keeps) {
    const std::vector<route::Reading>& readings = item.operation->readings;
    std::vector<std::size_t> kept;
    for (std::size_t i = 0; i < readings.size(); ++i)
        if (measuredBy(readings[i], item.operation->stage, session.design())) kept.push_back(i);
    if (std::ranges::find(kept, reading_) == kept.end()) reading_ = kept.front();
    const float apart = theme_->px(6);
    ImGui::PushFont(theme_->body);
    if (kept.size() > 1) {
        if (key("which", "Which reading", {width, theme_->px(34)})) {
            const auto here = std::ranges::find(kept, reading_);
            reading_ = here + 1 == kept.end() ? kept.front() : *(here + 1);
            typed_.clear();
            refusal_.clear();
        }
    }
    ImGui::PopFont();
    paragraph(*theme_->strong, width, readings[reading_].what);
    paragraph(*theme_->big, width,
              (typed_.empty() ? "..." : typed_) + " " + route::shown(readings[reading_]).unit,
              typed_.empty() ? palette::kGraphite : palette::kInk);
    if (!refusal_.empty()) paragraph(*theme_->body, width, refusal_, palette::kProblem);
    static constexpr std::string_view kKeys = "789456123.0\b";
    const float wide = (width - 2 * apart) / 3;
    // Four rows of digits and "Keep" in what is left.
    const float row = ImGui::GetContentRegionAvail().y / 5 - ImGui::GetStyle().ItemSpacing.y;
    const float tall = std::clamp(row, theme_->px(18), theme_->px(64));
    for (std::size_t i = 0; i < kKeys.size(); ++i) {
        if (i % 3 != 0) ImGui::SameLine(0, apart);
        const std::string name(1, kKeys[i]);
        const bool isBack = kKeys[i] == '\b';
        if (key(isBack ? "back" : name, isBack ? "<" : name.c_str(), {wide, tall})) type(kKeys[i]);
    }
    if (key("keep", "Keep reading", {width, tall}, true)) keeps = true;
}

void BenchCard::keep(Session& session, const Item& item) {
    const std::vector<route::Reading>& readings = item.operation->readings;
    if (reading_ >= readings.size() || typed_.empty()) return;
    std::optional<design::Measured> measured =
        measuredBy(readings[reading_], item.operation->stage, session.design());
    if (!measured) return;
    const auto read = std::from_chars(typed_.data(), typed_.data() + typed_.size(), measured->value);
    if (read.ec != std::errc() || read.ptr != typed_.data() + typed_.size() || measured->value <= 0) {
        refusal_ = typed_ + " is no reading; allowed: " + route::shown(readings[reading_]).unit +
                   " over 0, such as 8.05.";
        return;
    }
    measured->date = dateToday();
    design::Design next = session.design();
    std::erase_if(next.measured, [&](const design::Measured& other) {
        return other.stage == measured->stage && other.what == measured->what &&
               other.number == measured->number;
    });
    const std::string path = "measured[" + std::to_string(next.measured.size()) + "].value";
    next.measured.push_back(*measured);
    if (auto sentence = session.change(std::move(next))) {
        refusal_ = *sentence;
        if (refusal_.starts_with(path)) refusal_ = "The reading" + refusal_.substr(path.size());
        return;
    }
    typed_.clear();
    refusal_.clear();
}

BenchCard::Asked BenchCard::draw(Session& session, const Planner& planner, const Theme& theme) {
    theme_ = &theme;
    places_.clear();
    const ImVec2 screen = ImGui::GetIO().DisplaySize;
    ImGui::SetNextWindowPos({0, 0});
    ImGui::SetNextWindowSize(screen);
    ImGui::Begin("At the bench", nullptr,
                 ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoMove | ImGuiWindowFlags_NoSavedSettings |
                     ImGuiWindowFlags_NoNavInputs | ImGuiWindowFlags_NoBringToFrontOnFocus);
    const route::Plan* plan = planner.plan();
    const bool isCurrent = plan != nullptr && planner.planned() == session.design();
    const std::vector<Item> items = plan != nullptr ? itemsOf(session, *plan) : std::vector<Item>();
    bool ticks = false, keeps = false;
    if (!place_ && !items.empty()) begin(session, items);
    position_ = std::min(position_, std::max<std::size_t>(items.size(), 1) - 1);
    Asked asked = keys(items.size(), ticks, keeps);
    const float room = ImGui::GetContentRegionAvail().x, apart = theme.px(8);
    if (items.empty()) {
        paragraph(*theme.large, room, planner.problem().empty() ? "Being planned..." : planner.problem());
        if (key("leave", "Leave", {theme.px(140), theme.px(48)})) shown_ = false;
        ImGui::End();
        return asked;
    }
    const Item& item = items[position_];
    const Asked pressedAbove =
        head(session,
             std::to_string(position_ + 1) + " of " + std::to_string(items.size()) + ", " +
                 std::string(design::word(item.operation->stage).label) + (item.isDone ? ", done" : ""),
             room);
    if (pressedAbove != Asked::Nothing) asked = pressedAbove;
    const float bar = std::min(theme.px(kBar), screen.y * 0.16F);
    const float height = ImGui::GetContentRegionAvail().y - bar - apart;
    const bool hasPad = std::ranges::any_of(item.operation->readings, [&](const route::Reading& reading) {
        return measuredBy(reading, item.operation->stage, session.design()).has_value();
    });
    const float padWidth = hasPad ? std::min(theme.px(kPad), room * 0.45F) : 0;
    ImGui::BeginChild("told", {room - padWidth - (hasPad ? apart : 0), height});
    told(item, session, ImGui::GetContentRegionAvail().x - theme.px(6));
    ImGui::EndChild();
    if (hasPad) {
        ImGui::SameLine(0, apart);
        ImGui::BeginChild("pad", {padWidth, height});
        pad(item, session, ImGui::GetContentRegionAvail().x, keeps);
        ImGui::EndChild();
    }
    const float wide = (room - 2 * apart) / 3;
    int by = 0;
    if (key("previous", "Previous", {wide, bar})) by = -1;
    ImGui::SameLine(0, apart);
    // A step that is read is done: no tick undoes that, only taking the reading away.
    const bool isRead = design::isDone(session.design(), item.operation->stage);
    ImGui::BeginDisabled(isRead);
    if (key("done", item.isDone && !isRead ? "Not done" : "Done", {wide, bar}, !item.isDone)) ticks = true;
    ImGui::EndDisabled();
    ImGui::SameLine(0, apart);
    if (key("next", "Next", {wide, bar})) by = 1;
    ImGui::End();
    if (ticks && !isRead) {
        if (auto sentence = session.change(design::withTick(session.design(), item.operation->stage,
                                                            item.operation->name, !item.isDone, dateToday())))
            refusal_ = *sentence;
        if (!item.isDone) by = 1;
    }
    if (keeps && isCurrent) keep(session, item);
    if (by != 0) step(by, items.size());
    return asked;
}

}  // namespace bandwright::app
