#include "catalogue_reader.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "json_fields.hpp"

namespace bandwright::trade {

namespace {

constexpr JsonRange kDensity{0.1, 25, " g/cm3"};
constexpr JsonRange kLimit{0.05, 5, " mm"};
constexpr JsonRange kModulus{1, 1000, " GPa"};
constexpr JsonRange kStrength{1, 5000, " MPa"};
constexpr JsonRange kExpansion{0.1, 100, " millionths per degree"};
constexpr JsonRange kVickers{1, 3000, " HV"};
constexpr JsonRange kVolt{0, 3, " V"};
constexpr JsonRange kRelease{0, 100, " ug/cm2 a week"};
constexpr JsonRange kMassPercent{0, 100, " %"};
constexpr JsonRange kToughness{0, 3, ""};
constexpr JsonRange kResistance{0, 2, ""};
constexpr JsonRange kSpeed{1, 500, " m/min"};
constexpr JsonRange kSpeedOrNone{0, 500, " m/min"};
constexpr JsonRange kRefractiveIndex{1, 4, ""};
constexpr JsonRange kDispersion{0, 0.5, ""};
constexpr JsonRange kWavelength{100, 2000, " nm"};
constexpr JsonRange kConstant{0, 20, ""};
constexpr JsonRange kMohs{1, 10, ""};
constexpr JsonRange kTemperature{0, 1000, " degrees C"};
constexpr JsonRange kMelting{0, 4000, " degrees C"};
constexpr JsonRange kGrains{0.01, 2, " mm"};
constexpr JsonRange kHeat{0, 2000, " degrees C"};
constexpr JsonRange kPerVolt{0.1, 10, " nm a volt"};
constexpr JsonRange kDrop{0.0001, 1, " g"};
constexpr JsonRange kLayerWait{0, 10000, " minutes"};
constexpr JsonRange kCuring{0, 1000, " hours"};

void readSubstance(JsonFields& fields, Substance& into) {
    static const std::map<std::string, Substance> kNames = {
        {"metal", Substance::Metal}, {"carbon-fibre", Substance::CarbonFibre}, {"wood", Substance::Wood}};
    const json* value = fields.optional("substance");
    if (!value) return;
    const auto found = kNames.find(fields.textOf(*value, "substance"));
    if (found == kNames.end())
        fields.place().member("substance").refuse(shownJson(*value), "metal, carbon-fibre or wood");
    into = found->second;
}

void readPrecious(JsonFields& fields, Precious& into) {
    static const std::map<std::string, Precious> kNames = {{"none", Precious::None},
                                                           {"gold", Precious::Gold},
                                                           {"silver", Precious::Silver},
                                                           {"platinum", Precious::Platinum},
                                                           {"palladium", Precious::Palladium}};
    const json* value = fields.optional("precious");
    if (!value) return;
    const auto found = kNames.find(fields.textOf(*value, "precious"));
    if (found == kNames.end())
        fields.place()
            .member("precious")
            .refuse(shownJson(*value), "none, gold, silver, platinum or palladium");
    into = found->second;
}

/// null = not known.
void readNickel(JsonFields& fields, std::optional<Sourced>& into) {
    const json* value = fields.wanted("nickelRelease");
    if (!value) return;
    into.reset();
    if (!value->is_null()) fields.number("nickelRelease", into.emplace(), kRelease);
}

OpticalConstants constantsOf(const json& row, const JsonPlace& place) {
    if (!row.is_array() || row.size() != 4)
        place.refuse(shownJson(row), "four numbers: wavelength in nm, n, k, and the oxide's index");
    const auto number = [&](std::size_t i, const JsonRange& range) {
        return JsonFields::numberOf(row[i], place.element(i), range);
    };
    return {number(0, kWavelength), number(1, kConstant), number(2, kConstant), number(3, kRefractiveIndex)};
}

void readAnodising(JsonFields& fields, std::optional<Anodising>& into) {
    const json* value = fields.optional("anodising");
    if (!value) return;
    const JsonPlace here = fields.place().member("anodising"), list = here.member("constants");
    JsonFields inside(*value, here, true);
    Anodising read;
    inside.text("source", read.source);
    if (inside.optional("perVolt")) read.perVolt = inside.plainNumber("perVolt", kPerVolt);
    const json* rows = inside.wanted("constants");
    if (!rows->is_array() || rows->size() < 2) list.refuse(shownJson(*rows), "a list of two rows or more");
    for (std::size_t i = 0; i < rows->size(); ++i) {
        read.constants.push_back(constantsOf((*rows)[i], list.element(i)));
        if (i > 0 && read.constants[i].wavelength <= read.constants[i - 1].wavelength)
            list.element(i).element(0).refuse(shownJson((*rows)[i][0]),
                                              "a longer wavelength than the row before");
    }
    inside.finish();
    into = std::move(read);
}

void readFields(JsonFields& fields, Metal& metal) {
    fields.number("density", metal.density, kDensity);
    fields.number("leastFloor", metal.leastFloor, kLimit);
    fields.number("leastRim", metal.leastRim, kLimit);
    fields.number("leastWall", metal.leastWall, kLimit);
    fields.number("leastHoleToEdge", metal.leastHoleToEdge, kLimit);
    fields.number("youngsModulus", metal.youngsModulus, kModulus);
    fields.number("yieldStrength", metal.yieldStrength, kStrength);
    fields.optionalNumber("expansion", metal.expansion, kExpansion);
    fields.number("hardness", metal.hardness, kVickers);
    fields.number("anodicIndex", metal.anodicIndex, kVolt);
    fields.flag("passive", metal.passive);
    readNickel(fields, metal.nickelRelease);
    fields.optionalNumber("lead", metal.lead, kMassPercent);
    fields.optionalNumber("cadmium", metal.cadmium, kMassPercent);
    fields.flag("stainsSkin", metal.stainsSkin);
    readPrecious(fields, metal.precious);
    fields.optionalNumber("fineness", metal.fineness, kShare);
    fields.number("soldering", metal.soldering, kResistance);
    fields.optionalNumber("melting", metal.melting, kMelting);
    fields.number("etchResistance", metal.etchResistance, kResistance);
    fields.number("turningSpeed", metal.turningSpeed, kSpeed);
    fields.optionalNumber("turningSpeedSteel", metal.turningSpeedSteel, kSpeedOrNone);
    fields.number("drillingSpeed", metal.drillingSpeed, kSpeed);
    fields.colour("reflectance", metal.reflectance);
    fields.colour("reflectance82", metal.reflectance82);
    fields.optionalColour("layerReflectance", metal.layerReflectance);
    fields.text("reflectanceSource", metal.reflectanceSource);
    readSubstance(fields, metal.substance);
    readAnodising(fields, metal.anodising);
    fields.optionalNumber("blackOxide", metal.blackOxide, kRefractiveIndex);
}

void readFields(JsonFields& fields, Gem& gem) {
    fields.number("density", gem.density, kDensity);
    fields.number("refractiveIndex", gem.refractiveIndex, kRefractiveIndex);
    fields.number("dispersion", gem.dispersion, kDispersion);
    fields.number("mohs", gem.mohs, kMohs);
    fields.number("etchResistance", gem.etchResistance, kResistance);
    fields.number("heatResistance", gem.heatResistance, kHeat);
    fields.number("toughness", gem.toughness, kToughness);
    fields.flag("perfectCleavage", gem.perfectCleavage);
    fields.colour("transmission", gem.transmission);
    fields.optionalColour("cloud", gem.cloud);
    fields.flag("opalescent", gem.opalescent);
    fields.text("transmissionSource", gem.transmissionSource);
}

void readFields(JsonFields& fields, Filler& filler) {
    fields.number("density", filler.density, kDensity);
    fields.number("mohs", filler.mohs, kMohs);
    fields.number("etchResistance", filler.etchResistance, kResistance);
    fields.number("waterResistance", filler.waterResistance, kResistance);
    fields.number("lightResistance", filler.lightResistance, kResistance);
    fields.optionalNumber("lead", filler.lead, kMassPercent);
    fields.optionalNumber("grains", filler.grains, kGrains);
    fields.colour("colour", filler.colour);
    fields.colour("colour2", filler.colour2);
    fields.text("colourSource", filler.colourSource);
    fields.flag("opalescent", filler.opalescent);
    fields.flag("glows", filler.glows);
    std::optional<LinearRgb> glow;
    fields.optionalColour("glowColour", glow);
    if (glow) filler.glowColour = *glow;
}

void readFields(JsonFields& fields, Adhesive& adhesive) {
    fields.number("density", adhesive.density, kDensity);
    fields.number("serviceTemperature", adhesive.serviceTemperature, kTemperature);
    fields.number("layer", adhesive.layer, kLimit);
    fields.number("shrinkage", adhesive.shrinkage, kShare);
    fields.optionalNumber("drop", adhesive.drop, kDrop);
    fields.optionalNumber("layerMinutes", adhesive.layerMinutes, kLayerWait);
    fields.optionalNumber("curedHours", adhesive.curedHours, kCuring);
    fields.number("etchResistance", adhesive.etchResistance, kResistance);
    fields.number("waterResistance", adhesive.waterResistance, kResistance);
    fields.number("lightResistance", adhesive.lightResistance, kResistance);
}

/// Lower-case words and numbers joined by single hyphens, at most 64 characters.
bool isId(std::string_view text) {
    if (text.empty() || text.size() > 64 || text.front() == '-' || text.back() == '-') return false;
    if (text.find("--") != std::string_view::npos) return false;
    return text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

template <typename Material>
typename std::vector<Material>::iterator placeOf(std::vector<Material>& list, std::string_view id) {
    return std::find_if(list.begin(), list.end(),
                        [id](const Material& material) { return material.id == id; });
}

template <typename Material>
void readEntry(const json& object, const JsonPlace& place, std::vector<Material>& list,
               std::set<std::string>& read) {
    JsonFields key(object, place, true);
    std::string id;
    key.text("id", id);
    if (!isId(id))
        place.member("id").refuse(base::inQuotes(id), "lower-case words and numbers joined by hyphens");
    if (!read.insert(id).second)
        place.member("id").refuse(base::inQuotes(id) + " a second time", "one entry for each id");

    const auto older = placeOf(list, id);
    auto model = older;
    if (const json* like = key.optional("like")) {
        const std::string likeId = key.textOf(*like, "like");
        model = placeOf(list, likeId);
        if (model == list.end())
            place.member("like").refuse(base::inQuotes(likeId), "the id of an entry before this one");
    }

    Material material;
    if (model != list.end()) material = *model;
    material.id = id;
    JsonFields fields(object, place, model == list.end());
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
void readList(JsonFields& document, const char* kind, std::vector<Material>& list) {
    const json* entries = document.optional(kind);
    if (!entries) return;
    const JsonPlace place = document.place().member(kind);
    if (!entries->is_array()) place.refuse(shownJson(*entries), "a list");
    std::set<std::string> read;
    for (std::size_t i = 0; i < entries->size(); ++i)
        readEntry((*entries)[i], place.element(i), list, read);
}

void addParsed(Catalogue& catalogue, const json& value, const std::string& file) {
    JsonFields document(value, {file, "$"}, false);
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
    addParsed(catalogue, parsedOnce(text, file), file);
}

}  // namespace bandwright::trade
