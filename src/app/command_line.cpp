#include "app/command_line.hpp"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <exception>
#include <filesystem>
#include <functional>
#include <iostream>
#include <map>
#include <new>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>

#include "app/papers.hpp"
#include "app/quote_text.hpp"
#include "app/report_text.hpp"
#include "app/route_text.hpp"
#include "app/session.hpp"
#include "app/window.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "call.hpp"
#include "check/check.hpp"
#include "command_parts.hpp"
#include "compare_file.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "design/measured.hpp"
#include "design_source.hpp"
#include "export_file.hpp"
#include "formats/stone_model.hpp"
#include "geometry/boundary.hpp"
#include "geometry/measured.hpp"
#include "geometry/ring.hpp"
#include "issue.hpp"
#include "many_files.hpp"
#include "over_designs.hpp"
#include "picture.hpp"
#include "platform/interrupt.hpp"
#include "platform/notice.hpp"
#include "platform/terminal.hpp"
#include "route/plan.hpp"
#include "route/quote.hpp"
#include "section_file.hpp"
#include "self_description.hpp"
#include "sweep.hpp"
#include "trade/catalogue.hpp"
#include "trade/workshop.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

constexpr const char* kVersion = "bandwright " BANDWRIGHT_VERSION;

constexpr std::array kSweptColumns{"verdict",          "no-go",       "marginal", "worst",
                                   "thinnest-wall-mm", "ring-mass-g", "why"};

TextStyle terminalStyle() {
    TextStyle style;
    if (!platform::isTerminal(platform::kStandardOutput)) return style;
    const char* noColour = std::getenv("NO_COLOR");  // no-color.org: set and not empty
    const char* terminal = std::getenv("TERM");
    style.colour = (noColour == nullptr || *noColour == '\0') &&
                   (terminal == nullptr || std::string_view(terminal) != "dumb");
    if (const int columns = platform::terminalColumns(); columns > 0)
        style.width = std::clamp(columns, 60, 120);
    return style;
}

design::Stage stageNamed(const std::string& text, const design::Design& design,
                         const trade::Catalogue& catalogue) {
    if (text.empty()) return design::Stage::Finished;
    std::vector<std::string> names;
    for (const design::Stage stage : check::stages(design, catalogue)) {
        if (text == design::name(stage)) return stage;
        names.push_back(design::name(stage));
    }
    // What the last step leaves is the finished ring.
    if (text == design::name(check::steps(design, catalogue).back())) return design::Stage::Finished;
    throw base::InputError("--stage: this ring has no stage " + base::inQuotes(text) + "; it has " +
                           base::inWords({names.begin(), names.end()}, "and") + ".");
}

/// Nothing told without a file.
trade::Workshop workshopFor(const Call& call, const trade::Catalogue& catalogue) {
    if (call.workshop.empty()) return {};
    trade::Workshop workshop = trade::readWorkshop(call.workshop, catalogue);
    route::requireSteps(workshop);
    return workshop;
}

trade::Catalogue materialsFor(const Call& call) {
    return call.materials.empty() ? trade::builtInCatalogue()
                                  : trade::extendedCatalogue(trade::builtInCatalogue(), call.materials);
}

/// The catalogue in a workshop; the maker's limits stand above it.
trade::Catalogue catalogueIn(const Call& call, const trade::Workshop& workshop) {
    trade::Catalogue catalogue = trade::withWorkshop(materialsFor(call), workshop);
    if (!call.limits.empty()) catalogue = trade::withLimits(catalogue, call.limits);
    check::requireLimits(catalogue);
    return catalogue;
}

trade::Catalogue catalogueFor(const Call& call) {
    return catalogueIn(call, workshopFor(call, materialsFor(call)));
}

formats::Outside outsideFor(const Call& call) {
    return call.allowOutside ? formats::Outside::Allowed : formats::Outside::Refused;
}

/// The plan as it stands in the file.
design::Design planFor(const Call& call, const trade::Catalogue& catalogue) {
    design::Design design = designIn(call.file, outsideFor(call));
    design::requireMaterials(design, catalogue);
    return design;
}

/// The ring as measured so far.
design::Design designFor(const Call& call, const trade::Catalogue& catalogue) {
    design::Design design = geometry::asMeasured(planFor(call, catalogue));
    geometry::requireBuildable(design);
    return design;
}

