#pragma once

#include <vector>

#include "drawing/drawing.hpp"
#include "paper/page.hpp"

/// Technical drawings on a page.
namespace bandwright::paper {

/// How large a drawing is made on paper: its text measured in the font of the page.
drawing::Layout layoutOnPaper(double scale, double textHeight);

/// The drawing's marks, its z = 0, r = 0 at `origin`: hatching and dimensions narrow, outlines wide.
std::vector<Mark> marksOf(const drawing::Drawing& drawing, Point origin);

/// A line or arc of a drawing as a path on the page.
Path pathOf(const geometry::Segment& segment, Point origin);
/// Closed outlines as one path.
Path pathOf(const geometry::Section& section, Point origin);

}  // namespace bandwright::paper
