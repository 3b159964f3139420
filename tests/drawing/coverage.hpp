#pragma once

#include <cstdint>
#include <vector>

#include "geometry/section.hpp"

namespace bandwright {

/// A section as another program fills it: the smooth rasteriser of FreeType, which works out how much of each
/// pixel an outline covers (D. Turner, "FreeType's smooth rasterizer"). It
/// is given chords for arcs.
class Coverage {
  public:
    /// So many pixels to a mm of the section.
    Coverage(const Section& section, double pixels);

    /// mm2.
    double area() const;
    /// Of the pixel at a place, 0..1.
    double at(Vec2 place) const;

  private:
    double pixels_;
    Vec2 low_;
    int width_ = 0, height_ = 0;
    std::vector<std::uint8_t> grey_;  ///< rows from the bottom
};

}  // namespace bandwright
