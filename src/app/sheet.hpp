#pragma once

#include <imgui.h>

#include <optional>
#include <string>
#include <vector>

#include "app/theme.hpp"
#include "geometry/section.hpp"

namespace bandwright {

/// A drawing to scale on an ImGui draw list: sections in, hatched outlines and dimensions out. z runs to the
/// right and r upwards.
struct Sheet {
    ImDrawList& draw;
    const Theme& theme;
    double scale = 1;    ///< pixels a mm
    ImVec2 origin;       ///< pixels, of z = 0, r = 0
    ImVec2 least, most;  ///< pixels, what may be drawn on

    ImVec2 at(Vec2 point) const {
        return {origin.x + static_cast<float>(scale * point.z),
                origin.y - static_cast<float>(scale * point.r)};
    }
    Vec2 mm(ImVec2 pixel) const { return {(pixel.x - origin.x) / scale, (origin.y - pixel.y) / scale}; }

    /// Tint and hatching of cut material; lines at `degrees` from the z axis, `spacing` pixels apart at
    /// scale 1.
    void cut(const Section& section, ImU32 tint, ImU32 lines, double degrees, float spacing) const;
    void outline(const Section& section, ImU32 colour, float thickness) const;
    void segment(const Segment& segment, ImU32 colour, float thickness) const;

    /// A dimension of the length between two places, measured along z at the height `y` (pixels), or along r
    /// at the place `x`, with extension lines from the places themselves.
    void acrossDimension(Vec2 from, Vec2 to, float y, const std::string& text) const;
    void upDimension(Vec2 from, Vec2 to, float x, const std::string& text, bool textLeft = false) const;
    /// Text on a piece of bare paper.
    void note(ImVec2 middle, const std::string& text, ImU32 colour) const;
};

/// Pixels by which an arc's chords may stand off it.
inline constexpr double kFlatness = 0.15;

/// The segment as points, first and last included.
std::vector<Vec2> flattened(const Segment& segment, double tolerance);

/// Distance in mm from the point to the segment, as closely as it is drawn.
double distanceTo(const Segment& segment, Vec2 point, double tolerance);

struct Bounds {
    double leastZ = 1e9, mostZ = -1e9, leastR = 1e9, mostR = -1e9;
};
void grow(Bounds& bounds, const Section& section);

/// The r at which the vertical line at z crosses the outline, lowest first.
std::vector<double> crossings(const Section& section, double z);

}  // namespace bandwright
