#pragma once

#include <string>
#include <variant>
#include <vector>

#include "paper/page.hpp"

/// Content that runs over as many pages as it needs.
namespace bandwright::paper {

/// Kept on one page with what follows. Levels 1 and 2 are listed as bookmarks.
struct Heading {
    std::string words;
    int level = 1;
};

struct Paragraph {
    std::string words;
    TextStyle style{};
    bool keepsWithNext = false;  ///< stands on the page of what follows
};

/// A box to tick, and what is to be done; `words` wrap beside it.
struct Tick {
    std::string words;
    TextStyle style{};
    bool isHeading = false;  ///< kept on one page with what follows
};

struct Column {
    std::string head;
    double share = 1;  ///< of the width of the page
    Align align = Align::Left;
};

struct Cell {
    std::string words{};
    bool tick = false;   ///< a box to tick before the words
    bool write = false;  ///< a line to write on instead of words
    Weight weight = Weight::Regular;
};

/// Broken between rows only; its head is repeated on each page, and left out where no column has one.
struct Table {
    std::vector<Column> columns;
    std::vector<std::vector<Cell>> rows;
    double size = 3;             ///< of the em, mm
    bool isTogether = false;     ///< on one page where it fits one
    bool keepsWithNext = false;  ///< its last row too stands on the page of what follows
};

/// Marks of a given size, their origin in its upper left corner, never broken; nothing is painted outside it.
struct Figure {
    Size size;
    std::vector<Mark> marks;
    std::string alternative;  ///< what it shows, in words
    std::string caption{};
};

struct Space {
    double height = 3;  ///< mm; nothing at the head of a page
};

/// Begins a page.
struct NewPage {};

using Block = std::variant<Heading, Paragraph, Tick, Table, Figure, Space, NewPage>;

/// The sheet and what stands on each page of it.
struct FlowLayout {
    Size sheet = kA4;
    double left = 20, right = 10, above = 12, below = 12;  ///< margins, mm
    std::string footLeft{}, footMiddle{};                  ///< "2 of 3" stands at the foot's right end
};

/// Content in its order. A heading is never the last of a page, and no paragraph leaves a single line alone.
/// What is higher than a page gets a page of its own and is cut off there.
std::vector<Page> flow(const std::vector<Block>& blocks, const FlowLayout& layout);

}  // namespace bandwright::paper
