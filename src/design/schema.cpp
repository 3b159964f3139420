#include <nlohmann/json.hpp>

#include "design/design_file.hpp"
#include "field_rules.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::design {

namespace {

using Json = nlohmann::ordered_json;

/// The letters and signs of what trade/length.hpp reads; the reader is stricter about their order.
constexpr std::string_view kLengthPattern =
    R"(^(?=.*[0-9¼½¾⅐-⅞])([-+*/⁄(). 0-9eE¼½¾⅐-⅞]|[mM][mM]|[cC][mM]|[uUµμ][mM]|[iI][nN]([cC][hH]([eE][sS])?)?|"|)"
    R"([tT][hH][oO][uU])*$)";
constexpr std::string_view kOneLinePattern =
    R"(^[^\u0000-\u001f\u007f-\u009f\u200e\u200f\u2028-\u202e\u2066-\u2069]*$)";

/// Whole numbers without ".0", as a person writes them.
Json number(double value) {
    const auto whole = static_cast<std::int64_t>(value);
    return static_cast<double>(whole) == value ? Json(whole) : Json(value);
}

Json schemaOf(double value, const NumberField& field) {
    const Json plain = {
        {"type", "number"}, {"minimum", number(field.least)}, {"maximum", number(field.most)}};
    Json schema;
    if (field.unit == Unit::Millimetres) {
        schema["anyOf"] = {plain, {{"$ref", "#/$defs/length"}}};
    } else {
        schema = plain;
    }
    schema["default"] = number(value);
    return schema;
}

Json schemaOf(int value, const CountField& field) {
    return {{"type", "integer"}, {"minimum", field.least}, {"maximum", field.most}, {"default", value}};
}

Json schemaOf(const std::string& value, const TextField& field) {
    Json schema = {{"type", "string"}, {"maxLength", field.most}};
    if (!field.lines) schema["pattern"] = kOneLinePattern;
    schema["default"] = value;
    return schema;
}

Json schemaOf(const std::string& value, MaterialField /*field*/) {
    return {{"type", "string"},
            {"minLength", 1},
            {"maxLength", kLongestId},
            {"pattern", kOneLinePattern},
            {"default", value}};
}

Json schemaOf(const std::string& /*value*/, PathField /*field*/) {
    return {{"type", "string"}, {"minLength", 1}, {"maxLength", 200}, {"pattern", kOneLinePattern}};
}

Json schemaOf(const trade::RingSize& value, const SizeField& /*field*/) {
    return {{"type", "string"},
            {"minLength", 1},
            {"examples", {"US 9.5", "UK R\u00bd", "ISO 60", "18.95 mm"}},
            {"default", trade::formatRingSize(value)}};
}

template <class Enum, std::size_t N>
Json schemaOf(const Enum& value, const WordField<Enum, N>& words) {
    Json schema = {{"enum", Json::array()}};
    for (const Word<Enum>& word : words)
        schema["enum"].push_back(word.id);
    schema["default"] = words[value].id;
    return schema;
}

Json schemaOf(const Route& defaults, const RouteField& /*field*/) {
    Json schema = {
        {"type", "array"}, {"uniqueItems", true}, {"minItems", kRouteLength}, {"maxItems", kRouteLength}};
    for (const Stage stage : defaults)
        schema["default"].push_back(name(stage));
    schema["items"]["enum"] = schema["default"];
    return schema;
}

template <class T>
Json schemaOf(const T& defaults, const GroupField& /*field*/);

template <class T, class Field>
Json schemaOf(const std::vector<T>& /*defaults*/, const ListField<Field>& field) {
    return {{"type", "array"}, {"maxItems", field.most}, {"items", schemaOf(T{}, field.each)}};
}

/// Visits the fields of a group and describes each.
struct PropertyWriter {
    Json properties = Json::object();

    template <class T, class Field>
    void operator()(std::string_view key, const T& defaults, const Field& field, const Words& words) {
        Json& schema = properties[std::string(key)];
        std::string help(words.help);
        if constexpr (std::is_same_v<Field, NumberField>)
            if (const std::string_view unit = names(field.unit).inFile; !unit.empty())
                help.append(" (").append(unit).append(")");
        schema["description"] = help;
        schema.update(schemaOf(defaults, field));
    }

    template <class T>
    void operator()(std::string_view key, const std::optional<T>& /*part*/, const GroupField& field,
                    const Words& words) {
        (*this)(key, T{}, field, words);
        properties[std::string(key)]["type"] = Json::array({"object", "null"});
    }
};

template <class T>
Json schemaOf(const T& defaults, const GroupField& /*field*/) {
    PropertyWriter writer;
    visitFields(writer, defaults);
    return {
        {"type", "object"}, {"additionalProperties", false}, {"properties", std::move(writer.properties)}};
}

}  // namespace

std::string designSchema() {
    const Json version = {{"description", "Version of the format"}, {"const", kDesignFileVersion}};
    Json schema = {{"$schema", "https://json-schema.org/draft/2020-12/schema"},
                   {"title", "Bandwright ring design"},
                   {"description",
                    "NAME.ring.json. Lengths are mm, or text with a unit; angles are degrees; positions "
                    "across the width "
                    "count from mid-width, positive to the right."}};
    const Design usual;
    const Json design = schemaOf(usual, kGroup);
    schema["type"] = design["type"];
    schema["required"] = Json::array({"bandwright"});
    schema["additionalProperties"] = false;
    schema["properties"]["bandwright"] = version;
    schema["properties"].update(design["properties"]);
    schema["$defs"]["length"] = {
        {"description", "A length with its unit, such as 3/8 in, 250 um or 8/2 + 0.5 mm"},
        {"type", "string"},
        {"pattern", kLengthPattern}};
    constexpr int kIndent = 2;
    return schema.dump(kIndent) + "\n";
}

}  // namespace bandwright::design
