#include "paper/flow.hpp"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "paper/typeset.hpp"

namespace bandwright::paper {

namespace {

// Our own choice, mm.
constexpr double kPadding = 1.1;      // round the words of a cell
constexpr double kBetween = 1.6;      // before a paragraph, a tick or a table
constexpr double kOverHeading = 4;    // before a heading
constexpr double kTickGap = 1.6;      // between a box and its words
constexpr double kWritingRoom = 3.5;  // least height of a line to write on
constexpr double kFoot = 2.6;         // em of the page's foot
constexpr double kWritingLine = 0.18;

/// What is never broken: an element with its origin in its upper left corner.
struct Row {
    Element element;
    double height = 0;
    double before = 0;  ///< space over it, but not at the head of a page
    bool keepsWithNext = false;
};

/// A block as rows, all inside one element on each page; without a role the rows stand for themselves.
struct Rows {
    std::optional<Role> role;
    std::vector<Row> rows;
    std::optional<Row> head{};  ///< repeated on each page
    bool startsPage = false;
};

double lineHeight(const TextStyle& style) {
    return kLineSpacing * style.size;
}

/// From the top of a line to its base line: capitals stand in the middle of it.
double baseLine(const TextStyle& style) {
    return (lineHeight(style) + capitalHeight() * style.size) / 2;
}

Text lineAt(std::string words, double left, double width, double top, const TextStyle& style) {
    const double share = style.align == Align::Left ? 0 : style.align == Align::Middle ? 0.5 : 1;
    return {std::move(words), {left + share * width, top + baseLine(style)}, style};
}

/// The box is as high as a capital letter and a third more.
Path tickBox(double left, double top, const TextStyle& style) {
    const double side = 1.33 * capitalHeight() * style.size;
    return rectangle({{left, top + (lineHeight(style) - side) / 2}, {side, side}});
}
double tickWidth(const TextStyle& style) {
    return 1.33 * capitalHeight() * style.size + kTickGap;
}

/// No first or last line of several stands alone.
void keepLinesTogether(std::vector<Row>& rows) {
    if (rows.size() < 2) return;
    rows.front().keepsWithNext = true;
    rows[rows.size() - 2].keepsWithNext = true;
}

Rows linesOf(const std::string& words, double left, double width, const TextStyle& style, double before) {
    Rows made{Role::Paragraph, {}};
    for (std::string& line : wrapped(words, style, width)) {
        Element element;
        element.marks = {lineAt(std::move(line), left, width, 0, style)};
        made.rows.push_back({std::move(element), lineHeight(style), 0});
    }
    made.rows.front().before = before;
    keepLinesTogether(made.rows);
    return made;
}

/// Makes rows of the blocks of each kind, as wide as the page has room.
struct RowMaker {
    double width;

    Rows operator()(const Heading& heading) const {
        const TextStyle style{.size = heading.level == 0   ? 6.4
                                      : heading.level == 1 ? 4.4
                                                           : 3.6,
                              .weight = heading.level == 0 ? Weight::Bold : Weight::SemiBold};
        Rows made = linesOf(heading.words, 0, width, style, kOverHeading);
        made.role = heading.level == 0 ? Role::Title : heading.level == 1 ? Role::Heading1 : Role::Heading2;
        for (Row& row : made.rows)
            row.keepsWithNext = true;
        made.rows.front().element.bookmark = heading.words;
        return made;
    }

    Rows operator()(const Paragraph& paragraph) const {
        Rows made = linesOf(paragraph.words, 0, width, paragraph.style, kBetween);
        if (paragraph.keepsWithNext)
            for (Row& row : made.rows)
                row.keepsWithNext = true;
        return made;
    }

    Rows operator()(const Tick& tick) const {
        const double left = tickWidth(tick.style);
        Rows made = linesOf(tick.words, left, width - left, tick.style, kBetween);
        made.rows.front().element.marks.insert(made.rows.front().element.marks.begin(),
                                               Stroke{tickBox(0, 0, tick.style)});
        if (tick.isHeading)
            for (Row& row : made.rows)
                row.keepsWithNext = true;
        return made;
    }

