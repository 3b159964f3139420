#pragma once

#include <vector>

#include "drawing/drawing.hpp"

/// Parts of a drawing that are too small in it, drawn again larger (ISO 128-3, M).
namespace bandwright::drawing {

/// Upright rectangles, mm of the ring, round the dimensions whose length on paper is under `least` mm; those
/// that would overlap are one.
std::vector<geometry::Rectangle> smallPlaces(const Drawing& drawing, double least);

/// What lies in the window, mm of the ring, at the layout's scale, with the dimensions of the drawing that
/// are under `least` mm long there and lie in the window. Where it is broken off its outline is thin.
Drawing detailDrawing(const Drawing& whole, const geometry::Rectangle& window, double least,
                      const Layout& layout);

/// Takes away the dimensions that the detail of the window has.
void dropDimensions(Drawing& whole, const geometry::Rectangle& window, double least);

}  // namespace bandwright::drawing
