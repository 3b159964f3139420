#include "paper/section_sheet.hpp"

#include <algorithm>
#include <cstdint>
#include <map>
#include <utility>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "design/field_table.hpp"
#include "drawing/detail_drawing.hpp"
#include "drawing/section_drawing.hpp"
#include "drawing/unrolled_drawing.hpp"
#include "geometry/ring.hpp"
#include "paper/place_drawing.hpp"
#include "paper/sheet_frame.hpp"
#include "section_notes.hpp"
#include "sheet_views.hpp"

namespace bandwright::paper {

namespace {

constexpr double kInset = 3;  // between the frame and what is in it, mm; our own choice
constexpr double kSmall = 2;  // a dimension shorter than this on paper, in mm, is shown in a detail
constexpr double kLargestDetail = 52;

/// Two settings with the same hole, tube and stone at the same place across the width have one section.
bool haveOneSection(design::Setting a, const design::Setting& b) {
    const double offset = a.placement.offset;
    a.placement = b.placement;
    return offset == b.placement.offset && a == b;
}

/// The settings whose section is that of the setting; empty when an earlier one has it.
std::vector<std::string> settingsLike(const design::Design& design, std::size_t setting) {
    std::vector<std::string> numbers;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        if (!haveOneSection(design.settings[i], design.settings[setting])) continue;
        if (i < setting) return {};
        numbers.push_back(std::to_string(i + 1));
    }
    return numbers;
}

std::string throughName(const std::vector<std::string>& numbers, std::size_t settings) {
    if (settings == 1) return "Section through the setting";
    std::string words = numbers.size() == 1 ? "Section through setting " : "Section through settings ";
    for (std::size_t i = 0; i < numbers.size(); ++i)
        words += (i == 0 ? "" : i + 1 < numbers.size() ? ", " : " and ") + numbers[i];
    return words;
}

/// The maker's own tolerances, by the fields of the design.
using Limits = std::map<std::string, double>;

Limits ownLimits(const design::Design& design, const trade::Catalogue& catalogue) {
    Limits limits;
    for (const design::DesignNumber& number : design::numbersIn(design))
        for (const trade::OwnTolerance& own : catalogue.tolerances)
            if (design::covers(own.field, number.path)) limits[number.path] = own.plusMinus;
    return limits;
}

drawing::Layout layoutAt(double scale, const Limits& limits) {
    drawing::Layout layout = layoutOnPaper(scale, kLettering);
    layout.limits = limits;
    return layout;
}

std::vector<View> sectionViews(const design::Design& design, design::Stage stage, double scale,
                               const Limits& limits) {
    std::vector<View> views;
    for (NamedDrawing& named : sectionDrawings(design, stage, layoutAt(scale, limits)))
        views.push_back({std::move(named.name), std::move(named.drawing)});
    return views;
}

/// The plain section has room on the first sheet, the others on a sheet without notes.
bool haveRoom(const std::vector<View>& views, Size first, Size other) {
    return fits(sizeOf(views.front()), first) &&
           std::ranges::all_of(views, [&](const View& view) { return fits(sizeOf(view), other); });
}

std::vector<View> viewsToScale(const design::Design& design, design::Stage stage,
                               const std::optional<double>& wanted, Size first, Size other,
                               const Limits& limits) {
    if (wanted) {
        std::vector<View> views = sectionViews(design, stage, *wanted, limits);
        if (haveRoom(views, other, other)) return views;
        throw base::InputError("--scale: at " + scaleText(*wanted) +
                               " the section has no room on this sheet; a smaller scale is needed, or a "
                               "larger sheet.");
    }
    std::vector<View> views;
    for (const double scale : sheetScales()) {
        views = sectionViews(design, stage, scale, limits);
        if (haveRoom(views, first, other)) break;
    }
    return views;
}

std::optional<View> unrolledView(const design::Design& design, design::Stage stage, Size room,
                                 const Limits& limits) {
    for (const double scale : sheetScales()) {
        if (scale > 5) continue;
        std::optional<NamedDrawing> named = unrolledOutside(design, stage, layoutAt(scale, limits));
        if (!named) return std::nullopt;
        View view{named->name, std::move(named->drawing)};
        if (fits(sizeOf(view), room)) return view;
    }
    return std::nullopt;
}

/// The largest scale at which the window is no larger than a detail may be; 0 when that is no larger than it
/// is drawn anyway.
double detailScale(const geometry::Rectangle& window, double drawn) {
    const geometry::Vec2 size = window.high - window.low;
    for (const double scale : sheetScales()) {
        if (scale < 2 * drawn) break;
        if (scale * std::max(size.z, size.r) <= kLargestDetail) return scale;
    }
    return 0;
}

/// Adds the details of all views, lettered on from A, and marks their places.
void addDetails(std::vector<View>& views, const Limits& limits) {
    const std::size_t count = views.size();
    char letter = 'A';
    for (std::size_t i = 0; i < count; ++i) {
        const double scale = views[i].drawing.scale;
        for (const geometry::Rectangle& window : drawing::smallPlaces(views[i].drawing, kSmall)) {
            const double larger = detailScale(window, scale);
            if (larger == 0 || letter > 'Z') continue;
            View detail{std::string("Detail ") + letter,
                        drawing::detailDrawing(views[i].drawing, window, kSmall, layoutAt(larger, limits))};
            drawing::dropDimensions(views[i].drawing, window, kSmall);
            markDetail(views[i], window, letter++);
            views.push_back(std::move(detail));
        }
    }
}

std::string toleranceText(trade::ToleranceClass grade) {
    switch (grade) {
        case trade::ToleranceClass::Fine:
            return "ISO 2768-1 f, but for fits";
        case trade::ToleranceClass::Medium:
            return "ISO 2768-1 m, but for fits";
        case trade::ToleranceClass::Coarse:
            return "ISO 2768-1 c, but for fits";
        case trade::ToleranceClass::VeryCoarse:
            break;
    }
    return "ISO 2768-1 v, but for fits";
}

Box insetSpace(Size sheet) {
    Box space = drawingSpace(sheet);
    space.at = space.at + Point{kInset, kInset};
    space.size.width -= 2 * kInset;
    space.size.height -= 2 * kInset;
    return space;
}

}  // namespace

