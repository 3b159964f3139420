#include <algorithm>
#include <string_view>
#include <utility>

#include "base/whole_text.hpp"
#include "json_fields.hpp"
#include "trade/workshop.hpp"

namespace bandwright::trade {

namespace {

constexpr JsonRange kToolSize{0.05, 50, " mm"};
constexpr JsonRange kBladeWidth{0.05, 20, " mm"};
constexpr JsonRange kNose{0, 10, " mm"};
constexpr JsonRange kPercent{0, 100, " %"};
constexpr JsonRange kMoney{0, 1e7, ""};

std::vector<double> diametersOf(const json& list, const JsonPlace& place) {
    if (!list.is_array()) place.refuse(shownJson(list), "a list of diameters in mm");
    std::vector<double> sizes;
    for (std::size_t i = 0; i < list.size(); ++i)
        sizes.push_back(JsonFields::numberOf(list[i], place.element(i), kToolSize));
    std::ranges::sort(sizes);
    return sizes;
}

void readDiameters(JsonFields& fields, const char* key, std::vector<double>& into) {
    if (const json* list = fields.optional(key)) into = diametersOf(*list, fields.place().member(key));
}

/// What keeps its value where nothing is told.
void readNumber(JsonFields& fields, const char* key, double& into, const JsonRange& range) {
    if (const json* value = fields.optional(key))
        into = JsonFields::numberOf(*value, fields.place().member(key), range);
}

void readNumber(JsonFields& fields, const char* key, std::optional<double>& into, const JsonRange& range) {
    if (const json* value = fields.optional(key))
        into = JsonFields::numberOf(*value, fields.place().member(key), range);
}

void readText(JsonFields& fields, const char* key, std::string& into) {
    if (const json* value = fields.optional(key)) into = fields.textOf(*value, key);
}

/// One of some words; what it means stands beside it.
template <typename Meaning>
void readWord(JsonFields& fields, const char* key,
              const std::vector<std::pair<std::string_view, Meaning>>& words, Meaning& into) {
    const json* value = fields.optional(key);
    if (value == nullptr) return;
    std::vector<std::string_view> names;
    for (const auto& [word, meaning] : words) {
        if (*value == word) {
            into = meaning;
            return;
        }
        names.push_back(word);
    }
    fields.place().member(key).refuse(shownJson(*value), base::inWords(names, "or"));
}

Spindle spindleOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kTurns{1, 60000, " rev/min"};
    JsonFields fields(object, place, true);
    Spindle spindle;
    forEachOf(fields, "steps", [&](const json& step, const JsonPlace& here) {
        spindle.steps.push_back(JsonFields::numberOf(step, here, kTurns));
    });
    std::ranges::sort(spindle.steps);
    if (spindle.steps.empty()) {
        spindle.least = fields.plainNumber("least", kTurns);
        spindle.most = fields.plainNumber("most", kTurns);
        if (spindle.most < spindle.least) {
            place.member("most").refuse(
                base::shortestNumber(spindle.most),
                "at least " + base::shortestNumber(spindle.least) + " rev/min, which \"least\" says");
        }
    } else {
        spindle.least = spindle.steps.front();
        spindle.most = spindle.steps.back();
    }
    fields.finish();
    return spindle;
}

BoringBar barOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kReach{0, 500, " mm"};
    JsonFields fields(object, place, true);
    BoringBar bar;
    bar.diameter = fields.plainNumber("diameter", kToolSize);
    readNumber(fields, "reach", bar.reach, kReach);
    fields.flag("carbide", bar.carbide);
    fields.finish();
    return bar;
}

Blade bladeOf(const json& object, const JsonPlace& place) {
    JsonFields fields(object, place, true);
    Blade blade;
    blade.width = fields.plainNumber("width", kBladeWidth);
    readNumber(fields, "nose", blade.nose, kNose);
    if (2 * blade.nose > blade.width) {
        place.member("nose").refuse(
            base::shortestNumber(blade.nose),
            "at most half the width, " + base::shortestNumber(blade.width / 2) + " mm");
    }
    fields.finish();
    return blade;
}

