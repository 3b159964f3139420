#include "app/report_text.hpp"

#include <algorithm>
#include <array>
#include <map>
#include <nlohmann/json.hpp>

#include "base/numbers.hpp"
#include "check/cautions.hpp"
#include "check/figures.hpp"
#include "check/weighed.hpp"
#include "geometry/feature.hpp"

namespace bandwright::app {

namespace {

using Json = nlohmann::ordered_json;

constexpr int kSentenceIndent = 12;  ///< of sentences under a gauge: the width of the verdict's mark and word

const char* markOf(check::Verdict verdict) {
    switch (verdict) {
        case check::Verdict::Go:
            return "\u25CF";
        case check::Verdict::Marginal:
            return "\u25B2";
        case check::Verdict::NoGo:
            return "\u25A0";
    }
    return "";
}

/// Cyan, yellow and red, of the eight colours every terminal has, are distinct in all common kinds of colour
/// vision. The shape and the word say the same.
std::string coloured(const std::string& text, check::Verdict verdict, const TextStyle& style) {
    if (!style.colour) return text;
    static constexpr std::array<const char*, 3> kCodes = {"\033[36m", "\033[1;33m", "\033[1;31m"};
    return kCodes[static_cast<std::size_t>(verdict)] + text + "\033[0m";
}

std::string withUnit(const std::string& number, const std::string& unit) {
    return number.empty() || unit.empty() ? number : number + " " + unit;
}

std::string between(const check::Measure& measure) {
    const std::string from = geometry::name(measure.fromTag.feature),
                      to = geometry::name(measure.toTag.feature);
    return from == to ? from : from + " \u2013 " + to;
}

/// A chance in percent, as exact as a thousand rings can tell.
std::string percent(double share) {
    if (share > 0 && share < 0.001) return "<0.1 %";
    return base::fixed(100 * share, 1) + " %";
}

std::string chances(const check::Spread& spread) {
    return percent(spread.noGoBySquares) + (spread.noGoByLot ? " / " + percent(*spread.noGoByLot) : "");
}

using Cells = std::array<std::string, 8>;

struct GaugeRow {
    check::Verdict verdict;
    Cells cells;  ///< gauge, value, limit, comfortable, worst case, chance of no-go, stage, place
    const check::Finding* finding;
};

std::vector<GaugeRow> gaugeRows(const check::Report& report) {
    std::vector<GaugeRow> rows;
    for (const check::Finding& finding : report.findings) {
        const check::Measure& measure = report.measures[finding.measure];
        const check::Figures printed = check::figures(report, finding);
        const bool least = finding.sense == check::Sense::AtLeast;
        const std::string side = least ? "≥ " : "≤ ";
        const std::string limits = printed.across.empty() ? side + printed.limit
                                   : least                ? printed.limit + " to " + printed.across
                                                          : printed.across + " to " + printed.limit;
        rows.push_back({finding.verdict,
                        {measure.label, withUnit(printed.value, measure.unit), withUnit(limits, measure.unit),
                         withUnit(printed.comfortable, measure.unit), withUnit(printed.worst, measure.unit),
                         finding.spread ? chances(*finding.spread) : "", spaced(design::name(finding.stage)),
                         between(measure)},
                        &finding});
    }
    return rows;
}

void addSentence(std::string& out, const std::string& label, const std::string& sentence,
                 const TextStyle& style) {
    if (sentence.empty()) return;
    constexpr int kLabel = 10;
    out += std::string(kSentenceIndent, ' ') + padded(label, kLabel) +
           wrapped(sentence, style.width, kSentenceIndent + kLabel) + "\n";
}

/// Each way to mend it with what it does to the ring, the one a client sees least first.
/// Numbered through the report from `number` on, as mend --remedy takes them.
void addRemedies(std::string& out, const check::Finding& finding, int& number, const TextStyle& style) {
    if (finding.remedies.empty()) addSentence(out, "remedy", finding.remedy, style);
    std::string label = "remedy ";
    for (const check::Remedy& remedy : finding.remedies) {
        addSentence(out, label + std::to_string(++number), remedy.text + " (" + remedy.effect + ")", style);
        label = "or ";
    }
}

void addGauges(std::string& out, const check::Report& report, const TextStyle& style) {
    static const Cells kHeadings = {"gauge",       "measures",   "limit",
                                    "comfortable", "worst case", "no-go: squares / lot",
                                    "stage",       "between"};
    std::vector<GaugeRow> rows = gaugeRows(report);
    constexpr std::ptrdiff_t kGoShown = 3, kWorthFolding = 3;
    const std::ptrdiff_t folded = std::ranges::count(rows, check::Verdict::Go, &GaugeRow::verdict) - kGoShown;
    const bool folds = !style.all && folded >= kWorthFolding;
    if (folds) rows.resize(rows.size() - static_cast<std::size_t>(folded));
    const bool spreads = !rows.empty() && rows.front().finding->spread.has_value();
    std::array<int, 8> widths{};
    for (std::size_t c = 0; c < widths.size(); ++c) {
        widths[c] = columns(kHeadings[c]);
        for (const GaugeRow& row : rows)
            widths[c] = std::max(widths[c], columns(row.cells[c]));
    }
    const auto line = [&](const Cells& cells) {
        std::string text = padded(cells[0], widths[0]);
        for (std::size_t c = 1; c < (spreads ? 6U : 4U); ++c)
            text += "  " + rightAligned(cells[c], widths[c]);
        return text + "  " + padded(cells[6], widths[6]) + "  " + cells[7] + "\n";
    };
    out += std::string(kSentenceIndent, ' ') + line(kHeadings);
    int number = 0;
    for (const GaugeRow& row : rows) {
        out += coloured(
            padded(std::string(markOf(row.verdict)) + " " + check::name(row.verdict), kSentenceIndent),
            row.verdict, style);
        out += line(row.cells);
        if (row.verdict == check::Verdict::Go) continue;
        addSentence(out, "why", row.finding->why, style);
        addRemedies(out, *row.finding, number, style);
        addSentence(out, "limit", row.finding->source, style);
    }
    if (folds) {
        out +=
            coloured(padded(std::string(markOf(check::Verdict::Go)) + " " + check::name(check::Verdict::Go),
                            kSentenceIndent),
                     check::Verdict::Go, style) +
            std::to_string(folded) + " more, further from their limits (--all lists them)\n";
    }
}

void addMasses(std::string& out, const design::Design& design, const std::vector<geometry::SolidPart>& parts,
               const trade::Catalogue& catalogue) {
    struct Row {
        geometry::PartRole role;
        std::string part, material;
        double grams = 0;
        int count = 0;
    };
    std::vector<Row> rows;
    int partWidth = columns("together"), materialWidth = 0;
    double total = 0;
    for (const geometry::SolidPart& weighed : parts) {
        const geometry::Part& part = weighed.part;
        const std::string material = materialName(part, design, catalogue);
        const double grams = check::mass(weighed, design, catalogue);
        total += grams;
        const auto same = std::ranges::find_if(rows, [&](const Row& row) {
            return geometry::isRepeated(part.role) && row.role == part.role && row.material == material;
        });
        if (same != rows.end()) {
            same->grams += grams;
            ++same->count;
        } else {
            rows.push_back({part.role, geometry::name(part), material, grams, 1});
        }
        partWidth = std::max(partWidth, columns(geometry::name(part)) + 5);
        materialWidth = std::max(materialWidth, columns(material));
    }
    out += "\nMass\n";
    for (const Row& row : rows) {
        const std::string part = row.count == 1 ? row.part : row.part + " x " + std::to_string(row.count);
        out += "  " + padded(part, partWidth) + "  " + padded(row.material, materialWidth) + "  " +
               rightAligned(base::fixed(row.grams, 2), 8) + " g\n";
    }
    out += "  " + padded("together", partWidth) + "  " + padded("", materialWidth) + "  " +
           rightAligned(base::fixed(total, 2), 8) + " g\n";
}

std::string summary(const check::Report& report) {
    std::string text;
    for (const check::Verdict verdict :
         {check::Verdict::NoGo, check::Verdict::Marginal, check::Verdict::Go}) {
        const auto count = std::ranges::count(report.findings, verdict, &check::Finding::verdict);
        if (count > 0)
            text += (text.empty() ? "" : ", ") + std::to_string(count) + " " + check::name(verdict);
    }
    return text.empty() ? "nothing was gauged" : text;
}

Json remediesJson(const check::Finding& finding) {
    Json remedies = Json::array();
    for (const check::Remedy& remedy : finding.remedies) {
        Json entry = {{"text", remedy.text}, {"effect", remedy.effect}, {"changes", Json::array()}};
        for (const check::Change& c : remedy.changes)
            entry["changes"].push_back({{"field", c.field}, {"from", c.from}, {"to", c.to}});
        if (const auto& exchange = remedy.exchange)
            entry["changes"].push_back(
                {{"field", exchange->field}, {"from", exchange->from}, {"to", exchange->to}});
        if (const auto& reorder = remedy.reorder)
            entry["route"] = {{"step", design::name(reorder->step)},
                              {"before", design::name(reorder->before)}};
        remedies.push_back(std::move(entry));
    }
    return remedies;
}

}  // namespace

std::string materialName(const geometry::Part& part, const design::Design& design,
                         const trade::Catalogue& catalogue) {
    switch (geometry::materialKind(part.role)) {
        case geometry::MaterialKind::Metal:
            return catalogue.metal(part.material)->name;
        case geometry::MaterialKind::Gem:
            return catalogue.gem(part.material)->name;
        case geometry::MaterialKind::Filler: {
            const design::Fill& fill = *design.channels.at(part.source).fill;
            return catalogue.filler(fill.filler)->name + " in " + catalogue.adhesive(fill.adhesive)->name;
        }
    }
    return {};
}

std::string reportText(const design::Design& design, const check::Report& report,
                       const std::vector<geometry::SolidPart>& parts, const trade::Catalogue& catalogue,
                       const TextStyle& style) {
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    std::string out = design.title + "\n" + trade::formatRingSize(design.finger.size) + ", " +
                      base::fixed(design.band.width, 2) + " mm wide, " +
                      base::fixed(design.band.thickness, 2) + " mm thick, " +
                      (metal != nullptr ? metal->name : design.band.metal) + "\n\n";
    std::string verdict = check::name(report.verdict);
    std::ranges::transform(verdict, verdict.begin(),
                           [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    out += coloured(markOf(report.verdict) + (" " + verdict), report.verdict, style) + "  " +
           summary(report) + "\n\n";
    addGauges(out, report, style);
    addMasses(out, design, parts, catalogue);
    const std::vector<check::MaterialCaution> heed = check::cautions(design, catalogue, report.bodies);
    if (!heed.empty()) out += "\nCautions\n";
    for (const auto& [material, caution] : heed)
        out += "  - " + wrapped(material + ": " + caution.text, style.width, 4) + "\n";
    return out;
}

std::string reportJson(const design::Design& design, const check::Report& report,
                       const trade::Catalogue& catalogue) {
    const auto point = [](geometry::Vec3 p) { return Json::array({p.x, p.y, p.z}); };
    Json measures = Json::array(), findings = Json::array();
    for (const check::Measure& measure : report.measures) {
        measures.push_back({{"id", measure.id},
                            {"stage", design::name(measure.stage)},
                            {"value", measure.value},
                            {"unit", measure.unit},
                            {"from", point(measure.from)},
                            {"to", point(measure.to)}});
    }
    for (const check::Finding& finding : report.findings) {
        const check::Measure& measure = report.measures[finding.measure];
        Json entry = {{"rule", finding.rule},
                      {"stage", design::name(finding.stage)},
                      {"verdict", check::name(finding.verdict)},
                      {"measure", measure.id},
                      {"value", measure.value},
                      {"limit", finding.limit},
                      {"sense", check::name(finding.sense)},
                      {"unit", measure.unit},
                      {"why", finding.why},
                      {"remedy", finding.remedy},
                      {"remedies", remediesJson(finding)},
                      {"source", finding.source}};
        if (finding.across) entry["limit-across"] = finding.across->limit;
        if (finding.spread) {
            entry["worst"] = finding.spread->worst;
            entry["verdict-at-worst"] = check::name(finding.spread->atWorst);
            entry["no-go-by-squares"] = finding.spread->noGoBySquares;
            if (finding.spread->noGoByLot) entry["no-go-by-lot"] = *finding.spread->noGoByLot;
        }
        findings.push_back(std::move(entry));
    }
    Json heed = Json::array();
    for (const auto& [material, caution] : check::cautions(design, catalogue, report.bodies))
        heed.push_back({{"material", material}, {"text", caution.text}, {"source", caution.source}});
    Json route = Json::array();
    for (const design::Stage stage : check::stages(design, catalogue))
        route.push_back(design::name(stage));
    const Json object = {{"design", design.title},          {"verdict", check::name(report.verdict)},
                         {"stages", std::move(route)},      {"measures", std::move(measures)},
                         {"findings", std::move(findings)}, {"cautions", std::move(heed)}};
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace bandwright::app
