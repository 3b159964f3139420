#include "trade/own_limits.hpp"

#include "json_fields.hpp"
#include "whole_text.hpp"

namespace bandwright {

namespace {

constexpr JsonRange kAnyLimit{-1000, 100000, ""};

OwnLimit readLimit(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    JsonFields fields(object, place, true);
    OwnLimit own;
    fields.text("rule", own.rule);
    if (const json* metal = fields.optional("metal")) {
        own.metal = fields.textOf(*metal, "metal");
        if (catalogue.metal(own.metal) == nullptr)
            place.member("metal").refuse(inQuotes(own.metal), "the id of a metal of the catalogue");
    }
    own.limit = fields.plainNumber("limit", kAnyLimit);
    own.comfortable = own.limit;
    if (object.contains("comfortable")) own.comfortable = fields.plainNumber("comfortable", kAnyLimit);
    own.source = place.file;
    if (const json* source = fields.optional("source")) own.source = fields.textOf(*source, "source");
    own.source = "the maker's own: " + own.source;
    own.place = place.file + ", " + place.path;
    fields.finish();
    return own;
}

}  // namespace

const OwnLimit* ownLimit(const std::vector<OwnLimit>& limits, std::string_view rule, std::string_view metal) {
    const OwnLimit* found = nullptr;
    for (const OwnLimit& own : limits) {
        if (own.rule != rule || (!own.metal.empty() && own.metal != metal)) continue;
        if (found == nullptr || !own.metal.empty() || found->metal.empty()) found = &own;
    }
    return found;
}

Catalogue withLimits(const Catalogue& base, const std::filesystem::path& file) {
    Catalogue result = base;
    const std::string name = file.string();
    const json value = parsedOnce(wholeText(file, "limits"), name);
    JsonFields document(value, {name, "$"}, false);
    if (const json* schema = document.optional("$schema")) document.textOf(*schema, "$schema");
    if (const json* list = document.optional("limits")) {
        const JsonPlace place = document.place().member("limits");
        if (!list->is_array()) place.refuse(shownJson(*list), "a list");
        for (std::size_t i = 0; i < list->size(); ++i)
            result.limits.push_back(readLimit((*list)[i], place.element(i), base));
    }
    document.finish();
    return result;
}

}  // namespace bandwright
