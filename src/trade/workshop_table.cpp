#include "workshop_table.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

namespace bandwright::trade {

namespace {

using Out = nlohmann::ordered_json;

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

/// What keeps its value where nothing is told.
void readNumber(JsonFields& fields, const char* key, double& into, const JsonRange& range) {
    if (const json* value = fields.optional(key))
        into = JsonFields::numberOf(*value, fields.place().member(key), range);
}

void readText(JsonFields& fields, const char* key, std::string& into) {
    if (const json* value = fields.optional(key)) into = fields.textOf(*value, key);
}

/// Words of the file and what they mean.
template <typename Meaning>
using Words = std::vector<std::pair<std::string_view, Meaning>>;

template <typename Meaning>
Meaning meaningOf(const json& value, const JsonPlace& place, const Words<Meaning>& words) {
    std::vector<std::string_view> names;
    for (const auto& [word, meaning] : words) {
        if (value == word) return meaning;
        names.push_back(word);
    }
    place.refuse(shownJson(value), base::inWords(names, "or"));
}

template <typename Meaning>
std::string wordOf(Meaning meant, const Words<Meaning>& words) {
    for (const auto& [word, meaning] : words)
        if (meaning == meant) return std::string(word);
    return {};
}

const Words<PriceUnit>& priceUnits() {
    static const Words<PriceUnit> words = {{"g", PriceUnit::Gram},
                                           {"ct", PriceUnit::Carat},
                                           {"piece", PriceUnit::Piece},
                                           {"mm", PriceUnit::Millimetre}};
    return words;
}

const Words<DividerKind>& dividerKinds() {
    static const Words<DividerKind> words = {
        {"head", DividerKind::Head}, {"degrees", DividerKind::Degrees}, {"plate", DividerKind::Plate}};
    return words;
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
    divider.kind = meaningOf(*fields.wanted("kind"), place.member("kind"), dividerKinds());
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
           catalogue.filler(id) != nullptr || catalogue.adhesive(id) != nullptr || id == kSilverSolder;
}

Price priceOf(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    JsonFields fields(object, place, true);
    Price price;
    fields.text("material", price.material);
    if (!isMaterial(catalogue, price.material)) {
        place.member("material")
            .refuse(base::inQuotes(price.material),
                    "the id of a metal, gem, filler or adhesive of the catalogue, or silver-solder");
    }
    price.price = fields.plainNumber("price", kMoney);
    if (const json* per = fields.optional("per"))
        price.unit = meaningOf(*per, place.member("per"), priceUnits());
    fields.finish();
    return price;
}

OwnLimit limitOf(const json& object, const JsonPlace& place, const Catalogue& catalogue) {
    constexpr JsonRange kLimitRange{-1000, 100000, ""};
    JsonFields fields(object, place, true);
    OwnLimit own;
    fields.text("rule", own.rule);
    readText(fields, "metal", own.metal);
    if (!own.metal.empty() && catalogue.metal(own.metal) == nullptr)
        place.member("metal").refuse(base::inQuotes(own.metal), "the id of a metal of the catalogue");
    own.limit = own.comfortable = fields.plainNumber("limit", kLimitRange);
    readNumber(fields, "comfortable", own.comfortable, kLimitRange);
    fields.finish();
    return own;
}

std::map<std::string, double> hoursOf(const json& object, const JsonPlace& place) {
    constexpr JsonRange kHours{0, 100, " hours"};
    if (!object.is_object()) place.refuse(shownJson(object), "an object of steps and their hours");
    std::map<std::string, double> hours;
    for (const auto& item : object.items())
        hours[item.key()] = JsonFields::numberOf(item.value(), place.member(item.key().c_str()), kHours);
    return hours;
}

/// 80 and not 80.0, as a person writes it.
Out written(double number) {
    const auto whole = static_cast<std::int64_t>(number);
    return static_cast<double>(whole) == number ? Out(whole) : Out(number);
}

/// The same the other way. A key whose value says nothing is left out, as a person leaves it out.
Out written(const Spindle& spindle) {
    if (!spindle.steps.empty()) {
        Out out = {{"steps", Out::array()}};
        for (const double step : spindle.steps)
            out["steps"].push_back(written(step));
        return out;
    }
    return {{"least", written(spindle.least)}, {"most", written(spindle.most)}};
}

Out written(const BoringBar& bar) {
    Out out = {{"diameter", written(bar.diameter)}};
    if (bar.reach > 0) out["reach"] = written(bar.reach);
    if (bar.carbide) out["carbide"] = true;
    return out;
}

Out written(const Blade& blade) {
    Out out = {{"width", written(blade.width)}};
    if (blade.nose > 0) out["nose"] = written(blade.nose);
    return out;
}

Out written(const Divider& divider) {
    Out out = {{"kind", wordOf(divider.kind, dividerKinds())}};
    if (divider.kind == DividerKind::Head) out["ratio"] = written(divider.ratio);
    if (divider.kind != DividerKind::Degrees) out["circles"] = divider.circles;
    return out;
}

Out written(const Stock& stock) {
    Out out = Out::object();
    if (!stock.metal.empty()) out["metal"] = stock.metal;
    out["diameter"] = written(stock.diameter);
    if (stock.bore > 0) out["bore"] = written(stock.bore);
    if (stock.length > 0) out["length"] = written(stock.length);
    return out;
}

Out written(const Price& price) {
    Out out = {{"material", price.material}, {"price", written(price.price)}};
    if (price.unit != PriceUnit::Gram) out["per"] = wordOf(price.unit, priceUnits());
    return out;
}

Out written(const OwnLimit& own) {
    Out out = {{"rule", own.rule}};
    if (!own.metal.empty()) out["metal"] = own.metal;
    out["limit"] = written(own.limit);
    if (own.comfortable != own.limit) out["comfortable"] = written(own.comfortable);
    return out;
}

template <typename Value>
Out written(const std::vector<Value>& list) {
    Out out;
    for (const Value& each : list)
        out.push_back(written(each));
    return out;
}

WorkshopRow text(WorkshopField field, std::string Workshop::*member) {
    field.form = WorkshopForm::Text;
    return {std::move(field),
            [member](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                if (!value.is_string() || value.get_ref<const std::string&>().empty())
                    place.refuse(shownJson(value), "a text that is not empty");
                into.*member = value.get<std::string>();
            },
            [member](const Workshop& shop) { return (shop.*member).empty() ? Out() : Out(shop.*member); }};
}

/// A number; where the member is no optional, nothing is told with 0.
template <typename Number>
WorkshopRow number(WorkshopField field, Number Workshop::*member, const JsonRange& range) {
    return {std::move(field),
            [member, range](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                into.*member = JsonFields::numberOf(value, place, range);
            },
            [member](const Workshop& shop) {
                const std::optional<double> told = shop.*member;
                return told && (*told > 0 || !std::is_same_v<Number, double>) ? written(*told) : Out();
            }};
}

WorkshopRow whole(WorkshopField field, std::optional<int> Workshop::*member, const JsonRange& range,
                  const char* what) {
    return {std::move(field),
            [=](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                if (!value.is_number_integer()) place.refuse(shownJson(value), what);
                into.*member = static_cast<int>(JsonFields::numberOf(value, place, range));
            },
            [member](const Workshop& shop) { return shop.*member ? Out(*(shop.*member)) : Out(); }};
}

template <typename Meaning, typename Member>
WorkshopRow word(WorkshopField field, Member Workshop::*member, Words<Meaning> words) {
    field.form = WorkshopForm::Word;
    return {std::move(field),
            [=](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                into.*member = meaningOf(value, place, words);
            },
            [=](const Workshop& shop) {
                const std::optional<Meaning> told = shop.*member;
                return told ? Out(wordOf(*told, words)) : Out();
            }};
}

WorkshopRow sizes(WorkshopField field, std::vector<double> Workshop::*member) {
    field.form = WorkshopForm::Sizes;
    return {std::move(field),
            [member](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                into.*member = diametersOf(value, place);
            },
            [member](const Workshop& shop) { return written(shop.*member); }};
}

/// An object with its reader.
template <typename Record>
WorkshopRow record(WorkshopField field, std::optional<Record> Workshop::*member,
                   Record (*read)(const json&, const JsonPlace&)) {
    return {std::move(field),
            [=](const json& value, const JsonPlace& place, const Catalogue&, Workshop& into) {
                into.*member = read(value, place);
            },
            [member](const Workshop& shop) { return shop.*member ? written(*(shop.*member)) : Out(); }};
}

template <typename Record, typename Read>
WorkshopRow records(WorkshopField field, std::vector<Record> Workshop::*member, Read read) {
    field.form = WorkshopForm::Records;
    return {std::move(field),
            [=](const json& list, const JsonPlace& place, const Catalogue& catalogue, Workshop& into) {
                if (!list.is_array()) place.refuse(shownJson(list), "a list");
                (into.*member).clear();
                for (std::size_t i = 0; i < list.size(); ++i)
                    (into.*member).push_back(read(list[i], place.element(i), catalogue));
            },
            [member](const Workshop& shop) { return written(shop.*member); }};
}

std::vector<WorkshopRow> makeRows() {
    using W = Workshop;
    using Form = WorkshopForm;
    constexpr JsonRange kLeast{0.0001, 1, " mm"}, kDays{1, 3650, " days"};
    const auto bar = [](const json& v, const JsonPlace& at, const Catalogue&) { return barOf(v, at); };
    const auto blade = [](const json& v, const JsonPlace& at, const Catalogue&) { return bladeOf(v, at); };
    std::vector<WorkshopRow> rows;
    rows.push_back(text({"name", "Papers", "Name", "as it stands on papers", "every paper"}, &W::name));
    rows.push_back(
        text({"address", "Papers", "Address", "one line, for papers", "every paper"}, &W::address));
    rows.push_back(
        word<Region>({"region", "Papers", "Sold in", "eu-uk or elsewhere, for what the law there forbids",
                      "the check of what the law forbids"},
                     &W::region, {{"eu-uk", Region::EuUk}, {"elsewhere", Region::Elsewhere}}));
    rows.push_back(word<Paper>({"paper", "Papers", "Paper", "a4, a5 or letter", ""}, &W::paper,
                               {{"a4", Paper::A4}, {"a5", Paper::A5}, {"letter", Paper::Letter}}));
    rows.push_back(
        record<Spindle>({"lathe", "Machines", "Lathe", "rev/min: 80 to 2500, or its steps: 250, 500, 900",
                         "the speed to set in turning", Form::Spindle},
                        &W::lathe, spindleOf));
    rows.push_back(record<Spindle>({"mill", "Machines", "Mill or drill press", "rev/min, as of the lathe",
                                    "the speed to set in drilling", Form::Spindle},
                                   &W::mill, spindleOf));
    rows.push_back(word<ToolMaterial>(
        {"turning-tools", "Tools", "Turning tools", "carbide or high-speed-steel", ""}, &W::turningTools,
        {{"carbide", ToolMaterial::Carbide}, {"high-speed-steel", ToolMaterial::HighSpeedSteel}}));
    rows.push_back(records({"boring-bars",
                            "Tools",
                            "Boring bars",
                            "diameter, such as 8 reach 32, and carbide if it is",
                            "the bar for the bore",
                            Form::Records,
                            {"diameter"},
                            {"reach"},
                            {"carbide"}},
                           &W::boringBars, bar));
    rows.push_back(records({"grooving-blades",
                            "Tools",
                            "Grooving blades",
                            "width, such as 1 nose 0.1",
                            "the blade for channels",
                            Form::Records,
                            {"width"},
                            {"nose"}},
                           &W::groovingBlades, blade));
    rows.push_back(record<Blade>({"parting-blade",
                                  "Tools",
                                  "Parting blade",
                                  "width, such as 2 nose 0.1",
                                  "the length of the blank",
                                  Form::Record,
                                  {"width"},
                                  {"nose"}},
                                 &W::partingBlade, bladeOf));
    rows.push_back(
        sizes({"drills", "Tools", "Drills", "diameters: 0.8, 1, 1.2", "the choice of drills"}, &W::drills));
    rows.push_back(sizes({"burs", "Tools", "Burs", "diameters", "the choice of burs for seats"}, &W::burs));
    rows.push_back(sizes({"reamers", "Tools", "Reamers", "diameters", "the choice of reamers"}, &W::reamers));
    rows.push_back(sizes({"mandrels", "Tools", "Mandrels", "diameters; of an expanding one its least",
                          "what the bored ring is held on"},
                         &W::mandrels));
    rows.push_back(
        record<Divider>({"divider", "Dividing", "Dividing", "head 40: 15, 16, 17 or plate: 24, 36 or degrees",
                         "turns and holes for each stone", Form::Divider},
                        &W::divider, dividerOf));
    rows.push_back(number({"micrometer", "Instruments", "Micrometer", "the least it shows, mm",
                           "which readings are by micrometer"},
                          &W::micrometer, kLeast));
    rows.push_back(number({"caliper", "Instruments", "Caliper", "the least it shows, mm",
                           "how readings by caliper are rounded"},
                          &W::caliper, kLeast));
    rows.push_back(records(
        {"stock",
         "Stock",
         "Stock",
         "metal diameter, such as titanium-grade-5 25.4 length 300; "
         "bore 18 for a tube; without a metal a size that any is sold in; without a length one that is sold",
         "what the ring is cut from",
         Form::Records,
         {"metal", "diameter"},
         {"bore", "length"}},
        &W::stock, stockOf));
    rows.push_back(word<ToleranceClass>(
        {"tolerance-class", "Tolerances", "General", "of ISO 2768-1: fine, medium, coarse or very-coarse",
         "what the workshop keeps, taken as medium,"},
        &W::toleranceClass,
        {{"fine", ToleranceClass::Fine},
         {"medium", ToleranceClass::Medium},
         {"coarse", ToleranceClass::Coarse},
         {"very-coarse", ToleranceClass::VeryCoarse}}));
    rows.push_back(
        records({"limits",
                 "Limits",
                 "Your own",
                 "rule and limit, such as tube-proud 0.5 comfortable 0.35, and metal with its id where "
                 "it holds for that alone; a gauge's limit is changed by a click on it, too",
                 "",
                 Form::Records,
                 {"rule", "limit"},
                 {"metal", "comfortable"}},
                &W::limits, limitOf));
    rows.push_back(
        text({"currency", "Money", "Currency", "as it stands beside a sum: EUR", "quotes"}, &W::currency));
    rows.push_back(records({"prices",
                            "Money",
                            "Prices",
                            "material price, such as emerald 300 per ct or silver-solder 1.6; per g unless "
                            "it says ct, piece or mm",
                            "the materials of a quote",
                            Form::Records,
                            {"material", "price"},
                            {"per"}},
                           &W::prices, priceOf));
    rows.push_back(number({"hourly-rate", "Money", "Hourly rate", "in the currency", "the work of a quote"},
                          &W::hourlyRate, kMoney));
    rows.push_back(number({"waste-percent", "Money", "Waste", "percent of material", "waste in a quote"},
                          &W::waste, kPercent));
    rows.push_back(
        number({"margin-percent", "Money", "Margin", "percent on the cost", "the margin of a quote"},
               &W::margin, kPercent));
    rows.push_back(number({"tax-percent", "Money", "Tax", "percent on the price", "the tax of a quote"},
                          &W::tax, kPercent));
    rows.push_back(
        number({"reclaim-percent", "Money", "Reclaim",
                "percent of its price that chips of a precious metal bring back", "what chips bring back"},
               &W::reclaim, kPercent));
    rows.push_back(whole({"quote-days", "Money", "A quote stands", "days", "the last day of a quote"},
                         &W::quoteDays, kDays, "a whole number of days"));
    rows.push_back({{"hours", "Hours", "Hours", "your own for a step: polished 0.75; filled 1.5",
                     "the hours of a quote, guessed without it", Form::Hours},
                    [](const json& value, const JsonPlace& place, const Catalogue&, W& into) {
                        into.hours = hoursOf(value, place);
                    },
                    [](const W& shop) {
                        Out out;
                        for (const auto& [step, each] : shop.hours)
                            out[step] = written(each);
                        return out;
                    }});
    return rows;
}

}  // namespace

const std::vector<WorkshopRow>& workshopRows() {
    static const std::vector<WorkshopRow> rows = makeRows();
    return rows;
}

}  // namespace bandwright::trade
