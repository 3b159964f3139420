#include "app/route_text.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "geometry/feature.hpp"
#include "route/shown.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kIndented = 4, kLabelled = 10;

/// A label in its own column and the text wrapped beside it.
std::string labelled(const std::string& label, const std::string& text, const TextStyle& style) {
    const std::string indent(kIndented, ' ');
    return indent + padded(label, kLabelled) + wrapped(text, style.width, kIndented + kLabelled) + "\n";
}

std::string readingsText(const std::vector<route::Reading>& readings, const TextStyle& style) {
    int what = 0, value = 0, limits = 0;
    std::vector<route::Shown> shown;
    const auto limitsOf = [](const route::Shown& s) {
        return s.least == s.most ? std::string() : s.least + " to " + s.most;
    };
    for (const route::Reading& reading : readings) {
        shown.push_back(route::shown(reading));
        what = std::max(what, columns(reading.what));
        value = std::max(value, columns(shown.back().value + " " + shown.back().unit));
        limits = std::max(limits, columns(limitsOf(shown.back())));
    }
    std::string out;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const std::string line = padded(readings[i].what, what) + "  " +
                                 rightAligned(shown[i].value + " " + shown[i].unit, value) + "  " +
                                 rightAligned(limitsOf(shown[i]), limits) + "  " +
                                 route::name(readings[i].instrument);
        out += std::string(kIndented, ' ') + padded(i == 0 ? "read" : "", kLabelled);
        out += columns(line) + kIndented + kLabelled <= style.width
                   ? line
                   : readings[i].what + "\n" + std::string(kIndented + kLabelled + 2, ' ') +
                         inOneLine(shown[i]) + ", " + route::name(readings[i].instrument);
        if (!readings[i].size.empty()) {
            out += "\n" + std::string(kIndented + kLabelled + 2, ' ') + "about " + readings[i].size;
        }
        out += "\n";
    }
    return out;
}

std::string waitText(double minutes) {
    constexpr double kHour = 60;
    if (minutes <= 0) return "";
    return minutes >= 2 * kHour ? ", then " + base::fixed(minutes / kHour, 0) + " hours"
                                : ", then " + base::fixed(minutes, 0) + " minutes";
}

void tellAll(std::vector<Told>& told, const std::string& label, const std::vector<std::string>& texts) {
    for (const std::string& text : texts)
        told.push_back({&text == &texts.front() ? label : "", text});
}

std::string placeText(const route::Indexing& place) {
    std::string text =
        "hole " + std::to_string(place.place) + " at " + base::fixed(place.angle, 2) + "\u00B0: " + place.set;
    if (place.errorMinutes != 0) text += " (" + base::fixed(place.errorMinutes, 1) + "' off)";
    return text;
}

std::string layerText(const route::Layer& layer) {
    const std::string adhesive = base::fixed(layer.adhesive, 3) + " g of adhesive" +
                                 (layer.drops > 0 ? ", " + base::fixed(layer.drops, 0) + " drops" : "");
    return base::fixed(layer.depth, 3) + " mm: " + base::fixed(layer.grains, 3) + " g of grains, " +
           adhesive + waitText(layer.waitMinutes);
}

std::string printed(const std::vector<Told>& told, const TextStyle& style) {
    std::string out;
    for (const Told& line : told)
        out += labelled(line.label, line.text, style);
    return out;
}

std::string operationText(const route::Operation& operation, int number, const TextStyle& style) {
    std::string out = rightAligned(std::to_string(number), 2) + "  " + operation.name + "\n";
    out += printed(toldBeforeReading(operation), style);
    out += readingsText(operation.readings, style);
    return out + printed(toldAfterReading(operation), style) + "\n";
}

std::string gaugeText(const route::Tightest& gauge) {
    return gauge.what + " " + gauge.value + ", limit " + gauge.limit + ", " + gauge.verdict;
}

