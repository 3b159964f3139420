#pragma once

#include <string>
#include <vector>

#include "design/design.hpp"
#include "geometry/part.hpp"
#include "paper/page.hpp"
#include "trade/catalogue.hpp"

/// What stands beside the views of a section drawing. Private to the room.
namespace bandwright::paper {

/// Lines of text and swatches at the foot of the first sheet.
struct Notes {
    struct Swatch {
        geometry::PartRole role;
        std::vector<std::string> lines;
    };
    std::vector<Swatch> legend{};
    std::vector<std::string> lines{};
    double height = 0;
};

/// What is hatched how and of what it is, and the numbers that no dimension shows, broken into lines for a
/// space of that width.
Notes notesFor(const design::Design& design, design::Stage stage, const trade::Catalogue& catalogue,
               double width);

/// At the foot of the space, with a square to prove the print.
std::vector<Element> notesIn(const Box& space, const Notes& notes);

}  // namespace bandwright::paper
