#include "trade/own_limits.hpp"

#include "base/whole_text.hpp"
#include "json_fields.hpp"

namespace bandwright::trade {

namespace {

constexpr JsonRange kAnyLimit{-1000, 100000, ""};

/// What every entry ends with: where it comes from and where it stands.
void finish(auto& own, JsonFields& fields, const JsonPlace& place) {
    const json* source = fields.optional("source");
    own.source = "the maker's own: " + (source ? fields.textOf(*source, "source") : place.file);
    own.place = place.file + ", " + place.path;
    fields.finish();
}

OwnLimit readLimit(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    JsonFields fields(object, place, true);
    OwnLimit own;
    fields.text("rule", own.rule);
    if (const json* metal = fields.optional("metal")) {
        own.metal = fields.textOf(*metal, "metal");
        if (catalogue.metal(own.metal) == nullptr)
            place.member("metal").refuse(base::inQuotes(own.metal), "the id of a metal of the catalogue");
    }
    own.limit = fields.plainNumber("limit", kAnyLimit);
    own.comfortable = own.limit;
    if (object.contains("comfortable")) own.comfortable = fields.plainNumber("comfortable", kAnyLimit);
    finish(own, fields, place);
    return own;
}

OwnTolerance readTolerance(const json& object, const JsonPlace& place) {
    constexpr JsonRange kTolerance{0, 10, ""};
    JsonFields fields(object, place, true);
    OwnTolerance own;
    fields.text("field", own.field);
    own.plusMinus = fields.plainNumber("tolerance", kTolerance);
    finish(own, fields, place);
    return own;
}

ToleranceClass classOf(const json& value, const JsonPlace& place) {
    std::vector<std::string> names;
    for (const ToleranceClass grade :
         {ToleranceClass::Fine, ToleranceClass::Medium, ToleranceClass::Coarse, ToleranceClass::VeryCoarse}) {
        if (value == name(grade)) return grade;
        names.push_back(name(grade));
    }
    place.refuse(shownJson(value), base::inWords({names.begin(), names.end()}, "or"));
}

std::vector<double> sizesOf(const json& list, const JsonPlace& place) {
    constexpr JsonRange kSize{0.05, 50, " mm"};
    if (!list.is_array() || list.empty()) place.refuse(shownJson(list), "a list of sizes in mm");
    std::vector<double> sizes;
    for (std::size_t i = 0; i < list.size(); ++i)
        sizes.push_back(JsonFields::numberOf(list[i], place.element(i), kSize));
    return sizes;
}

Dividing dividingOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kRatio{1, 360, ""}, kHoles{1, 1000, ""};
    JsonFields fields(object, place, true);
    Dividing dividing{fields.plainNumber("ratio", kRatio), {}};
    const json& circles = *fields.wanted("circles");
    const JsonPlace here = place.member("circles");
    if (!circles.is_array() || circles.empty()) here.refuse(shownJson(circles), "a list of numbers of holes");
    for (std::size_t i = 0; i < circles.size(); ++i) {
        if (!circles[i].is_number_integer())
            here.element(i).refuse(shownJson(circles[i]), "a whole number of holes");
        dividing.circles.push_back(
            static_cast<int>(JsonFields::numberOf(circles[i], here.element(i), kHoles)));
    }
    fields.finish();
    return dividing;
}

/// What is left out stays as it was.
void readTools(const json& object, const JsonPlace& place, Tools& into) {
    constexpr JsonRange kBlade{0.05, 20, " mm"};
    JsonFields fields(object, place, false);
    if (const json* bars = fields.optional("boring-bars"))
        into.boringBars = sizesOf(*bars, place.member("boring-bars"));
    if (const json* blades = fields.optional("grooving-blades"))
        into.groovingBlades = sizesOf(*blades, place.member("grooving-blades"));
    if (const json* blade = fields.optional("parting-blade"))
        into.partingBlade = JsonFields::numberOf(*blade, place.member("parting-blade"), kBlade);
    if (const json* dividing = fields.optional("dividing"))
        into.dividing = dividingOf(*dividing, place.member("dividing"));
    into.source = "the maker's own tools: " + place.file;
    fields.finish();
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
    const json value = parsedOnce(base::wholeText(file, "limits"), name);
    JsonFields document(value, {name, "$"}, false);
    if (const json* schema = document.optional("$schema")) document.textOf(*schema, "$schema");
    forEachOf(document, "limits", [&](const json& entry, const JsonPlace& place) {
        result.limits.push_back(readLimit(entry, place, base));
    });
    if (const json* region = document.optional("region"))
        result.region = regionOf(*region, document.place().member("region"));
    if (const json* grade = document.optional("tolerance-class"))
        result.toleranceClass = classOf(*grade, document.place().member("tolerance-class"));
    forEachOf(document, "tolerances", [&](const json& entry, const JsonPlace& place) {
        result.tolerances.push_back(readTolerance(entry, place));
    });
    if (const json* tools = document.optional("tools"))
        readTools(*tools, document.place().member("tools"), result.tools);
    document.finish();
    return result;
}

}  // namespace bandwright::trade