    Rows operator()(const Table& table) const {
        Rows made{Role::Table, {}};
        std::vector<Cell> heads;
        for (const Column& column : table.columns)
            heads.push_back({.words = column.head, .weight = Weight::SemiBold});
        if (std::ranges::any_of(table.columns, [](const Column& c) { return !c.head.empty(); })) {
            made.head = row(table, heads, Role::TableHead);
            made.head->before = kBetween;
            made.head->keepsWithNext = true;
        }
        for (const std::vector<Cell>& cells : table.rows)
            made.rows.push_back(row(table, cells, Role::TableCell));
        if (!made.head && !made.rows.empty()) made.rows.front().before = kBetween;
        for (std::size_t i = 0; i < made.rows.size(); ++i)
            made.rows[i].keepsWithNext = i + 1 < made.rows.size() ? table.isTogether : table.keepsWithNext;
        return made;
    }

    Rows operator()(const Figure& figure) const {
        Element element{.role = Role::Figure, .marks = figure.marks, .alternative = figure.alternative};
        element.clip = Box{{0, 0}, figure.size};
        Rows made{std::nullopt, {{std::move(element), figure.size.height, kBetween}}};
        if (figure.caption.empty()) return made;
        made.rows.front().keepsWithNext = true;
        for (Row& line : linesOf(figure.caption, 0, width, {.size = 2.8, .colour = kGrey}, 1).rows)
            made.rows.push_back(std::move(line));
        return made;
    }

    Rows operator()(const Space& space) const {
        return {std::nullopt, {{Element{.role = Role::Decoration}, 0, space.height}}};
    }

    Rows operator()(const NewPage&) const { return {std::nullopt, {}, std::nullopt, true}; }

    Row row(const Table& table, const std::vector<Cell>& cells, Role role) const {
        double all = 0, left = 0;
        for (const Column& column : table.columns)
            all += column.share;
        Row made{{.role = Role::TableRow}, 0};
        for (std::size_t i = 0; i < table.columns.size() && i < cells.size(); ++i) {
            const double wide = table.columns[i].share / all * width;
            Element cell{.role = role};
            made.height = std::max(made.height, fillCell(cell, table, i, cells[i], {left, wide}));
            made.element.parts.push_back(std::move(cell));
            left += wide;
        }
        // A line to write on is rule enough.
        if (cells.size() > 1 &&
            std::all_of(cells.begin() + 1, cells.end(), [](const Cell& c) { return c.write; }))
            return made;
        const bool isHead = role == Role::TableHead;
        made.element.parts.push_back(
            {.role = Role::Decoration,
             .marks = {Stroke{line({0, made.height}, {width, made.height}), isHead ? kNarrow : kNarrow / 2,
                              isHead ? kBlack : kGrey}}});
        return made;
    }

    struct Span {
        double left, width;
    };

    /// Returns the height that the cell needs.
    static double fillCell(Element& element, const Table& table, std::size_t column, const Cell& cell,
                           Span span) {
        const TextStyle style{table.size, cell.weight, table.columns[column].align};
        double left = span.left + kPadding;
        const double right = span.left + span.width - kPadding;
        if (cell.tick) {
            element.marks.push_back(Stroke{tickBox(left, kPadding, style)});
            left += tickWidth(style);
        }
        if (cell.write) {
            const double base = std::max(kWritingRoom, baseLine(style)) + kPadding;
            element.marks.push_back(Stroke{line({left, base}, {right, base}), kWritingLine, kGrey});
            return base + kPadding;
        }
        double top = kPadding;
        for (std::string& words : wrapped(cell.words, style, right - left)) {
            element.marks.push_back(lineAt(std::move(words), left, right - left, top, style));
            top += lineHeight(style);
        }
        return top + kPadding;
    }
};

/// Puts rows on pages, one under the other.
class Pages {
  public:
    explicit Pages(const FlowLayout& layout) : layout_(layout) { begin(); }

    void begin() {
        pages_.push_back({layout_.sheet, {}});
        y_ = layout_.above;
        open_ = nullptr;
    }
    void beginUnlessEmpty() {
        if (!pages_.back().elements.empty()) begin();
    }
    bool isAtHead() const { return y_ == layout_.above; }
    bool hasRoomFor(double height) const {
        return y_ + height <= layout_.sheet.height - layout_.below + 1e-9 || isAtHead();
    }