/// Holes that run into each other are refused: what they take from the ring would be counted twice.
void requireDefiniteVolumes(const design::Design& design, design::Stage stage) {
    geometry::boundaries(design, stage);
}

void requireEnding(const std::string& file, std::initializer_list<std::string_view> endings) {
    const std::string ending = formatEnding(file);
    std::string known;
    for (const std::string_view allowed : endings) {
        if (ending == allowed) return;
        known += (known.empty() ? "" : ", ") + std::string(allowed);
    }
    throw base::InputError("-o " + file + ": the ending says the format; known is " + known + ".");
}

void requireOneOf(const std::string& word, std::initializer_list<std::string_view> known,
                  const char* option) {
    if (std::ranges::find(known, word) != known.end()) return;
    throw base::InputError(std::string(option) + ": found " + base::inQuotes(word) + "; allowed is " +
                           base::inWords(known, "or") + ".");
}

LineJson checkLine(const Call& call, const trade::Catalogue& catalogue) {
    const design::Design design = designFor(call, catalogue);
    check::CheckOptions options;
    if (!call.stage.empty()) options.stage = stageNamed(call.stage, design, catalogue);
    const check::Report report = check::check(design, catalogue, options);
    LineJson line = LineJson::parse(reportJson(design, report, catalogue));
    line["code"] = report.verdict == check::Verdict::NoGo ? kNoGo : kDone;
    return line;
}

int runCheck(Call call) {
    if (isOfMany(call)) {
        if (!call.json || call.all || call.tolerances || call.at != "nominal")
            throw base::InputError(
                "check: several files are told as JSON lines; give --json, and neither --all, --tolerances "
                "nor "
                "--at.");
        const trade::Catalogue catalogue = catalogueFor(call);
        return runOverMany(call, [&](const Call& one) { return checkLine(one, catalogue); });
    }
    call.file = call.files.front();
    const trade::Catalogue catalogue = catalogueFor(call);
    const design::Design design = designFor(call, catalogue);
    const design::Stage stage = stageNamed(call.stage, design, catalogue);
    check::CheckOptions options;
    if (!call.stage.empty()) options.stage = stage;
    requireOneOf(call.at, {"nominal", "worst"}, "--at");
    const bool atWorst = call.at == "worst";
    check::Report report = check::check(design, catalogue, options);
    check::StackSummary summary;
    if (call.tolerances || atWorst) {
        const Progress progress("Drawing rings by lot");
        summary = check::addSpreads(design, catalogue, report, {.stage = options.stage});
    }
    if (atWorst) check::judgeAtWorst(design, catalogue, report);
    if (call.json) {
        print(reportJson(design, report, catalogue));
    } else {
        TextStyle style = terminalStyle();
        style.all = call.all;
        const std::vector<geometry::SolidPart> parts =
            stage == design::Stage::Finished ? report.bodies : geometry::bodies(design, stage);
        std::string text = reportText(design, report, parts, catalogue, style);
        if (call.tolerances || atWorst) text += tolerancesText(summary, style);
        print(text);
    }
    return report.verdict == check::Verdict::NoGo ? kNoGo : kDone;
}

/// The remedy that a report numbers so. Throws InputError where it has none or it changes what is locked.
check::Remedy remedyNumbered(int number, const design::Design& design, const check::Report& report,
                             const std::vector<std::string>& locked) {
    const std::vector<const check::Remedy*> remedies = remediesInOrder(report);
    const int last = static_cast<int>(remedies.size());
    if (number >= 1 && number <= last) {
        const check::Remedy& remedy = *remedies[static_cast<std::size_t>(number - 1)];
        std::vector<std::string> fields;
        for (const check::Change& change : remedy.changes)
            fields.push_back(change.field);
        if (remedy.exchange) fields.push_back(remedy.exchange->field);
        if (remedy.leftOut) {
            fields.push_back(*remedy.leftOut);
            for (const design::Field& field : design::fieldsIn(design))
                if (design::covers(*remedy.leftOut, field.path)) fields.push_back(field.path);
        }
        for (const std::string& field : fields) {
            for (const std::string& lock : locked)
                if (design::covers(lock, field))
                    throw base::InputError("--remedy: number " + std::to_string(number) + " changes " +
                                           field + ", which is locked.");
        }
        return remedy;
    }
    throw base::InputError("--remedy: found " + std::to_string(number) + "; " +
                           (last == 0
                                ? "this ring has no remedy to carry out."
                                : "allowed is 1 to " + std::to_string(last) + ", as check numbers them."));
}

