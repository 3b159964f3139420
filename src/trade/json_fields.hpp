#pragma once

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "trade/catalogue.hpp"

/// Reading the trade's JSON files field by field, with one sentence for what is wrong. Private to the room.
namespace bandwright::trade {

using nlohmann::json;

struct JsonRange {
    double least = 0;
    double most = 0;
    std::string_view unit;
};

constexpr JsonRange kShare{0, 1, ""};

/// Where in which file a JSON value stands, for messages; written as $.metals[2].density.
struct JsonPlace {
    const std::string& file;
    std::string path;

    [[noreturn]] void refuse(const std::string& found, const std::string& allowed) const {
        throw base::InputError(file + ", " + path + ": found " + found + "; allowed is " + allowed);
    }
    JsonPlace member(const char* key) const { return {file, path + "." + key}; }
    JsonPlace element(std::size_t index) const { return {file, path + "[" + std::to_string(index) + "]"}; }
};

/// The value as it stands in the file, in quotes and short.
inline std::string shownJson(const json& value) {
    return base::inQuotes(value.dump(-1, ' ', false, json::error_handler_t::replace));
}

/// One JSON object that is being read; every key asked for is known, and `finish` refuses the others.
class JsonFields {
  public:
    /// With `complete`, a field that is missing is refused, else it keeps its value.
    JsonFields(const json& object, JsonPlace place, bool complete)
        : object_(object), place_(std::move(place)), complete_(complete) {
        if (!object.is_object()) place_.refuse(shownJson(object), "an object");
    }

    const json* optional(const char* key) {
        known_.push_back(key);
        const auto found = object_.find(key);
        return found == object_.end() ? nullptr : &*found;
    }

    const json* wanted(const char* key) {
        const json* value = optional(key);
        if (!value && complete_) place_.refuse("no \"" + std::string(key) + "\"", "an entry that has it");
        return value;
    }

    void text(const char* key, std::string& into) {
        if (const json* value = wanted(key)) into = textOf(*value, key);
    }

    void flag(const char* key, bool& into) {
        const json* value = optional(key);
        if (!value) return;
        if (!value->is_boolean()) place_.member(key).refuse(shownJson(*value), "true or false");
        into = value->get<bool>();
    }

    void number(const char* key, Sourced& into, const JsonRange& range) {
        const json* value = wanted(key);
        if (!value) return;
        const JsonPlace here = place_.member(key);
        if (value->is_number()) {
            into = {numberOf(*value, here, range), "the maker's file " + here.file};
            return;
        }
        if (!value->is_object()) here.refuse(shownJson(*value), "a number, or a value with its source");
        JsonFields sourced(*value, here, true);
        into.value = numberOf(*sourced.wanted("value"), here.member("value"), range);
        sourced.text("source", into.source);
        sourced.finish();
    }

    void colour(const char* key, LinearRgb& into) {
        if (const json* value = wanted(key)) into = colourOf(*value, place_.member(key));
    }

    void optionalColour(const char* key, LinearRgb& into) {
        if (const json* value = optional(key)) into = colourOf(*value, place_.member(key));
    }

    void optionalColour(const char* key, std::optional<LinearRgb>& into) {
        if (const json* value = optional(key)) into = colourOf(*value, place_.member(key));
    }

    /// A number that may be left out.
    void optionalNumber(const char* key, std::optional<Sourced>& into, const JsonRange& range) {
        if (object_.contains(key)) {
            number(key, into.emplace(), range);
        } else {
            known_.push_back(key);
        }
    }

    void cautions(std::vector<Caution>& into) {
        const json* list = optional("cautions");
        if (!list) return;
        const JsonPlace here = place_.member("cautions");
        if (!list->is_array()) here.refuse(shownJson(*list), "a list");
        into.clear();
        for (std::size_t i = 0; i < list->size(); ++i) {
            JsonFields fields((*list)[i], here.element(i), true);
            Caution& caution = into.emplace_back();
            fields.text("text", caution.text);
            fields.text("source", caution.source);
            fields.finish();
        }
    }

    void finish() const {
        for (const auto& item : object_.items()) {
            if (std::find(known_.begin(), known_.end(), item.key()) != known_.end()) continue;
            std::string names;
            for (const char* key : known_)
                names += (names.empty() ? "" : ", ") + std::string(key);
            place_.refuse("the unknown key " + base::inQuotes(item.key()), names);
        }
    }

    /// A number that has to be there.
    double plainNumber(const char* key, const JsonRange& range) {
        const json* value = optional(key);
        if (!value) place_.refuse("no \"" + std::string(key) + "\"", "an entry that has it");
        return numberOf(*value, place_.member(key), range);
    }

    std::string textOf(const json& value, const char* key) const {
        if (!value.is_string() || value.get_ref<const std::string&>().empty()) {
            place_.member(key).refuse(shownJson(value), "a text that is not empty");
        }
        return value.get<std::string>();
    }

    const JsonPlace& place() const { return place_; }

    static double numberOf(const json& value, const JsonPlace& place, const JsonRange& range) {
        const double number = value.is_number() ? value.get<double>() : range.least - 1;
        if (number >= range.least && number <= range.most) return number;
        place.refuse(shownJson(value), "a number from " + base::shortestNumber(range.least) + " to " +
                                           base::shortestNumber(range.most) + std::string(range.unit));
    }

  private:
    static LinearRgb colourOf(const json& value, const JsonPlace& place) {
        LinearRgb colour{};
        if (!value.is_array() || value.size() != colour.size()) {
            place.refuse(shownJson(value), "a list of three shares of red, green and blue light");
        }
        for (std::size_t i = 0; i < colour.size(); ++i)
            colour[i] = numberOf(value[i], place.element(i), kShare);
        return colour;
    }

    const json& object_;
    JsonPlace place_;
    bool complete_;
    std::vector<const char*> known_;
};

/// Calls read(entry, place) for each entry of a list that may be missing.
void forEachOf(JsonFields& document, const char* key, const auto& read) {
    const json* list = document.optional(key);
    if (list == nullptr) return;
    const JsonPlace place = document.place().member(key);
    if (!list->is_array()) place.refuse(shownJson(*list), "a list");
    for (std::size_t i = 0; i < list->size(); ++i)
        read((*list)[i], place.element(i));
}

Region regionOf(const json& value, const JsonPlace& place);

/// The text as JSON. A key given twice in one object is refused, since one of the two would be lost. Throws
/// InputError naming the file.
json parsedOnce(std::string_view text, const std::string& file);

}  // namespace bandwright::trade
