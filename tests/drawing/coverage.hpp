#pragma once

#include <cstdint>
#include <vector>

#include "geometry/section.hpp"

namespace bandwright::drawing {

/// A section as another program fills it: the smooth rasteriser of FreeType, which works out how much of each
/// pixel an outline covers (D. Turner, "FreeType's smooth rasterizer"). Arcs are passed to it as chords.
class Coverage {
  public:
    /// Pixels per mm of the section.
    Coverage(const geometry::Section& section, double pixels);

    /// mm2.
    double area() const;
    /// Of the pixel at a place, 0..1.
    double at(geometry::Vec2 place) const;

  private:
    double pixels_;
    geometry::Vec2 low_;
    int width_ = 0, height_ = 0;
    std::vector<std::uint8_t> grey_;  ///< rows from the bottom
};

}  // namespace bandwright::drawing