int runRemedy(const Call& call, const design::Design& plan, const trade::Catalogue& catalogue) {
    const design::Design design = geometry::asMeasured(plan);
    const check::Remedy remedy =
        remedyNumbered(*call.remedy, design, check::check(design, catalogue), call.lock);
    const design::Design mended = check::carriedOut(design, remedy);
    const check::Report after = check::check(mended, catalogue, {.remedies = false});
    // Told before it is written: where it cannot be told, nothing is changed.
    print(remedy.text + " (" + remedy.effect + ")\n\nThe ring is then " + check::name(after.verdict) + ".\n");
    // A list with one entry less does not follow field by field.
    design::saveDesign(
        remedy.leftOut ? check::carriedOut(plan, remedy) : design::replanned(plan, design, mended), call.out);
    return after.verdict == check::Verdict::NoGo ? kNoGo : kDone;
}

/// A design and what mending made of it.
struct MendedPlan {
    design::Design plan, design;
    check::Mended mended;

    std::vector<std::string> locked;  ///< usual wishes, what the call locks, and what the design does

    bool found() const { return mended.report.verdict != check::Verdict::NoGo; }
    std::string told(const trade::Catalogue& catalogue, const TextStyle& style) const {
        return mendedText(mended, locked, check::hindrances(design, catalogue, locked), catalogue, style);
    }
    void save(const std::string& file) const {
        design::saveDesign(design::replanned(plan, design, mended.design), file);
    }
};

MendedPlan mendedPlan(const Call& call, const trade::Catalogue& catalogue,
                      const std::vector<std::string>& locked) {
    MendedPlan result{planFor(call, catalogue), {}, {}, locked};
    result.design = geometry::asMeasured(result.plan);
    geometry::requireBuildable(result.design);
    for (const std::string& path : result.design.locked)
        if (std::ranges::none_of(locked, [&](const auto& lock) { return design::covers(lock, path); }))
            result.locked.push_back(path);
    result.mended = check::mend(result.design, catalogue, locked);
    return result;
}

LineJson mendLine(const Call& call, const trade::Catalogue& catalogue,
                  const std::vector<std::string>& locked) {
    std::string out = call.out;
    placeName(out, call);
    const MendedPlan mended = mendedPlan(call, catalogue, locked);
    if (mended.found()) mended.save(out);
    LineJson line = mended.found() ? writtenLine({out}) : LineJson{{"code", kNoGo}};
    line["told"] = mended.told(catalogue, {});
    return line;
}

int runMend(Call call) {
    const trade::Catalogue catalogue = catalogueFor(call);
    std::vector<std::string> locked = check::usualWishes();
    for (const std::string& freed : call.free) {
        if (std::erase(locked, freed) == 0) {
            throw base::InputError("--free: found " + base::inQuotes(freed) + "; locked are " +
                                   base::inWords({locked.begin(), locked.end()}, "and") + ".");
        }
    }
    locked.insert(locked.end(), call.lock.begin(), call.lock.end());
    if (writesOfEach(call, call.out)) {
        if (call.remedy) throw base::InputError("--remedy: is of one design; several files are given.");
        return runOverMany(call, [&](const Call& one) { return mendLine(one, catalogue, locked); });
    }
    call.file = call.files.front();
    if (call.remedy) {
        const design::Design plan = planFor(call, catalogue);
        geometry::requireBuildable(geometry::asMeasured(plan));
        return runRemedy(call, plan, catalogue);
    }
    std::optional<Progress> progress("Looking for a ring without no-go");
    const MendedPlan mended = mendedPlan(call, catalogue, locked);
    progress.reset();
    print(mended.told(catalogue, terminalStyle()));
    if (mended.found()) mended.save(call.out);
    return mended.found() ? kDone : kNoGo;
}