    void put(const Rows& block, const Row& row) {
        if (open_ != &block && block.head && &row != &*block.head) put(block, *block.head);
        if (!isAtHead()) y_ += row.before;
        Element placed = moved(row.element, {layout_.left, y_});
        y_ += row.height;
        if (!block.role) {
            pages_.back().elements.push_back(std::move(placed));
        } else {
            if (open_ != &block) openElement(*block.role);
            add(std::move(placed), *block.role);
        }
        open_ = &block;
    }

    std::vector<Page> numbered() {
        for (std::size_t i = 0; i < pages_.size(); ++i) {
            const double base = layout_.sheet.height - layout_.below / 2;
            const double left = layout_.left, right = layout_.sheet.width - layout_.right;
            const std::string number = std::to_string(i + 1) + " of " + std::to_string(pages_.size());
            pages_[i].elements.push_back(
                {.role = Role::Decoration,
                 .marks = {Text{layout_.footLeft, {left, base}, footStyle(Align::Left)},
                           Text{layout_.footMiddle, {(left + right) / 2, base}, footStyle(Align::Middle)},
                           Text{number, {right, base}, footStyle(Align::Right)}}});
        }
        return std::move(pages_);
    }

  private:
    static TextStyle footStyle(Align align) { return {kFoot, Weight::Regular, align, kGrey}; }

    void openElement(Role role) { pages_.back().elements.push_back({.role = role}); }

    /// Lines become marks of their paragraph, rows of a table its parts.
    void add(Element placed, Role role) {
        Element& parent = pages_.back().elements.back();
        if (role == Role::Table) {
            parent.parts.push_back(std::move(placed));
            return;
        }
        if (!placed.bookmark.empty()) parent.bookmark = placed.bookmark, parent.top = placed.top;
        std::ranges::move(placed.marks, std::back_inserter(parent.marks));
    }

    const FlowLayout& layout_;
    std::vector<Page> pages_;
    double y_ = 0;
    const Rows* open_ = nullptr;  ///< the block whose element the next row belongs to
};

/// A row and the block it stands in.
struct Placed {
    const Rows* block;
    const Row* row;
};

/// All rows in order. The head of a table stands before its first row.
std::vector<Placed> inOrder(const std::vector<Rows>& blocks) {
    std::vector<Placed> all;
    for (const Rows& block : blocks) {
        if (block.startsPage) all.push_back({&block, nullptr});
        if (block.head) all.push_back({&block, &*block.head});
        for (const Row& row : block.rows)
            all.push_back({&block, &row});
    }
    return all;
}

/// The end of the rows that must stand on one page, from one on.
std::size_t endOfRun(const std::vector<Placed>& rows, std::size_t from) {
    std::size_t end = from;
    while (end + 1 < rows.size() && rows[end].row->keepsWithNext && rows[end + 1].row != nullptr)
        ++end;
    return end + 1;
}

}  // namespace

std::vector<Page> flow(const std::vector<Block>& blocks, const FlowLayout& layout) {
    const double width = layout.sheet.width - layout.left - layout.right;
    std::vector<Rows> made;
    made.reserve(blocks.size());
    for (const Block& block : blocks)
        made.push_back(std::visit(RowMaker{width}, block));
    const std::vector<Placed> rows = inOrder(made);
    Pages pages(layout);
    for (std::size_t i = 0; i < rows.size();) {
        if (rows[i].row == nullptr) {
            pages.beginUnlessEmpty();
            ++i;
            continue;
        }
        std::size_t end = endOfRun(rows, i);
        const auto heightTo = [&](std::size_t last) {
            double height = 0;
            for (std::size_t k = i; k < last; ++k)
                height += rows[k].row->height + rows[k].row->before;
            return height;
        };
        // What no page holds is broken where it must be.
        while (end > i + 1 && heightTo(end) > layout.sheet.height - layout.above - layout.below)
            --end;
        if (!pages.hasRoomFor(heightTo(end))) pages.begin();
        for (; i < end; ++i)
            pages.put(*rows[i].block, *rows[i].row);
    }
    return pages.numbered();
}

}  // namespace bandwright::paper
