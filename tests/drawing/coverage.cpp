#include "coverage.hpp"

#include <ft2build.h>
#include FT_FREETYPE_H
#include FT_OUTLINE_H

#include <cmath>
#include <numeric>
#include <stdexcept>

#include "drawing/drawing.hpp"

namespace bandwright::drawing {

namespace {

/// The outline in FreeType's units, 1/64 of a pixel.
struct Curves {
    std::vector<FT_Vector> points;
    std::vector<char> tags;
    std::vector<short> ends;

    void add(geometry::Vec2 p) {
        points.push_back({std::lround(64 * p.z), std::lround(64 * p.r)});
        tags.push_back(FT_CURVE_TAG_ON);
    }
};

/// Chords that stand off the arc by at most 1/100 of a pixel; the last point is the next segment's first.
void addArc(Curves& curves, const geometry::Segment& arc) {
    const double step = std::sqrt(8 * 0.01 / arc.radius);
    const int pieces = static_cast<int>(std::ceil(geometry::arcLength(arc) / arc.radius / step));
    for (int i = 0; i < pieces; ++i)
        curves.add(geometry::pointAt(arc, 1.0 * i / pieces));
}

geometry::Segment onPixels(geometry::Segment s, double pixels, geometry::Vec2 low) {
    for (geometry::Vec2* p : {&s.from, &s.to, &s.centre})
        *p = pixels * (*p - low);
    s.radius *= pixels;
    return s;
}

}  // namespace

Coverage::Coverage(const geometry::Section& section, double pixels) : pixels_(pixels) {
    const geometry::Rectangle bounds = rectangleRound(section);
    low_ = bounds.low - geometry::Vec2{2 / pixels, 2 / pixels};
    width_ = static_cast<int>((bounds.high.z - low_.z) * pixels) + 4;
    height_ = static_cast<int>((bounds.high.r - low_.r) * pixels) + 4;
    grey_.assign(static_cast<std::size_t>(width_) * static_cast<std::size_t>(height_), 0);
    Curves curves;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& segment : loop) {
            const geometry::Segment s = onPixels(segment, pixels, low_);
            s.isArc() ? addArc(curves, s) : curves.add(s.from);
        }
        curves.ends.push_back(static_cast<short>(curves.points.size() - 1));
    }
    FT_Outline outline{};
    outline.n_contours = static_cast<short>(curves.ends.size());
    outline.n_points = static_cast<short>(curves.points.size());
    outline.points = curves.points.data();
    outline.tags = curves.tags.data();
    outline.contours = curves.ends.data();
    outline.flags = FT_OUTLINE_EVEN_ODD_FILL;
    FT_Bitmap bitmap{};
    bitmap.rows = static_cast<unsigned>(height_);
    bitmap.width = static_cast<unsigned>(width_);
    bitmap.pitch = -width_;  // rows from the bottom
    bitmap.buffer = grey_.data();
    bitmap.num_grays = 256;
    bitmap.pixel_mode = FT_PIXEL_MODE_GRAY;
    FT_Library library = nullptr;
    if (FT_Init_FreeType(&library) != 0) throw std::runtime_error("no FreeType");
    const FT_Error error = FT_Outline_Get_Bitmap(library, &outline, &bitmap);
    FT_Done_FreeType(library);
    if (error != 0) throw std::runtime_error("FreeType does not fill the outline");
}

double Coverage::area() const {
    return std::accumulate(grey_.begin(), grey_.end(), 0.0) / 255 / pixels_ / pixels_;
}

double Coverage::at(geometry::Vec2 place) const {
    const geometry::Vec2 p = pixels_ * (place - low_);
    const auto column = static_cast<std::size_t>(p.z), row = static_cast<std::size_t>(p.r);
    return grey_.at(row * static_cast<std::size_t>(width_) + column) / 255.0;
}

}  // namespace bandwright::drawing