/// Of one ring of a sweep.
LineJson sweptLine(const Call& call, const design::Design& design, const Variant& variant,
                   const trade::Catalogue& catalogue) {
    LineJson line{{"file", variant.name}, {"set", LineJson::object()}};
    for (const auto& [field, value] : variant.settings)
        line["set"][field] = value;
    try {
        design::Design ring = varied(design, variant);
        formats::readStoneModels(ring, fs::path(call.file).parent_path(), outsideFor(call));
        const check::Report report = check::check(ring, catalogue, {.remedies = false});
        line["verdict"] = check::name(report.verdict);
        line["no-go"] = std::ranges::count(report.findings, check::Verdict::NoGo, &check::Finding::verdict);
        line["marginal"] =
            std::ranges::count(report.findings, check::Verdict::Marginal, &check::Finding::verdict);
        if (!report.findings.empty() && report.verdict != check::Verdict::Go)
            line["worst"] = report.measures[report.findings.front().measure].label;
        constexpr int kShown = 6;  // decimals
        for (const check::Measure& m : report.measures) {
            if (m.stage != design::Stage::Finished) continue;
            if (m.id == "thinnest-wall") line["thinnest-wall-mm"] = base::roundedTo(m.value, kShown);
            if (m.id == "ring-mass") line["ring-mass-g"] = base::roundedTo(m.value, kShown);
        }
        if (!call.out.empty()) {
            std::string file = call.out;
            file.replace(file.find("{}"), 2, variant.name);
            design::saveDesign(ring, file);
        }
    } catch (const base::InputError& refused) {
        line["verdict"] = "refused";
        line["why"] = refused.what();
    }
    return line;
}

std::string csvOf(const LineJson& line, const Variant& variant) {
    std::string text = csvField(line.at("file"));
    for (const auto& [field, value] : variant.settings)
        text += "," + csvField(value);
    for (const char* key : kSweptColumns) {
        const auto value = line.find(key);
        text += ",";
        if (value != line.end())
            text += csvField(value->is_string() ? value->get<std::string>() : value->dump());
    }
    return text;
}

/// A ring that cannot be made is a line of the table like any other, so the code tells of the call alone.
int runSweep(const Call& call) {
    if (!call.into.empty() && !call.json)
        throw base::InputError("sweep: --into goes on with JSON lines; give --json too.");
    if (!call.out.empty() && (call.out.find("{}") == std::string::npos || !call.out.ends_with(".ring.json")))
        throw base::InputError("-o " + call.out +
                               ": needs {} for the name of each ring, and the ending .ring.json.");
    const trade::Catalogue catalogue = catalogueFor(call);
    const design::Design design = planFor(call, catalogue);
    std::vector<Varied> fields;
    for (const std::string& typed : call.vary)
        fields.push_back(variedOf(typed));
    requireFields(design, fields);
    std::string stem = fs::path(call.file).stem().string();
    if (stem.ends_with(".ring")) stem.resize(stem.size() - 5);
    const std::vector<Variant> variants = combinations(stem, fields);
    std::map<std::string, const Variant*> named;
    std::vector<std::string> names;
    for (const Variant& v : variants) {
        named[v.name] = &v;
        names.push_back(v.name);
    }
    if (!call.json) {
        std::string header = "ring";
        for (const Varied& f : fields)
            header += "," + csvField(f.field);
        for (const char* key : kSweptColumns)
            header += "," + std::string(key);
        print(header + "\n");
    }
    const auto answer = [&](const std::string& name) {
        const Variant& variant = *named.at(name);
        const LineJson line = sweptLine(call, design, variant, catalogue);
        return Answer{kDone, call.json ? line.dump(-1, ' ', false, LineJson::error_handler_t::replace)
                                       : csvOf(line, variant)};
    };
    const platform::InterruptNoted noted;
    return overMany(names, answer, call.into, print);
}

int runRules(const Call& call) {
    const trade::Catalogue catalogue = catalogueFor(call);
    const std::vector<check::ListedRule> rules = check::listedRules(catalogue);
    print(call.json ? rulesJson(rules) : rulesText(rules, catalogue, terminalStyle()));
    return kDone;
}

std::string weighed(const Call& call, const trade::Catalogue& catalogue) {
    const design::Design design = designFor(call, catalogue);
    const design::Stage stage = stageNamed(call.stage, design, catalogue);
    return weighedAt(design, stage, catalogue, call.json);
}

