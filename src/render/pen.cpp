#include "pen.hpp"

namespace bandwright::render {

void Pen::corner(Pixel p, const std::array<float, 4>& colour) const {
    out_->push_back(
        {{static_cast<float>(2 * p[0] / size_.width - 1), static_cast<float>(1 - 2 * p[1] / size_.height)},
         colour});
}

void Pen::bar(Pixel a, Pixel b, Pixel along, double half, double beyond,
              const std::array<float, 4>& colour) const {
    const Pixel side = {-half * along[1], half * along[0]}, end = {beyond * along[0], beyond * along[1]};
    const std::array<Pixel, 4> c = {{{a[0] - end[0] + side[0], a[1] - end[1] + side[1]},
                                     {a[0] - end[0] - side[0], a[1] - end[1] - side[1]},
                                     {b[0] + end[0] + side[0], b[1] + end[1] + side[1]},
                                     {b[0] + end[0] - side[0], b[1] + end[1] - side[1]}}};
    for (const std::size_t i : {0U, 1U, 2U, 2U, 1U, 3U})
        corner(c[i], colour);
}

void Pen::rectangle(Pixel topLeft, Pixel bottomRight, const std::array<float, 4>& colour) const {
    const double middle = (topLeft[1] + bottomRight[1]) / 2, half = (bottomRight[1] - topLeft[1]) / 2;
    bar({topLeft[0], middle}, {bottomRight[0], middle}, {1, 0}, half, 0, colour);
}

}  // namespace bandwright::render
