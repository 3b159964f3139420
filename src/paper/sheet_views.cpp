#include "sheet_views.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>

#include "base/wording.hpp"
#include "design/field_table.hpp"
#include "paper/place_drawing.hpp"
#include "paper/sheet_frame.hpp"
#include "paper/typeset.hpp"

namespace bandwright::paper {

namespace {

// Our own choice, mm.
constexpr double kViewGap = 7;   // between views
constexpr double kViewHead = 7;  // for the name over a view
constexpr double kHeadSize = 1.4 * kLettering;

TextStyle headStyle() {
    return {.size = emOfCapitals(kHeadSize), .weight = Weight::SemiBold, .align = Align::Middle};
}

std::string headOf(const View& view) {
    return view.name + " (" + scaleText(view.drawing.scale) + ")";
}

void grow(geometry::Rectangle& all, const geometry::Rectangle& more) {
    all.low = {std::min(all.low.z, more.low.z), std::min(all.low.r, more.low.r)};
    all.high = {std::max(all.high.z, more.high.z), std::max(all.high.r, more.high.r)};
}

geometry::Rectangle extentOf(const View& view) {
    geometry::Rectangle all = drawing::extentOf(view.drawing);
    for (const Marked& detail : view.details) {
        const geometry::Vec2 out{detail.radius, detail.radius};
        grow(all, {detail.middle - out, detail.middle + out});
        grow(all, drawing::boxOf(detail.letter));
    }
    return all;
}

bool meet(const drawing::Text& a, const drawing::Text& b) {
    return geometry::distance(drawing::boxOf(a), drawing::boxOf(b)) == 0;
}

bool isFree(const View& view, const drawing::Text& letter) {
    return std::ranges::none_of(view.drawing.dimensions,
                                [&](const drawing::Dimension& d) { return meet(d.text, letter); }) &&
           std::ranges::none_of(view.details,
                                [&](const Marked& other) { return meet(other.letter, letter); });
}

/// The first free place round a circle, nearest to it first.
void placeLetter(const View& view, Marked& detail) {
    constexpr int kTurns = 16, kRounds = 8;
    for (int i = 0; i < kTurns * kRounds; ++i) {
        const double angle = (1 - 2 * (i % kTurns)) * std::numbers::pi / kTurns;
        const int round = i / kTurns;
        const double out = detail.radius + detail.letter.height * (1 + 0.5 * round);
        const geometry::Vec2 half = 0.5 * geometry::Vec2{detail.letter.width, detail.letter.height};
        detail.letter.at = detail.middle + out * geometry::Vec2{std::cos(angle), std::sin(angle)} - half;
        if (isFree(view, detail.letter)) return;
    }
}

/// What is to be read in a drawing, in words.
std::string wordsOf(const View& view, const design::Design& design) {
    std::string words = view.name + ", drawn " + scaleText(view.drawing.scale) + ".";
    for (const drawing::Dimension& dimension : view.drawing.dimensions) {
        const std::optional<design::Field> field = design::fieldAt(design, dimension.field);
        words += " " + base::capitalised(field && dimension.isField ? field->phrase + ": " : "") +
                 dimension.text.words + ".";
    }
    return words;
}

/// A circle round the place of a detail, and its letter.
void addMarked(std::vector<Mark>& marks, const Marked& detail, Point origin) {
    const auto at = [&](geometry::Vec2 p) { return Point{origin.x + p.z, origin.y - p.r}; };
    marks.push_back(Stroke{circle(at(detail.middle), detail.radius),
                           drawing::lineWidth(drawing::LineKind::Thin, kLettering)});
    marks.push_back(
        Text{detail.letter.words, at(detail.letter.at), {.size = emOfCapitals(detail.letter.height)}});
}

/// The view with its upper left corner, and that of its name, at `at`.
Element elementOf(const View& view, const design::Design& design, Point at, double mainScale,
                  const Box& space) {
    const geometry::Rectangle extent = extentOf(view);
    const double middle = at.x + sizeOf(view).width / 2;
    const Point origin{middle - (extent.low.z + extent.high.z) / 2, at.y + kViewHead + extent.high.r};
    const std::string name = view.drawing.scale == mainScale ? view.name : headOf(view);
    Element head{.role = Role::Heading2};
    head.marks = {Text{name, {middle, at.y + kHeadSize}, headStyle()}};
    head.bookmark = name;
    head.top = at;
    Element figure{.role = Role::Figure, .marks = marksOf(view.drawing, origin)};
    for (const Marked& detail : view.details)
        addMarked(figure.marks, detail, origin);
    figure.alternative = wordsOf(view, design);
    figure.clip = space;
    Element all{.role = Role::Section};
    all.parts = {std::move(head), std::move(figure)};
    return all;
}

double spread(double room, double used, std::size_t count) {
    return (room - used) / static_cast<double>(count + 1);
}

}  // namespace

void markDetail(View& view, const geometry::Rectangle& window, char letter) {
    const std::string words(1, letter);
    const double scale = view.drawing.scale, width = textWidth(words, {.size = emOfCapitals(kHeadSize)});
    Marked detail{scale / 2 * (window.low + window.high),
                  scale / 2 * geometry::distance(window.low, window.high),
                  {.words = words, .at = {}, .height = kHeadSize, .width = width}};
    placeLetter(view, detail);
    view.details.push_back(std::move(detail));
}

Size sizeOf(const View& view) {
    const geometry::Vec2 size = extentOf(view).high - extentOf(view).low;
    return {std::max(size.z, textWidth(headOf(view), headStyle())), size.r + kViewHead};
}

bool fits(Size size, Size room) {
    return size.width <= room.width && size.height <= room.height;
}

std::vector<std::vector<Shelf>> packed(const std::vector<View>& views, Size first, Size other) {
    std::vector<std::vector<Shelf>> sheets(1);
    double used = 0;  // of the sheet's height by all shelves but the last
    for (const View& view : views) {
        const Size size = sizeOf(view);
        const double room = sheets.size() == 1 ? first.height : other.height;
        if (!sheets.back().empty()) {
            Shelf& last = sheets.back().back();
            const double width = last.size.width + kViewGap + size.width;
            const double height = std::max(last.size.height, size.height);
            if (width <= other.width && used + height <= room) {
                last.views.push_back(&view);
                last.size = {width, height};
                continue;
            }
            used += last.size.height + kViewGap;
        }
        if (used + size.height > room && (sheets.size() == 1 || !sheets.back().empty())) {
            sheets.emplace_back();
            used = 0;
        }
        sheets.back().push_back({{&view}, size});
    }
    return sheets;
}

void placeViews(std::vector<Element>& elements, const std::vector<Shelf>& shelves, const Box& space,
                double mainScale, const design::Design& design) {
    double used = 0;
    for (const Shelf& shelf : shelves)
        used += shelf.size.height;
    const double gap = spread(space.size.height, used, shelves.size());
    double y = space.at.y + gap;
    for (const Shelf& shelf : shelves) {
        double wide = 0;
        for (const View* view : shelf.views)
            wide += sizeOf(*view).width;
        const double aside = spread(space.size.width, wide, shelf.views.size());
        double x = space.at.x + aside;
        for (const View* view : shelf.views) {
            elements.push_back(elementOf(*view, design, {x, y}, mainScale, space));
            x += sizeOf(*view).width + aside;
        }
        y += shelf.size.height + gap;
    }
}

}  // namespace bandwright::paper
