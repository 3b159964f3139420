#pragma once

#include <array>
#include <vector>

#include "scene/camera.hpp"

namespace bandwright::render {

/// A corner of a flat shape drawn over the picture.
struct MarkVertex {
    std::array<float, 2> position;  ///< clip space
    std::array<float, 4> colour;    ///< sRGB, straight alpha
};

/// In pixels from the picture's top left corner.
using Pixel = std::array<double, 2>;

/// Writes flat shapes as triangles, three vertices each.
class Pen {
  public:
    Pen(scene::Size size, std::vector<MarkVertex>& out) : size_(size), out_(&out) {}

    /// A bar from a to b that extends by the given amounts to both sides and past both ends; `along` is its
    /// unit direction.
    void bar(Pixel a, Pixel b, Pixel along, double half, double beyond,
             const std::array<float, 4>& colour) const;
    void rectangle(Pixel topLeft, Pixel bottomRight, const std::array<float, 4>& colour) const;

  private:
    void corner(Pixel p, const std::array<float, 4>& colour) const;

    scene::Size size_;
    std::vector<MarkVertex>* out_;
};

}  // namespace bandwright::render