std::vector<int> circlesOf(const json& list, const JsonPlace& place) {
    constexpr JsonRange kHoles{1, 1000, " holes"};
    if (!list.is_array() || list.empty()) place.refuse(shownJson(list), "a list of numbers of holes");
    std::vector<int> circles;
    for (std::size_t i = 0; i < list.size(); ++i) {
        if (!list[i].is_number_integer())
            place.element(i).refuse(shownJson(list[i]), "a whole number of holes");
        circles.push_back(static_cast<int>(JsonFields::numberOf(list[i], place.element(i), kHoles)));
    }
    return circles;
}

/// A head has a ratio and circles, a plate circles, an indexer neither.
Divider dividerOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kRatio{1, 360, ""};
    JsonFields fields(object, place, true);
    Divider divider;
    if (fields.optional("kind") == nullptr) place.refuse("no \"kind\"", "an entry that has it");
    readWord<DividerKind>(
        fields, "kind",
        {{"head", DividerKind::Head}, {"degrees", DividerKind::Degrees}, {"plate", DividerKind::Plate}},
        divider.kind);
    divider.ratio = divider.kind == DividerKind::Head ? fields.plainNumber("ratio", kRatio) : 1;
    if (divider.kind == DividerKind::Degrees) {
        divider.circles = {360};
    } else {
        divider.circles = circlesOf(*fields.wanted("circles"), place.member("circles"));
    }
    fields.finish();
    return divider;
}

Stock stockOf(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    constexpr JsonRange kDiameter{1, 200, " mm"}, kBore{0, 200, " mm"}, kLength{0, 10000, " mm"};
    JsonFields fields(object, place, true);
    Stock stock;
    readText(fields, "metal", stock.metal);
    if (!stock.metal.empty() && catalogue.metal(stock.metal) == nullptr)
        place.member("metal").refuse(base::inQuotes(stock.metal), "the id of a metal of the catalogue");
    stock.diameter = fields.plainNumber("diameter", kDiameter);
    readNumber(fields, "bore", stock.bore, kBore);
    if (stock.bore >= stock.diameter) {
        place.member("bore").refuse(
            base::shortestNumber(stock.bore),
            "less than the diameter, " + base::shortestNumber(stock.diameter) + " mm");
    }
    readNumber(fields, "length", stock.length, kLength);
    fields.finish();
    return stock;
}

bool isMaterial(const Catalogue& catalogue, const std::string& id) {
    return catalogue.metal(id) != nullptr || catalogue.gem(id) != nullptr ||
           catalogue.filler(id) != nullptr || catalogue.adhesive(id) != nullptr;
}

Price priceOf(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    JsonFields fields(object, place, true);
    Price price;
    fields.text("material", price.material);
    if (!isMaterial(catalogue, price.material)) {
        place.member("material")
            .refuse(base::inQuotes(price.material),
                    "the id of a metal, gem, filler or adhesive of the catalogue");
    }
    price.price = fields.plainNumber("price", kMoney);
    readWord<PriceUnit>(fields, "per",
                        {{"g", PriceUnit::Gram},
                         {"ct", PriceUnit::Carat},
                         {"piece", PriceUnit::Piece},
                         {"mm", PriceUnit::Millimetre}},
                        price.unit);
    fields.finish();
    return price;
}

std::map<std::string, double> hoursOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kHours{0, 100, " hours"};
    if (!object.is_object()) place.refuse(shownJson(object), "an object of steps and their hours");
    std::map<std::string, double> hours;
    for (const auto& item : object.items())
        hours[item.key()] = JsonFields::numberOf(item.value(), place.member(item.key().c_str()), kHours);
    return hours;
}

