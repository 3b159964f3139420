#include "mutate.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <vector>

#include "base/input_error.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "random_design.hpp"
#include "trade/catalogue.hpp"

namespace bandwright::fuzz {

namespace {

using Json = nlohmann::ordered_json;

std::size_t below(std::size_t count, Random& random) {
    return std::uniform_int_distribution<std::size_t>(0, count - 1)(random);
}
bool oneIn(std::size_t count, Random& random) {
    return below(count, random) == 0;
}
template <class Items>
const auto& anyOf(const Items& items, Random& random) {
    return items[below(items.size(), random)];
}

double otherNumber(double value, Random& random) {
    constexpr std::array<double, 12> kEdges = {0,     -0.0,   1,   -1,    1e-9,         1e-320,
                                               1e300, -1e300, 255, 65536, 4294967296.0, 0.1};
    switch (below(5, random)) {
        case 0:
            return anyOf(kEdges, random);
        case 1:
            return -value;
        case 2:
            return std::nextafter(value, oneIn(2, random) ? 1e300 : -1e300);
        case 3:
            return value * std::uniform_real_distribution<double>(0, 3)(random);
        default:
            return std::round(value * 10) / 10;
    }
}

std::string otherText(std::string text, Random& random) {
    static const std::vector<std::string> kTexts = {
        "",      "3/8 in",  "US 9 1/2",    "UK R 1/2", "18.95 mm",
        "1e999", "\u202e.", "../../x.obj", "0/0",      std::string(3000, 'x')};
    if (text.empty() || oneIn(3, random)) return anyOf(kTexts, random);
    text[below(text.size(), random)] = static_cast<char>(' ' + below(95, random));
    return text;
}

void collect(Json& json, std::vector<Json*>& all) {
    all.push_back(&json);
    if (json.is_structured())
        for (Json& item : json)
            collect(item, all);
}

Json otherValue(const Json& value, const std::vector<Json*>& all, Random& random) {
    if (oneIn(4, random)) return *anyOf(all, random);
    if (value.is_number()) return otherNumber(value.get<double>(), random);
    if (value.is_string()) return otherText(value.get<std::string>(), random);
    if (value.is_boolean()) return !value.get<bool>();
    static const std::vector<Json> kKinds = {nullptr, true, 0, "", Json::array(), Json::object()};
    return anyOf(kKinds, random);
}

void changeItems(Json& json, Random& random) {
    const std::size_t at = below(json.size(), random);
    if (json.is_array()) {
        if (oneIn(2, random)) {
            json.push_back(Json(json[at]));
        } else {
            json.erase(at);
        }
        return;
    }
    auto item = json.begin();
    std::advance(item, at);
    if (oneIn(2, random)) {
        json.erase(item);
    } else {
        const Json value = item.value();
        json[otherText(item.key(), random)] = value;
    }
}

std::string dumped(const Json& json) {
    return json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

std::string newNumber(const design::NumberField& range, double now, Random& random) {
    const double span = range.most - range.least;
    const auto any = [&] {
        return range.least + span * std::uniform_real_distribution<double>(0, 1)(random);
    };
    double value = now;
    switch (below(8, random)) {
        case 0:
            value = range.least;
            break;
        case 1:
            value = range.most;
            break;
        case 2:
            value = now + range.grid * (oneIn(2, random) ? 1 : -1);
            break;
        case 3:
            value = otherNumber(now, random);
            break;
        case 4:
            value = now + 1e-9 * span * std::uniform_real_distribution<double>(-1, 1)(random);
            break;
        default:
            value = any();
            if (range.grid > 0 && !oneIn(3, random)) value = range.grid * std::round(value / range.grid);
    }
    return Json(value).dump();
}

const std::vector<std::string>& materials() {
    static const std::vector<std::string> ids = [] {
        std::vector<std::string> all = {"unobtainium"};
        const trade::Catalogue catalogue = trade::builtInCatalogue();
        for (const auto& metal : catalogue.metals)
            all.push_back(metal.id);
        for (const auto& gem : catalogue.gems)
            all.push_back(gem.id);
        for (const auto& filler : catalogue.fillers)
            all.push_back(filler.id);
        return all;
    }();
    return ids;
}

/// In place, so that only this field changes.
void changeField(design::Design& design, Random& random) {
    const std::vector<design::Field> fields = design::fieldsIn(design);
    const design::Field& field = anyOf(fields, random);
    const design::FieldValue value = design::valueAt(design, field.path);
    if (auto* const* number = std::get_if<double*>(&value)) {
        const std::vector<design::DesignNumber> others = design::numbersIn(design);
        **number = oneIn(4, random) ? anyOf(others, random).value
                                    : Json::parse(newNumber(field.number, **number, random)).get<double>();
    } else if (int* const* count = std::get_if<int*>(&value)) {
        **count = static_cast<int>(
            field.number.least +
            static_cast<double>(
                below(static_cast<std::size_t>(field.number.most - field.number.least) + 1, random)));
        if (!oneIn(4, random)) **count = std::min(**count, 12);
    } else if (std::string* const* text = std::get_if<std::string*>(&value)) {
        **text = field.control == design::Control::MaterialList ? anyOf(materials(), random)
                                                                : otherText(**text, random);
    } else if (const auto* choice = std::get_if<design::WordChoice>(&value)) {
        choice->choose(below(choice->options.size(), random));
    } else if (const auto* part = std::get_if<design::PartSwitch>(&value)) {
        part->put(!part->isThere);
    } else if (trade::RingSize* const* size = std::get_if<trade::RingSize*>(&value)) {
        (*size)->value = 10 + 20 * std::uniform_real_distribution<double>(0, 1)(random);
    }
}

template <class Items>
void changeList(Items& items, std::size_t most, Random& random) {
    if (!items.empty() && oneIn(2, random)) {
        items.erase(items.begin() + static_cast<std::ptrdiff_t>(below(items.size(), random)));
    } else if (items.size() < most) {
        auto item = items.empty() ? typename Items::value_type{} : anyOf(items, random);
        items.push_back(std::move(item));
    }
}

}  // namespace

std::string withValueChanged(const std::string& text, Random& random) {
    Json json = Json::parse(text, nullptr, false);
    if (json.is_discarded()) return text;
    std::vector<Json*> all;
    collect(json, all);
    Json& one = *anyOf(all, random);
    if (one.is_structured() && !one.empty() && !oneIn(8, random)) {
        changeItems(one, random);
    } else {
        one = otherValue(one, all, random);
    }
    return dumped(json);
}

std::string withFieldChanged(const std::string& text, Random& random) {
    design::Design design;
    try {
        design = design::parseDesign(text, "");
    } catch (const base::InputError&) {
        design = geometry::randomDesign(random() % 100'000);
    }
    try {
        for (std::size_t i = below(3, random) + 1; i > 0; --i)
            changeField(design, random);
        if (oneIn(8, random)) changeList(design.channels, 8, random);
        if (oneIn(8, random)) changeList(design.settings, 8, random);
        if (!design.settings.empty() && oneIn(8, random))
            changeList(design.settings[below(design.settings.size(), random)].hole.steps, 4, random);
        return design::formatDesign(design);
    } catch (const base::InputError&) {
        // Not to be written, but the reader may be handed it.
        return withValueChanged(text, random);
    }
}

}  // namespace bandwright::fuzz
