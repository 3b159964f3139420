#pragma once

#include <string_view>

#include "pen.hpp"

/// Numbers of mm written into a picture, as strokes on a grid 4 wide and 6 high.
namespace bandwright::render {

inline constexpr std::array<float, 4> kInk = {0.13F, 0.14F, 0.15F, 1};

/// Points: from the picture's edge, height of a digit, width of a stroke.
inline constexpr double kMargin = 28, kDigit = 11, kStroke = 1.5;

/// In steps of the grid.
double widthOf(std::string_view text);

/// `unit` is the pixels of a step of the grid; `place` is the text's lower left corner. Other characters than
/// digits, point, signs, space and m are left out.
void writeText(const Pen& pen, std::string_view text, Pixel place, double unit, double stroke);

}  // namespace bandwright::render
