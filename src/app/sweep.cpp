#include "sweep.hpp"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <string_view>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr std::size_t kMostValues = 10'000, kMostVariants = 100'000;

std::vector<std::string> split(const std::string& text, char mark) {
    std::vector<std::string> parts{""};
    for (const char c : text) {
        if (c == mark) {
            parts.emplace_back();
        } else {
            parts.back() += c;
        }
    }
    return parts;
}

std::optional<double> numberOf(const std::string& text) {
    const Json value = Json::parse(text, nullptr, false);
    if (!value.is_number()) return std::nullopt;
    return value.get<double>();
}

[[noreturn]] void refuse(const std::string& typed) {
    throw base::InputError(
        "--vary: found " + base::inQuotes(typed) +
        "; allowed is a field with a range, such as band.width=4:8:0.5, or with values, such as "
        "band.metal=titanium-grade-2,tantalum.");
}

std::vector<std::string> range(double from, double to, double step, const std::string& typed) {
    const double count = std::floor((to - from) / step * (1 + 1e-12) + 1e-9);
    if (!(count >= 0)) refuse(typed);
    if (count >= static_cast<double>(kMostValues))
        throw base::InputError("--vary: " + base::inQuotes(typed) + " has more than " +
                               std::to_string(kMostValues) + " values.");
    constexpr int kDecimals = 9;
    std::vector<std::string> values;
    for (int i = 0; i <= static_cast<int>(count); ++i)
        values.push_back(base::shortestNumber(base::roundedTo(from + i * step, kDecimals)));
    return values;
}

/// "channels[0].depth" as RFC 6901 has it: "/channels/0/depth".
Json::json_pointer pointerTo(const std::string& path) {
    std::string text = "/";
    for (const char c : path) {
        if (c == ']') continue;
        text += c == '.' || c == '[' ? '/' : c;
    }
    return Json::json_pointer(text);
}

[[noreturn]] void refuseField(const design::Design& design, const std::string& field) {
    std::vector<std::string> known;
    for (const design::Field& f : design::fieldsIn(design))
        known.push_back(f.path);
    constexpr std::size_t kMostSuggestions = 3;
    const std::vector<std::string_view> close =
        base::nearestNames(field, {known.begin(), known.end()}, kMostSuggestions);
    throw base::InputError("--vary: this design has no value at " + base::inQuotes(field) +
                           (close.empty() ? "." : "; the nearest is " + base::inWords(close, "or") + "."));
}

/// The value at a field in the design's file.
Json& valueIn(Json& json, const std::string& field, const design::Design& design) {
    const bool isPath = std::ranges::all_of(field, [](unsigned char c) {
        return std::isalnum(c) != 0 || c == '-' || c == '.' || c == '[' || c == ']';
    });
    if (!isPath || !json.contains(pointerTo(field))) refuseField(design, field);
    Json& there = json.at(pointerTo(field));
    if (there.is_structured()) refuseField(design, field);
    return there;
}

}  // namespace

Varied variedOf(const std::string& typed) {
    const std::size_t equals = typed.find('=');
    if (equals == 0 || equals == std::string::npos || equals + 1 == typed.size()) refuse(typed);
    Varied result{typed.substr(0, equals), {}};
    const std::string given = typed.substr(equals + 1);
    const std::vector<std::string> ends = split(given, ':');
    if (ends.size() == 3) {
        const auto from = numberOf(ends[0]), to = numberOf(ends[1]), step = numberOf(ends[2]);
        if (!from || !to || !step || *step == 0) refuse(typed);
        result.values = range(*from, *to, *step, typed);
    } else {
        result.values = split(given, ',');
        if (ends.size() > 1 || std::ranges::find(result.values, "") != result.values.end()) refuse(typed);
    }
    return result;
}

std::vector<Variant> combinations(const std::string& stem, const std::vector<Varied>& varied) {
    std::size_t count = 1;
    for (std::size_t i = 0; i < varied.size(); ++i) {
        for (std::size_t j = 0; j < i; ++j)
            if (varied[j].field == varied[i].field)
                throw base::InputError("--vary: " + base::inQuotes(varied[i].field) + " is named twice.");
        count *= varied[i].values.size();
        if (count > kMostVariants)
            throw base::InputError("--vary: these are more than " + std::to_string(kMostVariants) +
                                   " rings; vary fewer fields, or in larger steps.");
    }
    const std::size_t digits = std::to_string(count).size();
    std::vector<Variant> result;
    result.reserve(count);
    for (std::size_t n = 0; n < count; ++n) {
        std::string number = std::to_string(n + 1);
        number.insert(0, digits - number.size(), '0');
        Variant variant{stem, {}};
        variant.name.append("-").append(number);
        std::size_t rest = n;
        for (std::size_t i = varied.size(); i-- > 0; rest /= varied[i].values.size())
            variant.settings.emplace_back(varied[i].field, varied[i].values[rest % varied[i].values.size()]);
        std::ranges::reverse(variant.settings);
        result.push_back(std::move(variant));
    }
    return result;
}

void requireFields(const design::Design& design, const std::vector<Varied>& varied) {
    Json json = Json::parse(design::formatDesign(design));
    for (const Varied& v : varied)
        valueIn(json, v.field, design);
}

design::Design varied(const design::Design& design, const Variant& variant) {
    Json json = Json::parse(design::formatDesign(design));
    for (const auto& [field, typed] : variant.settings) {
        Json& there = valueIn(json, field, design);
        const auto number = numberOf(typed);
        if (there.is_number() && number) {
            // As typed: a count stays a whole number.
            there = Json::parse(typed);
        } else {
            there = typed;
        }
    }
    return design::parseDesign(json.dump(), variant.name);
}

std::string csvField(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string quoted = "\"";
    for (const char c : text)
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    return quoted + "\"";
}

}  // namespace bandwright::app