int runWeigh(const Call& call) {
    const trade::Catalogue catalogue = catalogueFor(call);
    return tell(call, "weigh", [&](const Call& one) { return weighed(one, catalogue); });
}

std::string routed(const Call& call, const trade::Catalogue& catalogue, const trade::Workshop& workshop) {
    const design::Design design = designFor(call, catalogue);
    requireDefiniteVolumes(design, design::Stage::Finished);
    route::Plan plan =
        route::plan(design, catalogue, workshop, check::check(design, catalogue, {.remedies = false}));
    if (!call.stage.empty()) {
        plan.quantities = {};  // of the whole ring
        const design::Stage stage = stageNamed(call.stage, design, catalogue);
        const design::Stage step =
            stage == design::Stage::Finished ? check::steps(design, catalogue).back() : stage;
        std::erase_if(plan.stages, [&](const route::StageWork& work) {
            return work.stage != step && work.stage != stage;
        });
    }
    return call.json ? routeJson(design, plan)
                     : routeText(design, plan, workshop, catalogue, terminalStyle());
}

int runRoute(const Call& call) {
    const trade::Catalogue catalogue = catalogueFor(call);
    const trade::Workshop workshop = workshopFor(call, catalogue);
    return tell(call, "route", [&](const Call& one) { return routed(one, catalogue, workshop); });
}

/// A paper that tells of one ring.
int runPaper(PaperKind kind, const Call& call, std::initializer_list<std::string_view> endings) {
    requireEnding(call.paper.out, endings);
    requirePaper(call.paper);
    const trade::Catalogue catalogue = catalogueFor(call);
    const trade::Workshop workshop = workshopFor(call, catalogue);
    return draw(
        call, [](Call& c) -> std::string& { return c.paper.out; }, "Writing the paper",
        [&](const Call& one) {
            const design::Design design = designFor(one, catalogue);
            requireDefiniteVolumes(design, design::Stage::Finished);
            writePaper(kind, one.paper, one.file, design, catalogue, workshop);
        });
}

/// The client's card with the ring to be turned in it.
int runPage(const Call& call) {
    requireEnding(call.paper.out, {".html"});
    requirePaper(call.paper);
    requireViewer();
    const trade::Catalogue catalogue = catalogueFor(call);
    const trade::Workshop workshop = workshopFor(call, catalogue);
    return draw(
        call, [](Call& c) -> std::string& { return c.paper.out; }, "Writing the page",
        [&](const Call& one) {
            const design::Design design = designFor(one, catalogue);
            requireDefiniteVolumes(design, design::Stage::Finished);
            writeClientPage(one.paper, one.file, one.materials, design, catalogue, workshop);
        });
}

int runQuote(const Call& call) {
    if (!call.paper.out.empty())
        return runPaper(call.internal ? PaperKind::OwnQuote : PaperKind::Quote, call, {".pdf"});
    requirePaper(call.paper);
    const auto date = call.paper.date.empty() ? today() : route::dayOf(call.paper.date, "--date");
    const trade::Catalogue catalogue = catalogueFor(call);
    const trade::Workshop workshop = workshopFor(call, catalogue);
    return tell(call, "quote", [&](const Call& one) {
        const design::Design design = designFor(one, catalogue);
        requireDefiniteVolumes(design, design::Stage::Finished);
        const route::Plan plan =
            route::plan(design, catalogue, workshop, check::check(design, catalogue, {.remedies = false}));
        const route::Quote quote = route::quote(design, catalogue, workshop, plan, date);
        return one.json ? quoteJson(quote, one.internal) : quoteText(quote, one.internal, terminalStyle());
    });
}

void stopIfAsked(double) {
    if (platform::interrupted()) throw Stopped();
}

LineJson exportLine(const Call& call, const trade::Catalogue& catalogue) {
    ExportCall one = call.exporting;
    placeName(one.out, call);
    const design::Design design = designFor(call, catalogue);
    const Exported exported =
        exportFiles(one, design, stageNamed(call.stage, design, catalogue), catalogue, stopIfAsked);
    LineJson line = writtenLine(exported.files);
    if (!exported.note.empty()) line["note"] = exported.note;
    return line;
}

