#include "field_rules.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::design {

namespace {

std::string withUnit(double value, Unit unit) {
    const std::string_view name = names(unit).inFile;
    return base::shortestNumber(value) + (name.empty() ? "" : " ") + std::string(name);
}

bool isUtf8(const std::string& text) {
    if (std::ranges::all_of(text, [](char c) { return static_cast<unsigned char>(c) < 0x80; })) return true;
    try {
        return !nlohmann::json(text).dump().empty();
    } catch (const nlohmann::json::type_error&) {
        return false;
    }
}

bool hasControlCharacter(const std::string& text, bool linesAllowed) {
    for (const char c : text) {
        const bool control = static_cast<unsigned char>(c) < 0x20 || c == 0x7F;
        if (control && !(linesAllowed && (c == '\n' || c == '\t'))) return true;
    }
    return false;
}

/// Marks that turn the direction of what follows, ends of line of Unicode's own, and the control characters
/// above ASCII, of some of which terminals make commands: U+0080-009F, 200E, 200F, 2028-202E, 2066-2069.
bool hasHiddenMark(std::string_view text) {
    for (std::size_t i = 0; i + 1 < text.size(); ++i) {
        const auto byte = [&](std::size_t k) {
            return i + k < text.size() ? static_cast<unsigned char>(text[i + k]) : 0;
        };
        if (byte(0) == 0xC2 && byte(1) < 0xA0) return true;
        if (byte(0) != 0xE2) continue;
        if (byte(1) == 0x80 && (byte(2) == 0x8E || byte(2) == 0x8F || (byte(2) >= 0xA8 && byte(2) <= 0xAE)))
            return true;
        if (byte(1) == 0x81 && byte(2) >= 0xA6 && byte(2) <= 0xA9) return true;
    }
    return false;
}

}  // namespace

std::string allowed(const NumberField& field) {
    return base::shortestNumber(field.least) + " to " + withUnit(field.most, field.unit);
}

std::string allowed(const CountField& field) {
    return "a whole number from " + std::to_string(field.least) + " to " + std::to_string(field.most);
}

std::string allowed(const TextField& field) {
    return "text in UTF-8 of at most " + std::to_string(field.most) + " bytes, " +
           (field.lines ? "on any number of lines" : "on one line");
}

std::string allowed(MaterialField field) {
    const std::string bytes = " of 1 to " + std::to_string(kLongestId) + " bytes";
    switch (field) {
        case MaterialField::Metal:
            return "the id of a metal" + bytes;
        case MaterialField::Gem:
            return "the id of a gem" + bytes;
        case MaterialField::Filler:
            return "the id of a filler" + bytes;
        case MaterialField::Adhesive:
            return "the id of an adhesive" + bytes;
    }
    return {};
}

std::string allowed(const SizeField& field) {
    return "a finger size such as 'US 9.5' with an inner diameter of " + allowed(mm(field.least, field.most));
}

std::string allowed(GroupField /*field*/) {
    return "an object";
}

std::string allowed(RouteField /*field*/) {
    return "a list of the steps of the work, each once: " + allowed(kRouteSteps);
}

std::string allowed(PathField /*field*/) {
    return "the path of a field of this design, such as 'band.width'";
}

std::optional<std::string> fault(double value, const NumberField& field) {
    if (value >= field.least && value <= field.most) return {};
    return std::isfinite(value) ? withUnit(value, field.unit) : "no finite number";
}

std::optional<std::string> fault(int value, const CountField& field) {
    if (value >= field.least && value <= field.most) return {};
    return std::to_string(value);
}

std::optional<std::string> fault(const std::string& value, const TextField& field) {
    if (value.size() > field.most) return "text of " + std::to_string(value.size()) + " bytes";
    if (!isUtf8(value)) return "text that is not UTF-8";
    if (hasControlCharacter(value, field.lines)) return "text with a control character";
    if (!field.lines && hasHiddenMark(value))
        return "text with a mark that hides, such as one that turns the line round";
    return {};
}

std::optional<std::string> fault(const std::string& value, MaterialField /*field*/) {
    if (value.empty()) return "empty";
    return fault(value, TextField{kLongestId, false});
}

std::optional<std::string> fault(const std::string& value, PathField /*field*/) {
    constexpr std::size_t kLongestPath = 200;
    return fault(value, TextField{kLongestPath, false});
}

std::optional<std::string> fault(const trade::RingSize& value, const SizeField& field) {
    const double diameter = trade::innerDiameter(value);
    const std::optional<std::string> found = fault(diameter, mm(field.least, field.most));
    if (found) return "a size with an inner diameter of " + *found;
    // A size between the steps that its system can write would come back as another one.
    constexpr double kSameDiameter = 1e-6;  // mm
    const std::string text = trade::formatRingSize(value);
    try {
        const trade::RingSize again = trade::parseRingSize(text);
        const bool same =
            again.system == value.system && std::abs(trade::innerDiameter(again) - diameter) <= kSameDiameter;
        if (same) return {};
    } catch (const base::InputError&) {
        return "a size that cannot be written (" + text + ")";
    }
    return "a size between those that can be written (near " + text + ")";
}

}  // namespace bandwright::design
