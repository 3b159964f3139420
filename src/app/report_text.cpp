#include "app/report_text.hpp"

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/cautions.hpp"
#include "check/figures.hpp"
#include "check/weighed.hpp"
#include "design/measured.hpp"
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

std::string between(const check::Measure& measure) {
    if (!measure.hasPlace) return "";
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

/// "0.20 to 0.70 mm".
std::string fitText(const check::Finding& finding, const std::string& limit, const std::string& across,
                    const check::Figures& printed) {
    const bool atLeast = finding.sense == check::Sense::AtLeast;
    if (limit == across) return check::withUnit(limit, printed.unit);
    return check::withUnit((atLeast ? limit : across) + " to " + (atLeast ? across : limit), printed.unit);
}

/// "\u2265 0.5 mm"; a score as "at least poor"; where every value passes, "no limit".
std::string limitText(const check::Finding& finding, const check::Figures& printed) {
    const bool atLeast = finding.sense == check::Sense::AtLeast;
    if (!printed.across.empty()) return fitText(finding, printed.limit, printed.across, printed);
    if (printed.limit == "yes" || printed.limit == "no" || (atLeast && printed.limit == "none"))
        return "no limit";
    const bool isWord = printed.unit.empty();
    const std::string side = isWord ? (atLeast ? "at least " : "at most ") : (atLeast ? "≥ " : "≤ ");
    return side + check::withUnit(printed.limit, printed.unit, printed.sides);
}

std::string comfortableText(const check::Finding& finding, const check::Figures& printed) {
    if (!printed.across.empty())
        return fitText(finding, printed.comfortable, printed.comfortableAcross, printed);
    return check::withUnit(printed.comfortable, printed.unit, printed.sides);
}

std::vector<GaugeRow> gaugeRows(const check::Report& report) {
    const std::vector<std::string> names = check::gaugeNames(report);
    std::vector<GaugeRow> rows;
    for (const check::Finding& finding : report.findings) {
        const check::Measure& measure = report.measures[finding.measure];
        const check::Figures printed = check::figures(report, finding);
        rows.push_back({finding.verdict,
                        {names[rows.size()], check::withUnit(printed.value, printed.unit, printed.sides),
                         limitText(finding, printed), comfortableText(finding, printed),
                         check::withUnit(printed.worst, printed.unit, printed.sides),
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
/// Numbered through the report, after `number`, as mend --remedy takes them.
void addRemedies(std::string& out, const check::Finding& finding, int number, const TextStyle& style) {
    if (finding.remedies.empty()) addSentence(out, "remedy", finding.remedy, style);
    std::string label = "remedy ";
    for (const check::Remedy& remedy : finding.remedies) {
        addSentence(out, label + std::to_string(++number), remedy.text + " (" + remedy.effect + ")", style);
        label = "or ";
    }
}

/// The groups of the findings, the one with the worst first.
std::vector<check::Group> groupsOf(const check::Report& report) {
    std::vector<check::Group> groups;
    for (const check::Finding& finding : report.findings)
        if (std::ranges::find(groups, finding.group) == groups.end()) groups.push_back(finding.group);
    return groups;
}

/// By groups, in each the worst first. Remedies are numbered as they are printed, see remediesInOrder.
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
        text += "  " + padded(cells[6], widths[6]) + "  " + cells[7];
        return text.substr(0, text.find_last_not_of(' ') + 1) + "\n";
    };
    int remedies = 0;
    out += std::string(kSentenceIndent, ' ') + line(kHeadings);
    for (const check::Group group : groupsOf(report)) {
        if (std::ranges::none_of(rows, [&](const GaugeRow& row) { return row.finding->group == group; }))
            continue;
        out += base::capitalised(check::name(group)) + "\n";
        for (const GaugeRow& row : rows) {
            if (row.finding->group != group) continue;
            out += coloured(
                padded(std::string(markOf(row.verdict)) + " " + check::name(row.verdict), kSentenceIndent),
                row.verdict, style);
            out += line(row.cells);
            if (row.verdict == check::Verdict::Go) continue;
            addSentence(out, "why", row.finding->why, style);
            addRemedies(out, *row.finding, remedies, style);
            remedies += static_cast<int>(row.finding->remedies.size());
            addSentence(out, "limit", row.finding->source, style);
        }
    }
    if (folds) {
        out +=
            coloured(padded(std::string(markOf(check::Verdict::Go)) + " " + check::name(check::Verdict::Go),
                            kSentenceIndent),
                     check::Verdict::Go, style) +
            std::to_string(folded) + " more, further from their limits (--all lists them)\n";
    }
}

/// Whether it can be made, and what stands in the way.
std::string canBeMade(const check::Report& report) {
    const auto count = [&](check::Verdict verdict) {
        return std::ranges::count(report.findings, verdict, &check::Finding::verdict);
    };
    if (report.findings.empty()) return "Nothing was gauged.";
    const std::string worst = base::uncapitalised(check::gaugeNames(report).front()) + ", " +
                              check::inFull(report, report.findings.front()) + ".";
    const auto noGo = count(check::Verdict::NoGo), marginal = count(check::Verdict::Marginal);
    if (noGo > 0)
        return "No: " + std::to_string(noGo) + (noGo == 1 ? " gauge is" : " gauges are") +
               " no-go. The worst: " + worst;
    if (marginal > 0)
        return "Yes, with care: " + std::to_string(marginal) + (marginal == 1 ? " gauge is" : " gauges are") +
               " marginal. The nearest to its limit: " + worst;
    return "Yes: every gauge is go.";
}

/// The least of the walls that are gauged.
std::string thinnest(const check::Report& report) {
    const std::vector<std::string> names = check::gaugeNames(report);
    std::size_t least = report.findings.size();
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const check::Finding& finding = report.findings[i];
        const check::Measure& measure = report.measures[finding.measure];
        if (finding.group != check::Group::Walls || measure.unit != "mm") continue;
        if (least == report.findings.size() ||
            measure.value < report.measures[report.findings[least].measure].value)
            least = i;
    }
    if (least == report.findings.size()) return "";
    const check::Finding& finding = report.findings[least];
    const check::Measure& measure = report.measures[finding.measure];
    const std::string from = geometry::name(measure.fromTag.feature),
                      to = geometry::name(measure.toTag.feature);
    return check::inFull(report, finding) + ", " + base::uncapitalised(names[least]) +
           (from == to ? ": from " : ": between ") + from + (from == to ? " to " : " and ") + to + ".";
}

/// The remedy that leaves the fewest no-go, and how many it leaves. A ring that is only marginal can stay as
/// it was ordered.
std::string whatToChange(const check::Report& report) {
    const check::Remedy* best = nullptr;
    int number = 0, bestNumber = 0;
    const auto noGo = static_cast<std::size_t>(
        std::ranges::count(report.findings, check::Verdict::NoGo, &check::Finding::verdict));
    for (const check::Remedy* remedy : remediesInOrder(report)) {
        ++number;
        if (report.verdict == check::Verdict::Marginal && !remedy->keepsOrder) continue;
        if (best != nullptr && remedy->noGoLeft >= best->noGoLeft) continue;
        best = remedy;
        bestNumber = number;
    }
    if (report.verdict == check::Verdict::Go) return "Nothing.";
    if (best == nullptr && report.verdict == check::Verdict::Marginal)
        return "Nothing has to be; heed what is said at each gauge that is marginal.";
    if (best == nullptr) return report.findings.empty() ? "" : report.findings.front().remedy;
    std::string text = best->text + " (remedy " + std::to_string(bestNumber) + "; " + best->effect + ")";
    if (noGo == 0) return text;
    if (best->noGoLeft == 0) return text + " Nothing is no-go then.";
    return text + " That leaves " + std::to_string(best->noGoLeft) + " of " + std::to_string(noGo) +
           " no-go; \"bandwright mend\" seeks a ring without any.";
}

/// What a maker asks first.
void addAnswers(std::string& out, const check::Report& report, const TextStyle& style) {
    constexpr int kAsked = 18;
    const auto answer = [&](const char* asked, const std::string& text) {
        if (!text.empty()) out += padded(asked, kAsked) + wrapped(text, style.width, kAsked) + "\n";
    };
    answer("Can I make it?", canBeMade(report));
    answer("Where is it thin?", thinnest(report));
    answer("What to change?", whatToChange(report));
    out += "\n";
}

void addMasses(std::string& out, const design::Design& design, const std::vector<geometry::SolidPart>& parts,
               const trade::Catalogue& catalogue) {
    struct Row {
        geometry::PartRole role;
        std::size_t source;
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
            return geometry::isRepeated(part.role) && row.role == part.role && row.source == part.source;
        });
        if (same != rows.end()) {
            same->grams += grams;
            ++same->count;
        } else {
            rows.push_back({part.role, part.source, geometry::name(part), material, grams, 1});
        }
        partWidth = std::max(partWidth, columns(geometry::name(part)) + 5);
        materialWidth = std::max(materialWidth, columns(material));
    }
    out += "\nMass\n";
    for (const Row& row : rows) {
        const std::string part = row.count == 1 ? row.part : row.part + " x " + std::to_string(row.count);
        out += "  " + padded(part, partWidth) + "  " + padded(row.material, materialWidth) + "  " +
               rightAligned(base::fixed(row.grams, 2), 8) + " g";
        constexpr double kCarat = 0.2;  // g; CGPM 1907
        if (row.role == geometry::PartRole::Stone) out += ", " + base::fixed(row.grams / kCarat, 2) + " ct";
        out += "\n";
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

Json measureJson(const check::Measure& measure) {
    const auto point = [](geometry::Vec3 p) { return Json::array({p.x, p.y, p.z}); };
    Json entry = {{"id", measure.id},
                  {"stage", design::name(measure.stage)},
                  {"value", measure.value},
                  {"unit", measure.unit}};
    if (!measure.hasPlace) return entry;
    entry["from"] = point(measure.from);
    entry["to"] = point(measure.to);
    return entry;
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
        if (remedy.leftOut) entry["left-out"] = *remedy.leftOut;
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

std::vector<const check::Remedy*> remediesInOrder(const check::Report& report) {
    std::vector<const check::Remedy*> remedies;
    for (const check::Group group : groupsOf(report)) {
        for (const check::Finding& finding : report.findings) {
            if (finding.group != group) continue;
            for (const check::Remedy& remedy : finding.remedies)
                remedies.push_back(&remedy);
        }
    }
    return remedies;
}

std::string reportText(const design::Design& design, const check::Report& report,
                       const std::vector<geometry::SolidPart>& parts, const trade::Catalogue& catalogue,
                       const TextStyle& style) {
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    std::string out = design.title + "\n" + trade::formatRingSize(design.finger.size) + ", " +
                      base::fixed(design.band.width, 2) + " mm wide, " +
                      base::fixed(design.band.thickness, 2) + " mm thick, " +
                      (metal != nullptr ? metal->name : design.band.metal) + "\n";
    if (const auto done = design::doneSoFar(design))
        out += wrapped("As measured so far, the last time after '" + design::name(*done) +
                           "'; what is cut by then stays as it is.",
                       style.width, 0) +
               "\n";
    out += "\n";
    std::string verdict = check::name(report.verdict);
    std::ranges::transform(verdict, verdict.begin(),
                           [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
    out += coloured(markOf(report.verdict) + (" " + verdict), report.verdict, style) + "  " +
           summary(report) + "\n\n";
    addAnswers(out, report, style);
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
    Json measures = Json::array(), findings = Json::array();
    for (const check::Measure& measure : report.measures)
        measures.push_back(measureJson(measure));
    const std::vector<std::string> names = check::gaugeNames(report);
    for (const check::Finding& finding : report.findings) {
        const check::Measure& measure = report.measures[finding.measure];
        Json entry = {{"rule", finding.rule},
                      {"name", names[findings.size()]},
                      {"group", check::name(finding.group)},
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