int runExport(Call call) {
    requireExport(call.exporting);
    if (writesOfEach(call, call.exporting.out)) {
        const trade::Catalogue catalogue = catalogueFor(call);
        return runOverMany(call, [&](const Call& one) { return exportLine(one, catalogue); });
    }
    call.file = call.files.front();
    const trade::Catalogue catalogue = catalogueFor(call);
    const design::Design design = designFor(call, catalogue);
    const platform::InterruptNoted noted;
    const Progress progress("Writing the model");
    const Exported exported = exportFiles(call.exporting, design, stageNamed(call.stage, design, catalogue),
                                          catalogue, [&](double share) {
                                              stopIfAsked(share);
                                              progress.show(share);
                                          });
    if (!exported.note.empty()) print(exported.note + "\n");
    return kDone;
}

int runCompare(const Call& call) {
    requireCompare(call.comparing);
    const trade::Catalogue catalogue = catalogueFor(call);
    const design::Design design = designFor(call, catalogue);
    const design::Stage stage = stageNamed(call.stage, design, catalogue);
    const platform::InterruptNoted noted;
    const Compared compared = compareBody(call.comparing, design, stage, catalogue);
    print(call.json ? comparedJson(call.comparing, design, stage, compared)
                    : comparedText(call.comparing, design, compared));
    const bool isNoGo = std::ranges::any_of(compared.walls.judged, [](const compare::JudgedWall& one) {
        return one.verdict == check::Verdict::NoGo;
    });
    return isNoGo ? kNoGo : kDone;
}

int runPicture(const Call& call) {
    requireDrawable(call.picture);
    const trade::Catalogue catalogue = catalogueFor(call);
    return draw(
        call, [](Call& c) -> std::string& { return c.picture.out; }, nullptr,
        [&](const Call& one) {
            const design::Design design = designFor(one, catalogue);
            writePicture(one.picture, design, catalogue, stageNamed(one.stage, design, catalogue));
        });
}

int runSection(const Call& call) {
    requireEnding(call.section.out, {".pdf", ".svg", ".png", ".dxf"});
    requireDrawable(call.section);
    const trade::Catalogue catalogue = catalogueFor(call);
    return draw(
        call, [](Call& c) -> std::string& { return c.section.out; }, "Drawing the section",
        [&](const Call& one) {
            const design::Design design = designFor(one, catalogue);
            writeSection(one.section, one.file, design, catalogue, stageNamed(one.stage, design, catalogue));
        });
}

int runForm(const Call& call) {
    requireEnding(call.paper.out, {".pdf"});
    requirePaper(call.paper);
    const trade::Catalogue catalogue = catalogueFor(call);
    writeForm(call.paper, catalogue, workshopFor(call, catalogue));
    return kDone;
}

int runSize(const Call& call) {
    print(sizeText(trade::parseRingSize(call.size), terminalStyle()));
    return kDone;
}

int runTheWindow(const Call& call) {
    const trade::Catalogue catalogue = catalogueFor(call);
    try {
        runWindow({call.file, call.closeWhenShown, workshopFor(call, catalogue), call.workshop,
                   [call](const trade::Workshop& workshop) { return catalogueIn(call, workshop); },
                   outsideFor(call)},
                  catalogue);
    } catch (const std::runtime_error& error) {
        // Who started it from the desktop does not see standard error.
        if (!call.closeWhenShown && !platform::isTerminal(platform::kStandardError))
            platform::showNotice("Bandwright", base::capitalised(error.what()));
        throw;
    }
    return kDone;
}

int complain(const Ending& ending) {
    std::fprintf(stderr, "bandwright: %s\n", ending.line.c_str());
    return ending.code;
}

std::string typed(int argc, const char* const* argv) {
    std::string call;
    for (int i = 1; i < argc; ++i)
        call += (i > 1 ? " " : "") + std::string(argv[i]);
    return call;
}

/// A first word that cannot be a file was meant as a command.
void requireFileOrCommand(const CLI::App& program, const std::string& word) {
    const fs::path path = word;
    std::error_code error;
    if (word.empty() || word.front() == '-' || path.has_extension() || path.has_parent_path()) return;
    if (fs::exists(path, error)) return;
    std::vector<std::string> commands;
    for (const CLI::App* command : program.get_subcommands([](const CLI::App*) { return true; }))
        commands.push_back(command->get_name());
    if (std::ranges::find(commands, word) != commands.end()) return;
    constexpr std::size_t kMostSuggestions = 3;
    const std::vector<std::string_view> all(commands.begin(), commands.end());
    const std::vector<std::string_view> close = base::nearestNames(word, all, kMostSuggestions);
    throw base::InputError(base::inQuotes(word) + " is neither a command nor a file; " +
                           (close.empty() ? "the commands are " + base::inWords(all, "and")
                                          : "the nearest command is " + base::inWords(close, "or")) +
                           ".");
}

