#include "paper/bench_sheet.hpp"

#include <algorithm>
#include <functional>
#include <utility>

#include "base/numbers.hpp"
#include "base/wording.hpp"
#include "check/cautions.hpp"
#include "check/figures.hpp"
#include "design/fields.hpp"
#include "design/measured.hpp"
#include "drawing/section_drawing.hpp"
#include "geometry/ring.hpp"
#include "paper/flow.hpp"
#include "paper/place_drawing.hpp"
#include "paper_parts.hpp"
#include "route/shown.hpp"

namespace bandwright::paper {

namespace {

/// Em of the words, mm: to be read at arm's length, smaller where the sheet leaves no room for it.
double emOn(Size sheet) {
    return sheet.width < kA4.width ? 3.1 : 3.9;
}

/// Words and their label in a column of their own.
class Labelled {
  public:
    void add(const std::string& label, const std::string& words) {
        if (!words.empty()) rows_.push_back({{.words = label, .weight = Weight::SemiBold}, {.words = words}});
    }

    void addTo(std::vector<Block>& blocks, double em, bool keepsWithNext) const {
        if (!rows_.empty()) blocks.push_back(Table{{{"", 0.13}, {"", 0.87}}, rows_, em, true, keepsWithNext});
    }

  private:
    std::vector<std::vector<Cell>> rows_;
};

/// The largest drawing that fits a figure of the page's width.
Figure drawingFigure(const std::function<drawing::Drawing(const drawing::Layout&)>& drawn, double width,
                     const std::string& caption) {
    constexpr double kHeight = 60, kMargin = 3, kText = 2.5;
    const auto atScale = [&](double scale) { return drawn(layoutOnPaper(scale, kText)); };
    const double scale = drawing::fittingScale(atScale, width - 2 * kMargin, kHeight - 2 * kMargin);
    Figure figure{{width, kHeight}, {}, caption + ", with its dimensions in millimetres", ""};
    if (scale <= 0) return figure;
    const drawing::Drawing drawing = atScale(scale);
    const geometry::Rectangle extent = drawing::extentOf(drawing);
    figure.marks = marksOf(drawing, {width / 2 - (extent.low.z + extent.high.z) / 2,
                                     kHeight / 2 + (extent.low.r + extent.high.r) / 2});
    figure.caption = caption + ", " + base::fixed(scale, 1) + " : 1, mm";
    return figure;
}

/// The plain section and one through each kind of setting.
void addSections(std::vector<Block>& blocks, const design::Design& design, double width) {
    const geometry::RingSections plain = geometry::sections(design);
    blocks.push_back(drawingFigure(
        [&](const drawing::Layout& layout) {
            return drawing::sectionDrawing(design, design::Stage::Finished, plain, layout);
        },
        width, "Section of the finished ring"));
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const bool isRepeated = std::any_of(
            design.settings.begin(), design.settings.begin() + static_cast<std::ptrdiff_t>(i),
            [&](const design::Setting& before) {
                return before.hole == design.settings[i].hole && before.tube == design.settings[i].tube &&
                       before.stone == design.settings[i].stone &&
                       before.placement.offset == design.settings[i].placement.offset;
            });
        if (isRepeated) continue;
        const geometry::SettingSection through = geometry::sectionThrough(design, i);
        blocks.push_back(drawingFigure(
            [&](const drawing::Layout& layout) {
                return drawing::settingDrawing(design, design::Stage::Finished, i, plain, through, layout);
            },
            width, "Section through setting " + std::to_string(i + 1)));
    }
}

std::string gaugeText(const route::Tightest& gauge) {
    return gauge.what + " " + gauge.value + ", limit " + gauge.limit + ", " + gauge.verdict;
}

Table readingsTable(const std::vector<route::Reading>& readings, double em) {
    Table table{{{"Read", 0.34},
                 {"with", 0.17},
                 {"mm", 0.13, Align::Right},
                 {"from", 0.11, Align::Right},
                 {"to", 0.11, Align::Right},
                 {"  as read", 0.2}},
                {},
                em,
                true};
    for (const route::Reading& reading : readings) {
        const route::Shown shown = route::shown(reading);
        const std::string unit = shown.unit == "mm"       ? ""
                                 : shown.unit == "\u00B0" ? "\u00B0"
                                                          : " " + shown.unit;
        const bool isRange = shown.least != shown.most;
        table.rows.push_back({{.words = reading.what},
                              {.words = route::name(reading.instrument)},
                              {.words = shown.value + unit, .weight = Weight::SemiBold},
                              {.words = isRange ? shown.least : ""},
                              {.words = isRange ? shown.most : ""},
                              {.write = true}});
        if (!reading.size.empty()) table.rows.back()[0].words += ", about " + reading.size;
    }
    return table;
}

Table indexingTable(const std::vector<route::Indexing>& places, double em) {
    Table table{{{"Hole", 0.12}, {"Angle", 0.2}, {"Set the divider to", 0.42}, {"Off by", 0.2, Align::Right}},
                {},
                em};
    for (const route::Indexing& place : places) {
        std::string set = std::to_string(place.turns);
        if (place.circle > 0)
            set += (place.turns == 1 ? " turn + " : " turns + ") + std::to_string(place.holes) +
                   (place.holes == 1 ? " hole of " : " holes of ") + std::to_string(place.circle);
        table.rows.push_back(
            {{.words = std::to_string(place.place), .tick = true},
             {.words = base::fixed(place.angle, 2) + "\u00B0"},
             {.words = set, .weight = Weight::SemiBold},
             {.words = place.errorMinutes == 0 ? "" : base::fixed(place.errorMinutes, 1) + "\u2032"}});
    }
    return table;
}

Table layersTable(const std::vector<route::Layer>& layers, double em) {
    Table table{{{"Layer", 0.16},
                 {"mm deep", 0.18, Align::Right},
                 {"grains, g", 0.2, Align::Right},
                 {"adhesive, g", 0.22, Align::Right},
                 {"wait, min", 0.2, Align::Right}},
                {},
                em};
    for (std::size_t i = 0; i < layers.size(); ++i)
        table.rows.push_back({{.words = std::to_string(i + 1), .tick = true},
                              {.words = base::fixed(layers[i].depth, 2)},
                              {.words = base::fixed(layers[i].grains, 3)},
                              {.words = base::fixed(layers[i].adhesive, 3)},
                              {.words = base::fixed(layers[i].waitMinutes, 0)}});
    return table;
}

void addOperation(std::vector<Block>& blocks, const route::Operation& operation, int number, double em) {
    blocks.push_back(Tick{
        std::to_string(number) + "   " + operation.name, {.size = 1.08 * em, .weight = Weight::Bold}, true});
    Labelled labelled;
    labelled.add("Hold", operation.hold);
    labelled.add("Tool", base::capitalised(operation.tool));
    if (operation.cut) {
        labelled.add("Set", route::inOneLine(*operation.cut));
        if (!operation.cut->dial.empty())
            labelled.add("Dial", base::joined(route::dialText(*operation.cut), "  \u00B7  ") + "  mm " +
                                     operation.cut->along + " from where it touches");
    }
    for (std::size_t i = 0; i < operation.doing.size(); ++i)
        labelled.add(i == 0 ? "Do" : "", operation.doing[i]);
    for (const std::string& caution : operation.cautions)
        labelled.add("Caution", caution);
    for (const std::string& missing : operation.missing)
        labelled.add("Not told", missing);
    labelled.addTo(blocks, em,
                   operation.indexing.empty() && operation.layers.empty() && !operation.readings.empty());
    if (!operation.indexing.empty()) blocks.push_back(indexingTable(operation.indexing, em));
    if (!operation.layers.empty()) blocks.push_back(layersTable(operation.layers, em));
    if (!operation.readings.empty()) blocks.push_back(readingsTable(operation.readings, em));
}

void addStage(std::vector<Block>& blocks, const Job& job, const route::StageWork& work, int& number,
              double em) {
    blocks.push_back(Heading{std::string(design::word(work.stage).label), 1});
    std::string after = (work.ownHours ? "" : "about ") + base::fixed(work.hours, 1) + " h";
    if (work.wall) after += ". Least wall after it: " + gaugeText(*work.wall);
    if (work.gauge && (!work.wall || work.gauge->what != work.wall->what))
        after += ". Worst gauge: " + gaugeText(*work.gauge);
    blocks.push_back(Paragraph{
        base::capitalised(after) + ".", {.size = 0.82 * em, .colour = kGrey}, !work.operations.empty()});
    if (design::isDone(job.design, work.stage)) {
        blocks.push_back(
            Paragraph{route::doneText(job.design, work.stage), {.size = em, .weight = Weight::SemiBold}});
        return;
    }
    for (const route::Operation& operation : work.operations)
        addOperation(blocks, operation, number++, em);
}

void addQuantities(std::vector<Block>& blocks, const route::Quantities& quantities) {
    if (quantities.items.empty()) return;
    blocks.push_back(Heading{"What goes in", 1});
    Table table{
        {{"", 0.3}, {"have ready", 0.14, Align::Right}, {"in the ring", 0.14, Align::Right}, {"", 0.42}},
        {},
        3.3};
    for (const route::Quantity& item : quantities.items) {
        const int decimals = item.unit == "g" || item.unit == "ct" || item.unit == "ml" ? 3
                             : item.unit == "mm"                                        ? 1
                                                                                        : 0;
        table.rows.push_back({{.words = item.what, .tick = true},
                              {.words = base::fixed(item.amount, decimals) + " " + item.unit},
                              {.words = base::fixed(item.needed, decimals) + " " + item.unit},
                              {.words = item.how}});
    }
    blocks.push_back(table);
}

void addCautions(std::vector<Block>& blocks, const Job& job, double em) {
    blocks.push_back(Heading{"Cautions", 1});
    blocks.push_back(Paragraph{std::string(kLocalPractice), {.size = em, .weight = Weight::SemiBold}});
    for (const auto& [material, caution] : check::cautions(job.design, job.catalogue, job.report.bodies))
        blocks.push_back(Paragraph{material + ": " + caution.text, {.size = 0.85 * em}});
}

void addVerdict(std::vector<Block>& blocks, const Job& job, double em) {
    std::vector<std::string> bad;
    const std::vector<std::string> names = check::gaugeNames(job.report);
    for (std::size_t i = 0; i < job.report.findings.size(); ++i) {
        const check::Finding& finding = job.report.findings[i];
        if (finding.verdict == check::Verdict::Go) continue;
        bad.push_back(check::name(finding.verdict) + ": " + names[i] + " " +
                      check::inFull(job.report, finding) + " (" + design::name(finding.stage) + ")");
    }
    if (bad.empty()) {
        blocks.push_back(Paragraph{"Every gauge is go at every step.", {.size = em}});
        return;
    }
    for (const std::string& sentence : bad)
        blocks.push_back(Paragraph{base::capitalised(sentence), {.size = em, .weight = Weight::SemiBold}});
}

/// A row for the operation with its first reading, and one for each other.
void addBriefRows(Table& table, const route::Operation& operation, int number) {
    std::string dial;
    if (operation.cut && !operation.cut->dial.empty()) {
        // Each pass stands in the long sheet; here how many there are, and where the last ends.
        const std::vector<std::string> passes = route::dialText(*operation.cut);
        dial = (passes.size() > 1 ? std::to_string(passes.size()) + " passes to " : "") + passes.back();
    }
    const bool isSet = operation.cut && operation.cut->spindle > 0;
    std::vector<Cell> row{
        {.words = std::to_string(number) + "  " + operation.name, .tick = true, .weight = Weight::SemiBold},
        {.words = base::capitalised(operation.tool)},
        {.words = isSet ? base::fixed(operation.cut->spindle, 0) : ""},
        {.words = dial},
        {},
        {}};
    if (operation.readings.empty()) table.rows.push_back(row);
    for (const route::Reading& reading : operation.readings) {
        row[4] = {.words = reading.what + " " + route::inOneLine(route::shown(reading))};
        row[5] = {.words = "", .write = true};
        table.rows.push_back(row);
        row.assign(6, {});
    }
}

}  // namespace