void readMachines(JsonFields& document, Workshop& into) {
    const JsonPlace& place = document.place();
    if (const json* lathe = document.optional("lathe")) into.lathe = spindleOf(*lathe, place.member("lathe"));
    if (const json* mill = document.optional("mill")) into.mill = spindleOf(*mill, place.member("mill"));
    if (const json* divider = document.optional("divider"))
        into.divider = dividerOf(*divider, place.member("divider"));
}

void readCutters(JsonFields& document, Workshop& into) {
    readWord<ToolMaterial>(
        document, "turning-tools",
        {{"carbide", ToolMaterial::Carbide}, {"high-speed-steel", ToolMaterial::HighSpeedSteel}},
        into.turningTools);
    forEachOf(document, "boring-bars", [&](const json& entry, const JsonPlace& place) {
        into.boringBars.push_back(barOf(entry, place));
    });
    forEachOf(document, "grooving-blades", [&](const json& entry, const JsonPlace& place) {
        into.groovingBlades.push_back(bladeOf(entry, place));
    });
    if (const json* blade = document.optional("parting-blade"))
        into.partingBlade = bladeOf(*blade, document.place().member("parting-blade"));
    readDiameters(document, "drills", into.drills);
    readDiameters(document, "burs", into.burs);
    readDiameters(document, "reamers", into.reamers);
    readDiameters(document, "mandrels", into.mandrels);
}

void readInstruments(JsonFields& document, Workshop& into) {
    constexpr JsonRange kLeast{0.0001, 1, " mm"};
    readNumber(document, "micrometer", into.micrometer, kLeast);
    readNumber(document, "caliper", into.caliper, kLeast);
}

void readMoney(JsonFields& document, const Catalogue& catalogue, Workshop& into) {
    readText(document, "currency", into.currency);
    forEachOf(document, "prices", [&](const json& entry, const JsonPlace& place) {
        into.prices.push_back(priceOf(entry, place, catalogue));
    });
    readNumber(document, "hourly-rate", into.hourlyRate, kMoney);
    readNumber(document, "waste-percent", into.waste, kPercent);
    readNumber(document, "margin-percent", into.margin, kPercent);
    readNumber(document, "tax-percent", into.tax, kPercent);
    readNumber(document, "reclaim-percent", into.reclaim, kPercent);
    const json* days = document.optional("quote-days");
    if (days == nullptr) return;
    constexpr JsonRange kDays{1, 3650, " days"};
    const JsonPlace place = document.place().member("quote-days");
    if (!days->is_number_integer()) place.refuse(shownJson(*days), "a whole number of days");
    into.quoteDays = static_cast<int>(JsonFields::numberOf(*days, place, kDays));
}

}  // namespace

Workshop readWorkshop(const std::filesystem::path& file, const Catalogue& catalogue) {
    const std::string name = file.string();
    const json value = parsedOnce(base::wholeText(file, "workshop"), name);
    JsonFields document(value, {name, "$"}, false);
    Workshop workshop;
    if (const json* schema = document.optional("$schema")) document.textOf(*schema, "$schema");
    readText(document, "name", workshop.name);
    readText(document, "address", workshop.address);
    if (const json* region = document.optional("region"))
        workshop.region = regionOf(*region, document.place().member("region"));
    readWord<Paper>(document, "paper", {{"a4", Paper::A4}, {"a5", Paper::A5}, {"letter", Paper::Letter}},
                    workshop.paper);
    readMachines(document, workshop);
    readCutters(document, workshop);
    readInstruments(document, workshop);
    forEachOf(document, "stock", [&](const json& entry, const JsonPlace& place) {
        workshop.stock.push_back(stockOf(entry, place, catalogue));
    });
    readMoney(document, catalogue, workshop);
    if (const json* hours = document.optional("hours"))
        workshop.hours = hoursOf(*hours, document.place().member("hours"));
    document.finish();
    return workshop;
}

}  // namespace bandwright::trade