std::string stageText(const route::StageWork& work, const TextStyle& style) {
    std::string name(design::word(work.stage).label);
    std::ranges::transform(name, name.begin(),
                           [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    std::string out = name + "\n";
    out += labelled("after it",
                    "the metal weighs " + base::fixed(work.mass, 2) + " g, the chips " +
                        base::fixed(std::max(0.0, work.chipMass), 2) + " g; " +
                        (work.ownHours ? "your " : "about ") + base::fixed(work.hours, 2) + " h.",
                    style);
    if (work.wall) out += labelled("wall", gaugeText(*work.wall), style);
    if (work.gauge && (!work.wall || work.gauge->what != work.wall->what))
        out += labelled("worst", gaugeText(*work.gauge), style);
    return out + "\n";
}

Json readingJson(const route::Reading& reading) {
    const auto point = [](geometry::Vec2 p) { return Json::array({p.z, p.r}); };
    static constexpr std::array<const char*, 6> kSpans = {"diameter",      "along", "radial",
                                                          "hole-diameter", "angle", "mass"};
    Json json = {{"what", reading.what},
                 {"instrument", route::name(reading.instrument)},
                 {"span", kSpans[static_cast<std::size_t>(reading.span)]},
                 {"value", reading.value},
                 {"least", reading.least},
                 {"most", reading.most},
                 {"unit", route::shown(reading).unit},
                 {"from", point(reading.from)},
                 {"to", point(reading.to)},
                 {"from-feature", geometry::name(reading.fromTag.feature)},
                 {"to-feature", geometry::name(reading.toTag.feature)}};
    if (reading.loose != 0) json["loose"] = reading.loose;
    if (!reading.size.empty()) json["size"] = reading.size;
    if (!reading.field.empty()) json["field"] = reading.field;
    return json;
}

Json cutJson(const route::Cut& cut) {
    Json json = {{"speed", cut.speed},     {"diameter", cut.diameter}, {"spindle", cut.spindle},
                 {"clipped", cut.clipped}, {"feed", cut.feed},         {"dial", cut.dial},
                 {"along", cut.along},     {"source", cut.source}};
    if (!cut.across.empty()) json["across"] = cut.across;
    return json;
}

Json indexingJson(const std::vector<route::Indexing>& places) {
    Json list = Json::array();
    for (const route::Indexing& p : places)
        list.push_back({{"place", p.place},
                        {"angle", p.angle},
                        {"turns", p.turns},
                        {"holes", p.holes},
                        {"circle", p.circle},
                        {"error-minutes", p.errorMinutes},
                        {"set", p.set}});
    return list;
}

Json layersJson(const std::vector<route::Layer>& layers) {
    Json list = Json::array();
    for (const route::Layer& l : layers)
        list.push_back({{"depth", l.depth},
                        {"grains", l.grains},
                        {"adhesive", l.adhesive},
                        {"drops", l.drops},
                        {"wait-minutes", l.waitMinutes}});
    return list;
}

Json operationJson(const route::Operation& operation) {
    Json json = {{"name", operation.name}, {"hold", operation.hold}, {"tool", operation.tool}};
    if (operation.cut) json["cut"] = cutJson(*operation.cut);
    json["doing"] = operation.doing;
    if (!operation.indexing.empty()) json["indexing"] = indexingJson(operation.indexing);
    if (!operation.layers.empty()) json["layers"] = layersJson(operation.layers);
    json["readings"] = Json::array();
    for (const route::Reading& reading : operation.readings)
        json["readings"].push_back(readingJson(reading));
    json["cautions"] = operation.cautions;
    json["missing"] = operation.missing;
    json["minutes"] = operation.minutes;
    return json;
}

/// What to have at hand, each need once with the units it is sold in.
std::string quantitiesText(const route::Quantities& quantities, const TextStyle& style) {
    if (quantities.items.empty()) return "";
    std::string out = "TO HAVE AT HAND\n", last;
    for (const route::Quantity& item : quantities.items) {
        if (item.what != last)
            out += std::string(kIndented, ' ') + wrapped(item.what, style.width, kIndented) + "\n";
        last = item.what;
        const bool fine = std::abs(item.amount) < 1;
        const std::string amount =
            base::shortestNumber(base::roundedTo(item.amount, fine ? 3 : 2)) + " " +
            (item.amount == 1 && item.unit.ends_with("s") ? item.unit.substr(0, item.unit.size() - 1)
                                                          : item.unit);
        out += std::string(kIndented, ' ') + padded("", 2) + padded(amount, kLabelled + 2) +
               wrapped(item.how, style.width, kIndented + kLabelled + 4) + "\n";
    }
    // As printed, so that the difference can be taken by hand.
    const double taken = base::roundedTo(quantities.blankMass, 2);
    const double left = base::roundedTo(quantities.finishedMass, 2);
    out += labelled("chips",
                    base::fixed(taken, 2) + " g taken - " + base::fixed(left, 2) +
                        " g in the ring = " + base::fixed(taken - left, 2) + " g" +
                        (quantities.reclaimed > 0 ? ", of which a refiner pays for about " +
                                                        base::fixed(quantities.reclaimed, 2) + " g"
                                                  : "") +
                        ".",
                    style);
    return out + "\n";
}

Json quantitiesJson(const route::Quantities& quantities) {
    Json items = Json::array();
    for (const route::Quantity& item : quantities.items)
        items.push_back({{"what", item.what},
                         {"material", item.material},
                         {"amount", item.amount},
                         {"unit", item.unit},
                         {"needed", item.needed},
                         {"how", item.how}});
    return {{"items", std::move(items)},
            {"blank-mass", quantities.blankMass},
            {"finished-mass", quantities.finishedMass},
            {"chip-mass", quantities.chipMass},
            {"reclaimed", quantities.reclaimed}};
}

Json gaugeJson(const route::Tightest& gauge) {
    return {{"what", gauge.what}, {"value", gauge.value}, {"limit", gauge.limit}, {"verdict", gauge.verdict}};
}

}  // namespace

std::vector<Told> toldBeforeReading(const route::Operation& operation) {
    std::vector<Told> told;
    if (!operation.hold.empty()) told.push_back({"hold", operation.hold});
    if (!operation.tool.empty()) told.push_back({"tool", base::capitalised(operation.tool) + "."});
    if (const auto& cut = operation.cut) {
        told.push_back({"speed", inOneLine(*cut) + ". " + base::capitalised(cut->source) + "."});
        if (!cut->dial.empty()) {
            told.push_back(
                {"dial", base::joined(dialText(*cut)) + " mm " + cut->along + " from where it touches."});
        }
    }
    tellAll(told, "do", operation.doing);
    std::vector<std::string> texts;
    std::ranges::transform(operation.indexing, std::back_inserter(texts), placeText);
    tellAll(told, "divide", texts);
    texts.clear();
    std::ranges::transform(operation.layers, std::back_inserter(texts), layerText);
    tellAll(told, "layers", texts);
    return told;
}

std::vector<Told> toldAfterReading(const route::Operation& operation) {
    std::vector<Told> told;
    tellAll(told, "caution", operation.cautions);
    tellAll(told, "not told", operation.missing);
    return told;
}

std::string routeText(const design::Design& design, const route::Plan& plan, const trade::Workshop& workshop,
                      const trade::Catalogue& catalogue, const TextStyle& style) {
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    std::string out = design.title + "\n" + trade::formatRingSize(design.finger.size) + ", " +
                      base::fixed(design.band.width, 2) + " mm wide, " +
                      base::fixed(design.band.thickness, 2) + " mm thick, " +
                      (metal != nullptr ? metal->name : design.band.metal) + "\n";
    if (!workshop.name.empty()) out += workshop.name + "\n";
    out += "\n" +
           wrapped(
               "The right-hand side is the one towards the tailstock while the ring is on its bar. "
               "Dials count on the radius: twice as much on a dial that counts the diameter.",
               style.width, 0) +
           "\n\n";
    out += quantitiesText(plan.quantities, style);
    int number = 0;
    for (const route::StageWork& work : plan.stages) {
        out += stageText(work, style);
        if (design::isDone(design, work.stage)) {
            out += std::string(kIndented, ' ') +
                   wrapped(route::doneText(design, work.stage), style.width, kIndented) + "\n\n";
            continue;
        }
        for (const route::Operation& operation : work.operations)
            out += operationText(operation, ++number, style);
    }
    return out;
}

std::string routeJson(const design::Design& design, const route::Plan& plan) {
    Json stages = Json::array();
    for (const route::StageWork& work : plan.stages) {
        Json entry = {{"stage", design::name(work.stage)},
                      {"done", design::isDone(design, work.stage)},
                      {"volume", work.volume},
                      {"chips", work.chips},
                      {"mass", work.mass},
                      {"chip-mass", work.chipMass},
                      {"hours", work.hours},
                      {"own-hours", work.ownHours}};
        if (work.wall) entry["wall"] = gaugeJson(*work.wall);
        if (work.gauge) entry["gauge"] = gaugeJson(*work.gauge);
        entry["operations"] = Json::array();
        for (const route::Operation& operation : work.operations)
            entry["operations"].push_back(operationJson(operation));
        stages.push_back(std::move(entry));
    }
    Json object = {{"design", design.title}, {"stages", std::move(stages)}};
    if (!plan.quantities.items.empty()) object["quantities"] = quantitiesJson(plan.quantities);
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bandwright::app