const std::vector<double>& sheetScales() {
    static const std::vector<double> scales{50, 20, 10, 5, 2, 1, 0.5, 0.2, 0.1};
    return scales;
}

std::vector<NamedDrawing> sectionDrawings(const design::Design& design, design::Stage stage,
                                          const drawing::Layout& layout) {
    const geometry::RingSections plain = geometry::sections(design, stage);
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    std::vector<NamedDrawing> all{{"Section", drawing::sectionDrawing(design, stage, plain, layout)}};
    for (std::size_t i = 0; piece.drilled && i < design.settings.size(); ++i) {
        const std::vector<std::string> numbers = settingsLike(design, i);
        if (numbers.empty()) continue;
        all.push_back({throughName(numbers, design.settings.size()),
                       drawing::settingDrawing(design, stage, i, plain,
                                               geometry::sectionThrough(design, i, stage), layout)});
    }
    return all;
}

std::optional<NamedDrawing> unrolledOutside(const design::Design& design, design::Stage stage,
                                            const drawing::Layout& layout) {
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    const bool hasAny =
        (piece.channelled && !design.channels.empty()) || (piece.drilled && !design.settings.empty());
    if (!hasAny) return std::nullopt;
    return NamedDrawing{"Outside unrolled",
                        drawing::unrolledDrawing(design, stage, geometry::sections(design, stage), layout)};
}

std::vector<Page> sectionSheets(const design::Design& design, design::Stage stage,
                                const trade::Catalogue& catalogue, const SectionSheetOptions& options) {
    const Size sheet = drawingSheet(options.sheet);
    const Box space = insetSpace(sheet);
    const Notes notes = notesFor(design, stage, catalogue, space.size.width);
    Box first = space;
    first.size.height -= notes.height + kInset;

    const Limits limits = ownLimits(design, catalogue);
    std::vector<View> views = viewsToScale(design, stage, options.scale, first.size, space.size, limits);
    const double mainScale = views.front().drawing.scale;
    addDetails(views, limits);
    if (std::optional<View> unrolled = unrolledView(design, stage, space.size, limits))
        views.push_back(std::move(*unrolled));

    const std::vector<std::vector<Shelf>> sheets = packed(views, first.size, space.size);
    const TitleBlock block{.owner = options.owner,
                           .title = design.title,
                           .documentType = "Section drawing",
                           .number = options.number,
                           .date = options.date,
                           .creator = "",
                           .approver = "",
                           .material = catalogue.metal(design.band.metal)->name,
                           .state = base::capitalised(design::name(stage)),
                           .tolerance = toleranceText(catalogue.toleranceClass),
                           .scale = scaleText(mainScale)};
    std::vector<Page> pages;
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        Page page{sheet, sheetFrame(sheet, block, i + 1, sheets.size())};
        placeViews(page.elements, sheets[i], i == 0 ? first : space, mainScale, design);
        if (i == 0) std::ranges::move(notesIn(space, notes), std::back_inserter(page.elements));
        pages.push_back(std::move(page));
    }
    return pages;
}

std::string identification(const design::Design& design) {
    // FNV-1a, 64 bits, folded to 32 (published).
    std::uint64_t sum = 14695981039346656037U;
    for (const char c : design::formatDesign(design))
        sum = (sum ^ static_cast<unsigned char>(c)) * 1099511628211U;
    const std::uint64_t folded = (sum >> 32U) ^ (sum & 0xFFFFFFFFU);
    std::string digits;
    for (int shift = 28; shift >= 0; shift -= 4)
        digits += "0123456789ABCDEF"[(folded >> static_cast<unsigned>(shift)) & 0xFU];
    return digits;
}

}  // namespace bandwright::paper