std::vector<Page> benchSheet(const Job& job, Size sheet) {
    FlowLayout layout{.sheet = sheet};
    layout.footLeft = job.design.title;
    layout.footMiddle = job.date;
    const double width = sheet.width - layout.left - layout.right, em = emOn(sheet);
    std::vector<Block> blocks{
        Heading{job.design.title, 0},
        Paragraph{ringInOneLine(job.design, job.catalogue), {.size = 4.2, .weight = Weight::Medium}}};
    if (!job.design.note.empty()) blocks.push_back(Paragraph{job.design.note, {.size = em}});
    addVerdict(blocks, job, em);
    if (!job.picture.png.empty()) blocks.push_back(pictureFigure(job.picture, width, 52, job.design.title));
    addSections(blocks, job.design, width);
    int number = 1;
    for (const route::StageWork& work : job.plan.stages)
        addStage(blocks, job, work, number, em);
    addQuantities(blocks, job.plan.quantities);
    addCautions(blocks, job, em);
    return flow(blocks, layout);
}

std::vector<Page> briefBenchSheet(const Job& job, Size sheet) {
    FlowLayout layout{.sheet = sheet, .left = 12, .right = 8, .above = 9, .below = 9};
    layout.footLeft = job.design.title;
    layout.footMiddle = job.date;
    const double em = sheet.width < kA4.width ? 2.3 : 2.9;
    std::vector<Block> blocks{
        Heading{job.design.title, 0},
        Paragraph{ringInOneLine(job.design, job.catalogue), {.size = 3.6, .weight = Weight::Medium}},
        Paragraph{std::string(kLocalPractice), {.size = em}}};
    int number = 1;
    Table table{{{"Operation", 0.23},
                 {"Tool", 0.19},
                 {"rev/min", 0.08},
                 {"Dial, mm", 0.13},
                 {"Read", 0.27},
                 {"as read", 0.1}},
                {},
                em};
    for (const route::StageWork& work : job.plan.stages) {
        if (design::isDone(job.design, work.stage)) continue;
        for (const route::Operation& operation : work.operations)
            addBriefRows(table, operation, number++);
    }
    blocks.push_back(std::move(table));
    return flow(blocks, layout);
}

}  // namespace bandwright::paper
