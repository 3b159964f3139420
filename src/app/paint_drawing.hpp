#pragma once

#include <imgui.h>

#include <vector>

#include "app/theme.hpp"
#include "drawing/drawing.hpp"

namespace bandwright::app {

/// A sheet of paper on the screen.
struct Paper {
    double pixels = 1;  ///< to one mm of it
    ImVec2 origin;      ///< pixels, of its z = 0, r = 0

    ImVec2 at(geometry::Vec2 place) const {
        return {origin.x + static_cast<float>(pixels * place.z),
                origin.y - static_cast<float>(pixels * place.r)};
    }
    geometry::Vec2 mm(ImVec2 pixel) const {
        return {(pixel.x - origin.x) / pixels, (origin.y - pixel.y) / pixels};
    }
};

/// Pixels per mm of a paper on which capitals of the theme's small font have this height in mm.
double pixelsPerMm(const Theme& theme, double textHeight);

/// Width of a line of the theme's small font, in heights of its capitals.
double widthInHeights(const Theme& theme, std::string_view text);

void paint(const drawing::Drawing& drawing, ImDrawList& list, const Theme& theme, const Paper& paper);
void paint(const geometry::Segment& segment, ImDrawList& list, const Paper& paper, ImU32 colour,
           float thickness);

/// Points along the segment, first and last included, whose chords are at most `tolerance` away from it.
std::vector<geometry::Vec2> flattened(const geometry::Segment& segment, double tolerance);

}  // namespace bandwright::app