int carryOut(const CLI::App& program, const Call& call) {
    if (call.manPage || call.bashCompletion) {
        print(call.manPage ? manPage(program, kVersion, BANDWRIGHT_DATE) : bashCompletion(program));
        return kDone;
    }
    if (program.got_subcommand("check")) return runCheck(call);
    if (program.got_subcommand("mend")) return runMend(call);
    if (program.got_subcommand("sweep")) return runSweep(call);
    if (program.got_subcommand("rules")) return runRules(call);
    if (program.got_subcommand("weigh")) return runWeigh(call);
    if (program.got_subcommand("route")) return runRoute(call);
    if (program.got_subcommand("quote")) return runQuote(call);
    if (program.got_subcommand("export")) return runExport(call);
    if (program.got_subcommand("compare")) return runCompare(call);
    if (program.got_subcommand("picture")) return runPicture(call);
    if (program.got_subcommand("section")) return runSection(call);
    if (program.got_subcommand("sheet"))
        return runPaper(call.paper.brief ? PaperKind::BriefSheet : PaperKind::BenchSheet, call, {".pdf"});
    if (program.got_subcommand("page")) return runPage(call);
    if (program.got_subcommand("card")) return runPaper(PaperKind::Card, call, {".pdf", ".html"});
    if (program.got_subcommand("certificate")) return runPaper(PaperKind::Certificate, call, {".pdf"});
    if (program.got_subcommand("form")) return runForm(call);
    if (program.got_subcommand("size")) return runSize(call);
    return runTheWindow(call);
}

}  // namespace

Ending endingOf(const std::exception& error, std::string_view call) {
    Ending ending{kWrong, error.what()};
    if (dynamic_cast<const std::bad_alloc*>(&error) != nullptr) {
        ending.line = "there is not enough memory for this ring.";
    } else if (dynamic_cast<const Stopped*>(&error) != nullptr) {
        ending.code = kStopped;
    } else if (dynamic_cast<const std::runtime_error*>(&error) == nullptr) {
        ending = {kFault, "a fault of Bandwright's own, not of the ring: " + ending.line +
                              ". Please keep the files and report this line: bandwright " BANDWRIGHT_VERSION
                              ", " +
                              std::string(call)};
    }
    std::ranges::replace(ending.line, '\n', ' ');
    return ending;
}

void endAtOnce() noexcept {
    Ending ending{kFault, "a fault of Bandwright's own, not of the ring."};
    try {
        if (std::current_exception()) std::rethrow_exception(std::current_exception());
    } catch (const std::exception& error) {
        ending = endingOf(error, "(on a thread of its own)");
    } catch (...) {
    }
    std::_Exit(complain(ending));
}

int runCommandLine(int argc, const char* const* argv) {
    CLI::App program("Bandwright: rings turned, filled and set, judged before any metal is cut.",
                     "bandwright");
    program.allow_windows_style_options(false);  // "/rings/a.ring.json" is a file there, too
    Call call;
    describeCommands(program, call);
    program.set_version_flag("--version", kVersion);
    for (CLI::App* command : program.get_subcommands({}))
        command->set_version_flag("--version", kVersion);
    program.require_subcommand(0, 1);
    try {
        if (argc > 1) requireFileOrCommand(program, argv[1]);
        program.parse(argc, argv);
        return carryOut(program, call);
    } catch (const CLI::Success& success) {
        const int code = program.exit(success);
        return std::cout.flush() ? code : complain({kWrong, "Standard output cannot be written."});
    } catch (const CLI::Error& error) {
        return complain(endingOf(
            std::runtime_error(std::string(error.what()) + " (bandwright --help lists what there is)"), ""));
    } catch (const std::exception& error) {
        return complain(endingOf(error, typed(argc, argv)));
    }
}

}  // namespace bandwright::app
