#include "section_file.hpp"

#include <algorithm>
#include <filesystem>
#include <vector>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "command_parts.hpp"
#include "design_source.hpp"
#include "formats/dxf.hpp"
#include "issue.hpp"
#include "paper/section_sheet.hpp"
#include "paper/sheet_frame.hpp"
#include "paper/write.hpp"
#include "platform/atomic_file.hpp"
#include "route/quote.hpp"

namespace bandwright::app {

namespace fs = std::filesystem;

namespace {

void requireScale(double scale) {
    const std::vector<double>& known = paper::sheetScales();
    if (std::ranges::find(known, scale) != known.end()) return;
    std::vector<std::string> names;
    names.reserve(known.size());
    for (const double each : known)
        names.push_back(paper::scaleText(each));
    throw base::InputError("--scale: found " + paper::scaleText(scale) + "; allowed are those of ISO 5455, " +
                           base::inWords({names.begin(), names.end()}, "or") + ".");
}

/// "drawing.svg", "drawing-2.svg", ...
fs::path sheetFile(const fs::path& out, std::size_t number) {
    if (number == 1) return out;
    fs::path file = out;
    return file.replace_filename(out.stem().string() + "-" + std::to_string(number) +
                                 out.extension().string());
}

/// All views beside each other, the plain section where the ring has it and the unrolled outside under it.
std::vector<formats::DxfView> dxfViews(const design::Design& design, design::Stage stage) {
    constexpr double kBetweenViews = 3;  // mm of the ring; our own choice
    drawing::Layout layout;
    layout.scale = 1;
    layout.textHeight = 0.25;  // mm of the ring: 2.5 mm at 10:1
    std::vector<formats::DxfView> views;
    double right = 0, low = 0;
    for (paper::NamedDrawing& named : paper::sectionDrawings(design, stage, layout)) {
        const geometry::Rectangle extent = drawing::extentOf(named.drawing);
        const double x = views.empty() ? 0 : right + kBetweenViews - extent.low.z;
        right = x + extent.high.z;
        low = views.empty() ? extent.low.r : std::min(low, extent.low.r);
        views.push_back({std::move(named.name), std::move(named.drawing), {x, 0}});
    }
    if (std::optional<paper::NamedDrawing> named = paper::unrolledOutside(design, stage, layout)) {
        const double y = low - kBetweenViews - drawing::extentOf(named->drawing).high.r;
        views.push_back({std::move(named->name), std::move(named->drawing), {0, y}});
    }
    return views;
}

}  // namespace

void requireDrawable(const SectionCall& call) {
    static_cast<void>(paper::sheetNamed(call.paper, "--paper"));
    if (call.scale) requireScale(*call.scale);
    if (!call.date.empty()) route::dayOf(call.date, "--date");
    requireRange(call.dotsPerInch, 20, 1200, "--dpi");
}

void writeSection(const SectionCall& call, const std::string& file, const design::Design& design,
                  const trade::Catalogue& catalogue, design::Stage stage) {
    const std::string ending = formatEnding(call.out);
    if (ending == ".dxf") {
        platform::writeFileAtomically(call.out, formats::dxf(dxfViews(design, stage)));
        return;
    }
    const paper::SectionSheetOptions options{.sheet = paper::sheetNamed(call.paper, "--paper"),
                                             .scale = call.scale,
                                             .owner = call.owner,
                                             .date = call.date.empty() ? dayOfChange(file) : call.date,
                                             .number = paper::identification(design)};
    paper::Document document{.title = design.title + ", section drawing",
                             .date = options.date,
                             .author = call.owner,
                             .pages = paper::sectionSheets(design, stage, catalogue, options)};
    if (ending == ".pdf") {
        document.design = attachedAs(designName(file), designTextIn(file));
        platform::writeFileAtomically(call.out, paper::pdf(document));
        return;
    }
    std::vector<std::filesystem::path> files;
    for (std::size_t i = 0; i < document.pages.size(); ++i)
        files.emplace_back(sheetFile(call.out, i + 1));
    platform::writeSetAtomically(files, [&](std::size_t i, const platform::ByteSink& sink) {
        const paper::Page& page = document.pages[i];
        sink(ending == ".svg" ? paper::svg(page, document.title) : paper::png(page, call.dotsPerInch));
    });
}

}  // namespace bandwright::app
