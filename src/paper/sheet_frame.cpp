#include "paper/sheet_frame.hpp"

#include <algorithm>
#include <array>

#include "base/numbers.hpp"
#include "paper/typeset.hpp"

namespace bandwright::paper {

namespace {

constexpr double kBinding = 20, kMargin = 10, kFrame = 0.7, kCentring = 5;
// ISO 7200 (published): 180 mm wide. Rows and the heights of their lettering are our own choice.
constexpr double kBlockWidth = 180, kRow = 9, kCaption = 1.8, kLettering = 2.5;
constexpr double kCellPadding = 1.2;

Box frameOf(Size sheet) {
    return {{kBinding, kMargin}, {sheet.width - kBinding - kMargin, sheet.height - 2 * kMargin}};
}

enum class Shows : std::uint8_t { Words, Symbol };

struct BlockCell {
    const char* caption;
    std::string words;
    double share;  ///< mm of 180
    Weight weight = Weight::Regular;
    Shows shows = Shows::Words;
};

/// The symbol of first-angle projection (ISO 5456-2, from memory): a truncated cone, its narrow end to the
/// left, and to its right what is seen from the left. `height` is that of its wide end.
std::vector<Mark> projectionSymbol(Point middle, double height) {
    const double wide = height / 2, narrow = height / 4, length = height;
    const double left = middle.x - 1.2 * height, right = left + length, round = right + 0.9 * height;
    const Path cone{{Step::Kind::Begin, {left, middle.y - narrow}},
                    {Step::Kind::Line, {right, middle.y - wide}},
                    {Step::Kind::Line, {right, middle.y + wide}},
                    {Step::Kind::Line, {left, middle.y + narrow}},
                    {Step::Kind::Close}};
    const std::vector<double> axis{3, 0.75, 0.25, 0.75};
    const double over = 0.6;
    return {Stroke{cone, kNarrow},
            Stroke{circle({round, middle.y}, wide), kNarrow},
            Stroke{circle({round, middle.y}, narrow), kNarrow},
            Stroke{line({left - over, middle.y}, {right + over, middle.y}), kNarrow / 2, kBlack, axis},
            Stroke{line({round - wide - over, middle.y}, {round + wide + over, middle.y}), kNarrow / 2,
                   kBlack, axis},
            Stroke{line({round, middle.y - wide - over}, {round, middle.y + wide + over}), kNarrow / 2,
                   kBlack, axis}};
}

Element cellAt(const Box& box, const BlockCell& cell) {
    const double left = box.at.x + kCellPadding, width = box.size.width - 2 * kCellPadding;
    const TextStyle caption{.size = emOfCapitals(kCaption), .colour = kGrey};
    TextStyle words{.size = emOfCapitals(kLettering), .weight = cell.weight};
    if (textWidth(cell.words, words) > width) words.size = emOfCapitals(kCaption);
    Element element{.role = Role::Paragraph};
    element.marks.push_back(
        Text{fitted(cell.caption, caption, width), {left, box.at.y + kCellPadding + kCaption}, caption});
    if (cell.shows == Shows::Symbol) {
        std::ranges::move(projectionSymbol({box.at.x + box.size.width / 2, box.bottom() - 3.2}, 4),
                          std::back_inserter(element.marks));
        element.role = Role::Figure;
        element.alternative = "First-angle projection";
    } else if (!cell.words.empty()) {
        element.marks.push_back(Text{fitted(cell.words, words, width), {left, box.bottom() - 1.8}, words});
    }
    return element;
}

Element blockOf(const Box& box, const std::vector<std::vector<BlockCell>>& rows) {
    Element block{.role = Role::Section};
    Element rules{.role = Role::Decoration, .marks = {Stroke{rectangle(box), kWide}}};
    Point at = box.at;
    for (const std::vector<BlockCell>& row : rows) {
        at.x = box.at.x;
        for (const BlockCell& cell : row) {
            const Box place{at, {cell.share / kBlockWidth * box.size.width, kRow}};
            block.parts.push_back(cellAt(place, cell));
            rules.marks.push_back(Stroke{rectangle(place), kNarrow});
            at.x = place.right();
        }
        at.y += kRow;
    }
    block.parts.push_back(std::move(rules));
    return block;
}

}  // namespace

Size drawingSheet(Size sheet) {
    return sheet.width - kBinding - kMargin >= kBlockWidth - 1e-9 ? sheet : sideways(sheet);
}

Box drawingSpace(Size sheet) {
    Box space = frameOf(sheet);
    space.size.height -= 3 * kRow;
    return space;
}

std::vector<Element> sheetFrame(Size sheet, const TitleBlock& block, std::size_t number, std::size_t count) {
    const Box frame = frameOf(sheet);
    const Point middle{frame.at.x + frame.size.width / 2, frame.at.y + frame.size.height / 2};
    Element lines{.role = Role::Decoration, .marks = {Stroke{rectangle(frame), kFrame}}};
    for (const auto& [from, to] : std::array<std::pair<Point, Point>, 4>{
             {{{middle.x, frame.at.y - kCentring}, {middle.x, frame.at.y}},
              {{middle.x, frame.bottom()}, {middle.x, frame.bottom() + kCentring}},
              {{frame.at.x - kCentring, middle.y}, {frame.at.x, middle.y}},
              {{frame.right(), middle.y}, {frame.right() + kCentring, middle.y}}}})
        lines.marks.push_back(Stroke{line(from, to), kFrame});

    const std::string sheets = std::to_string(number) + " of " + std::to_string(count);
    const Box place{{frame.at.x, frame.bottom() - 3 * kRow}, {frame.size.width, 3 * kRow}};
    Element title = blockOf(place, {{{"Legal owner", block.owner, 60},
                                     {"Title", block.title, 75, Weight::SemiBold},
                                     {"Document type", block.documentType, 45}},
                                    {{"Material", block.material, 60},
                                     {"State of the ring", block.state, 30},
                                     {"General tolerances", block.tolerance, 45},
                                     {"Scale", block.scale, 20, Weight::SemiBold},
                                     {"Projection", "", 25, Weight::Regular, Shows::Symbol}},
                                    {{"Created by", block.creator, 35},
                                     {"Approved by", block.approver, 35},
                                     {"Identification number", block.number, 40},
                                     {"Date of issue", block.date, 30},
                                     {"Language", block.language, 18},
                                     {"Sheet", sheets, 22}}});
    return {std::move(lines), std::move(title)};
}

std::string scaleText(double scale) {
    return scale >= 1 ? base::shortestNumber(scale) + ":1"
                      : "1:" + base::shortestNumber(base::roundedTo(1 / scale, 3));
}

Element testSquare(Point at) {
    const TextStyle style{.size = emOfCapitals(kCaption), .align = Align::Middle, .colour = kGrey};
    Element element{.role = Role::Paragraph, .marks = {Stroke{rectangle({at, {kTestSquare, kTestSquare}})}}};
    const double middle = at.x + kTestSquare / 2;
    element.marks.push_back(Text{"20 \u00D7 20 mm", {middle, at.y + 7}, style});
    element.marks.push_back(Text{"on a print that", {middle, at.y + 11}, style});
    element.marks.push_back(Text{"is true to scale", {middle, at.y + 14.2}, style});
    return element;
}

std::string fitted(const std::string& words, const TextStyle& style, double width) {
    if (textWidth(words, style) <= width) return words;
    std::string cut = words;
    while (!cut.empty() && textWidth(cut + "\u2026", style) > width) {
        // A character of UTF-8 is cut off whole.
        while (!cut.empty() && (static_cast<unsigned char>(cut.back()) & 0xC0U) == 0x80U)
            cut.pop_back();
        if (!cut.empty()) cut.pop_back();
    }
    return cut + "\u2026";
}

}  // namespace bandwright::paper
