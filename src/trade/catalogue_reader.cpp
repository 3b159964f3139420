#include "catalogue_reader.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "plain_text.hpp"
#include "trade/input_error.hpp"
#include "trade/wording.hpp"

namespace bandwright {

namespace {

using nlohmann::json;

struct Range {
    double least = 0;
    double most = 0;
    std::string_view unit;
};

constexpr Range kDensity{0.1, 25, " g/cm3"};
constexpr Range kLimit{0.05, 5, " mm"};
constexpr Range kSpeed{1, 500, " m/min"};
constexpr Range kShare{0, 1, ""};
constexpr Range kRefractiveIndex{1, 4, ""};
constexpr Range kDispersion{0, 0.5, ""};
constexpr Range kMohs{1, 10, ""};
constexpr Range kTemperature{0, 1000, " degrees C"};

/// Where in which file a JSON value stands, for messages; written as $.metals[2].density.
struct Place {
    const std::string& file;
    std::string path;

    [[noreturn]] void refuse(const std::string& found, const std::string& allowed) const {
        throw InputError(file + ", " + path + ": found " + found + "; allowed is " + allowed);
    }
    Place member(const char* key) const { return {file, path + "." + key}; }
    Place element(std::size_t index) const { return {file, path + "[" + std::to_string(index) + "]"}; }
};

std::string shown(const json& value) {
    return inQuotes(value.dump(-1, ' ', false, json::error_handler_t::replace));
}

/// One JSON object that is being read; every key asked for is known, and `finish` refuses the others.
class Fields {
  public:
    /// With `complete`, a field that is missing is refused, else it keeps its value.
    Fields(const json& object, Place place, bool complete)
        : object_(object), place_(std::move(place)), complete_(complete) {
        if (!object.is_object()) place_.refuse(shown(object), "an object");
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
        if (!value->is_boolean()) place_.member(key).refuse(shown(*value), "true or false");
        into = value->get<bool>();
    }

    void number(const char* key, Sourced& into, const Range& range) {
        const json* value = wanted(key);
        if (!value) return;
        const Place here = place_.member(key);
        if (value->is_number()) {
            into = {numberOf(*value, here, range), "the maker's file " + here.file};
            return;
        }
        if (!value->is_object()) here.refuse(shown(*value), "a number, or a value with its source");
        Fields sourced(*value, here, true);
        into.value = numberOf(*sourced.wanted("value"), here.member("value"), range);
        sourced.text("source", into.source);
        sourced.finish();
    }

    void colour(const char* key, LinearRgb& into) {
        if (const json* value = wanted(key)) into = colourOf(*value, place_.member(key));
    }

    void optionalColour(const char* key, std::optional<LinearRgb>& into) {
        if (const json* value = optional(key)) into = colourOf(*value, place_.member(key));
    }

    void cautions(std::vector<Caution>& into) {
        const json* list = optional("cautions");
        if (!list) return;
        const Place here = place_.member("cautions");
        if (!list->is_array()) here.refuse(shown(*list), "a list");
        into.clear();
        for (std::size_t i = 0; i < list->size(); ++i) {
            Fields fields((*list)[i], here.element(i), true);
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
            place_.refuse("the unknown key " + inQuotes(item.key()), names);
        }
    }

    std::string textOf(const json& value, const char* key) const {
        if (!value.is_string() || value.get_ref<const std::string&>().empty()) {
            place_.member(key).refuse(shown(value), "a text that is not empty");
        }
        return value.get<std::string>();
    }

    const Place& place() const { return place_; }

  private:
    static double numberOf(const json& value, const Place& place, const Range& range) {
        const double number = value.is_number() ? value.get<double>() : range.least - 1;
        if (number >= range.least && number <= range.most) return number;
        place.refuse(shown(value), "a number from " + shortestNumber(range.least) + " to " +
                                       shortestNumber(range.most) + std::string(range.unit));
    }

    static LinearRgb colourOf(const json& value, const Place& place) {
        LinearRgb colour{};
        if (!value.is_array() || value.size() != colour.size()) {
            place.refuse(shown(value), "a list of three shares of red, green and blue light");
        }
        for (std::size_t i = 0; i < colour.size(); ++i)
            colour[i] = numberOf(value[i], place.element(i), kShare);
        return colour;
    }

