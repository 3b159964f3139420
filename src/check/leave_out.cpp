#include "leave_out.hpp"

#include <algorithm>
#include <optional>
#include <utility>
#include <variant>

#include "design/field_table.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

std::string pathOf(std::string_view list, std::size_t number) {
    return std::string(list) + "[" + std::to_string(number) + "]";
}

/// Calls use(items, number) with the list and the place of a whole channel or setting.
template <class Use>
void withList(design::Design& design, const std::string& part, Use use) {
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        if (part == pathOf("channels", i)) return use(design.channels, i);
    for (std::size_t i = 0; i < design.settings.size(); ++i)
        if (part == pathOf("settings", i)) return use(design.settings, i);
}

void addSetting(std::vector<std::string>& parts, const design::Design& design, std::size_t number) {
    const std::string path = pathOf("settings", number);
    if (design.settings[number].stone) parts.push_back(path + ".stone");
    if (design.settings[number].tube) parts.push_back(path + ".tube");
    parts.push_back(path);
}

void addChannel(std::vector<std::string>& parts, const design::Design& design, std::size_t number) {
    const std::string path = pathOf("channels", number);
    if (design.channels[number].fill) parts.push_back(path + ".fill");
    parts.push_back(path);
}

}  // namespace

std::vector<std::string> partsToLeaveOut(const design::Design& design, const Measure& measure) {
    const auto touches = [&](auto of, std::size_t number) {
        return of(measure.fromTag) == number || of(measure.toTag) == number;
    };
    std::vector<std::string> parts;
    for (const bool touched : {true, false}) {
        for (std::size_t i = 0; i < design.settings.size(); ++i)
            if (touches(geometry::settingOf, i) == touched) addSetting(parts, design, i);
        for (std::size_t i = 0; i < design.channels.size(); ++i)
            if (touches(geometry::channelOf, i) == touched) addChannel(parts, design, i);
    }
    if (design.band.liner) parts.emplace_back("band.liner");
    return parts;
}

design::Design without(const design::Design& design, const std::string& part) {
    design::Design result = design;
    if (!part.ends_with(']')) {
        const auto value = design::valueAt(result, part);
        if (const auto* there = std::get_if<design::PartSwitch>(&value)) there->put(false);
        return result;
    }
    withList(result, part, [](auto& items, std::size_t number) {
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(number));
    });
    return result;
}

design::Design withLast(const design::Design& design, const std::string& part) {
    design::Design result = design;
    withList(result, part, [](auto& items, std::size_t number) {
        std::rotate(items.begin() + static_cast<std::ptrdiff_t>(number),
                    items.begin() + static_cast<std::ptrdiff_t>(number) + 1, items.end());
    });
    return result;
}

std::string idWithLast(const std::string& id, const std::string& part, const design::Design& design) {
    std::string result = id;
    design::Design copy = design;
    withList(copy, part, [&](const auto& items, std::size_t moved) {
        const std::size_t at = id.find('@');
        const std::size_t number = at == std::string::npos ? 0 : std::stoul(id.substr(at + 1)) - 1;
        if (number < moved) return;
        result = numbered(id.substr(0, at), number == moved ? items.size() - 1 : number - 1);
    });
    return result;
}

std::string leaveOutText(const design::Design& design, const std::string& part) {
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        const std::string path = pathOf("channels", i);
        if (part == path) return "Leave out " + channelName(design, i);
        if (part.starts_with(path)) return "Leave out the fill of " + channelName(design, i);
    }
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const std::string path = pathOf("settings", i), of = ofSetting(design, i);
        if (part == path) return "Leave out " + (of.empty() ? "the setting" : of.substr(of.find("setting")));
        if (part.starts_with(path))
            return "Leave out " + std::string(part.ends_with(".tube") ? "the tube" : "the stone") + of;
    }
    return "Leave out the liner";
}

}  // namespace bandwright::check
