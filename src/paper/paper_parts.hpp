#pragma once

#include <string>
#include <string_view>

#include "paper/bench_sheet.hpp"
#include "paper/flow.hpp"

/// What several papers say alike. Private to the room.
namespace bandwright::paper {

inline constexpr std::string_view kLocalPractice =
    "Local codes, the makers of machines and materials, and licensed practice stand above this sheet.";

/// "US 9 1/2, 8.00 mm wide, 2.40 mm thick, Titanium grade 5".
std::string ringInOneLine(const design::Design& design, const trade::Catalogue& catalogue);

/// The picture in the middle of a figure of that width and at most that height, mm.
Figure pictureFigure(const Picture& picture, double width, double height, const std::string& title);

}  // namespace bandwright::paper