    const json& object_;
    Place place_;
    bool complete_;
    std::vector<const char*> known_;
};

void readFields(Fields& fields, Metal& metal) {
    fields.number("density", metal.density, kDensity);
    fields.number("leastFloor", metal.leastFloor, kLimit);
    fields.number("leastRim", metal.leastRim, kLimit);
    fields.number("leastWall", metal.leastWall, kLimit);
    fields.number("leastHoleToEdge", metal.leastHoleToEdge, kLimit);
    fields.number("turningSpeed", metal.turningSpeed, kSpeed);
    fields.number("drillingSpeed", metal.drillingSpeed, kSpeed);
    fields.colour("reflectance", metal.reflectance);
    fields.colour("reflectance82", metal.reflectance82);
    fields.optionalColour("layerReflectance", metal.layerReflectance);
    fields.text("reflectanceSource", metal.reflectanceSource);
}

void readFields(Fields& fields, Gem& gem) {
    fields.number("density", gem.density, kDensity);
    fields.number("refractiveIndex", gem.refractiveIndex, kRefractiveIndex);
    fields.number("dispersion", gem.dispersion, kDispersion);
    fields.number("mohs", gem.mohs, kMohs);
    fields.colour("transmission", gem.transmission);
    fields.text("transmissionSource", gem.transmissionSource);
}

void readFields(Fields& fields, Filler& filler) {
    fields.number("density", filler.density, kDensity);
    fields.colour("colour", filler.colour);
    fields.colour("colour2", filler.colour2);
    fields.text("colourSource", filler.colourSource);
    fields.flag("opalescent", filler.opalescent);
    fields.flag("glows", filler.glows);
    std::optional<LinearRgb> glow;
    fields.optionalColour("glowColour", glow);
    if (glow) filler.glowColour = *glow;
}

void readFields(Fields& fields, Adhesive& adhesive) {
    fields.number("density", adhesive.density, kDensity);
    fields.number("serviceTemperature", adhesive.serviceTemperature, kTemperature);
    fields.number("layer", adhesive.layer, kLimit);
    fields.number("shrinkage", adhesive.shrinkage, kShare);
}

/// Lower-case words and numbers joined by single hyphens, at most 64 characters.
bool isId(std::string_view text) {
    if (text.empty() || text.size() > 64 || text.front() == '-' || text.back() == '-') return false;
    if (text.find("--") != std::string_view::npos) return false;
    return text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

template <typename Material>
typename std::vector<Material>::iterator byId(std::vector<Material>& list, std::string_view id) {
    return std::find_if(list.begin(), list.end(),
                        [id](const Material& material) { return material.id == id; });
}

template <typename Material>
void readEntry(const json& object, const Place& place, std::vector<Material>& list,
               std::set<std::string>& read) {
    Fields key(object, place, true);
    std::string id;
    key.text("id", id);
    if (!isId(id)) place.member("id").refuse(inQuotes(id), "lower-case words and numbers joined by hyphens");
    if (!read.insert(id).second)
        place.member("id").refuse(inQuotes(id) + " a second time", "one entry for each id");

    const auto older = byId(list, id);
    auto model = older;
    if (const json* like = key.optional("like")) {
        const std::string likeId = key.textOf(*like, "like");
        model = byId(list, likeId);
        if (model == list.end())
            place.member("like").refuse(inQuotes(likeId), "the id of an entry before this one");
    }

    Material material = model == list.end() ? Material{} : *model;
    material.id = id;
    Fields fields(object, place, model == list.end());
    fields.optional("id");
    fields.optional("like");
    fields.text("name", material.name);
    readFields(fields, material);
    fields.cautions(material.cautions);
    fields.finish();

    if (older == list.end()) {
        list.push_back(std::move(material));
    } else {
        *older = std::move(material);
    }
}

template <typename Material>
void readList(Fields& document, const char* kind, std::vector<Material>& list) {
    const json* entries = document.optional(kind);
    if (!entries) return;
    const Place place = document.place().member(kind);
    if (!entries->is_array()) place.refuse(shown(*entries), "a list");
    std::set<std::string> read;
    for (std::size_t i = 0; i < entries->size(); ++i)
        readEntry((*entries)[i], place.element(i), list, read);
}

/// A key given twice in one object is refused, since one of the two would be lost.
json parsedOnce(std::string_view text, const std::string& file) {
    std::vector<std::set<std::string>> keys;
    return json::parse(text, [&](int, json::parse_event_t event, json& value) {
        if (event == json::parse_event_t::object_start) keys.emplace_back();
        if (event == json::parse_event_t::object_end) keys.pop_back();
        if (event == json::parse_event_t::key && !keys.back().insert(value.get<std::string>()).second) {
            throw InputError(file + ": the key " + shown(value) +
                             " stands twice in one object; allowed is once");
        }
        return true;
    });
}

void addParsed(Catalogue& catalogue, const json& value, const std::string& file) {
    Fields document(value, {file, "$"}, false);
    if (const json* schema = document.optional("$schema")) document.textOf(*schema, "$schema");
    readList(document, "metals", catalogue.metals);
    readList(document, "gems", catalogue.gems);
    readList(document, "fillers", catalogue.fillers);
    readList(document, "adhesives", catalogue.adhesives);
    document.finish();
}

}  // namespace

void addBuiltIn(Catalogue& catalogue, std::string_view text, const std::string& file) {
    addParsed(catalogue, json::parse(text), file);
}

void addMaterials(Catalogue& catalogue, std::string_view text, const std::string& file) {
    try {
        addParsed(catalogue, parsedOnce(text, file), file);
    } catch (const json::exception& error) {
        const std::string_view what =
            error.what();  // "[json.exception.parse_error.101] parse error at line 1, ..."
        throw InputError(file + ": this is no JSON text: " + std::string(what.substr(what.find("] ") + 2)));
    }
}

}  // namespace bandwright
