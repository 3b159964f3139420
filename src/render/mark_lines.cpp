#include "mark_lines.hpp"

#include <cmath>

namespace bandwright {

namespace {

using Pixel = std::array<double, 2>;

constexpr double kLine = 2.2, kSeam = 5.0, kCap = 13.0;  // pixels: widths of line and seam, length of a cap
constexpr std::array<float, 4> kSeamColour = {1, 1, 1, 0.75F};
constexpr double kShortest = 0.5;  // pixels; a shorter line shows as its caps, upright

struct Pen {
    Size size;
    std::vector<MarkVertex>* out;

    void corner(Pixel p, const std::array<float, 4>& colour) const {
        out->push_back(
            {{static_cast<float>(2 * p[0] / size.width - 1), static_cast<float>(1 - 2 * p[1] / size.height)},
             colour});
    }

    // A bar from a to b, so much to both sides and beyond both ends; `along` is its unit direction.
    void bar(Pixel a, Pixel b, Pixel along, double half, double beyond,
             const std::array<float, 4>& colour) const {
        const Pixel side = {-half * along[1], half * along[0]}, end = {beyond * along[0], beyond * along[1]};
        const std::array<Pixel, 4> c = {{{a[0] - end[0] + side[0], a[1] - end[1] + side[1]},
                                         {a[0] - end[0] - side[0], a[1] - end[1] - side[1]},
                                         {b[0] + end[0] + side[0], b[1] + end[1] + side[1]},
                                         {b[0] + end[0] - side[0], b[1] + end[1] - side[1]}}};
        for (const std::size_t i : {0U, 1U, 2U, 2U, 1U, 3U})
            corner(c[i], colour);
    }

    void mark(Pixel a, Pixel b, double scale, double width, const std::array<float, 4>& colour) const {
        const double length = std::hypot(b[0] - a[0], b[1] - a[1]);
        const Pixel along =
            length > kShortest ? Pixel{(b[0] - a[0]) / length, (b[1] - a[1]) / length} : Pixel{1, 0};
        const Pixel across = {-along[1], along[0]};
        const double half = scale * width / 2, border = scale * (width - kLine) / 2;
        bar(a, b, along, half, half, colour);
        for (const Pixel& end : {a, b})
            bar(end, end, across, half, scale * kCap / 2 + border, colour);
    }
};

}  // namespace

std::vector<MarkVertex> markTriangles(const Scene& scene, const Viewpoint& view, Size size, double scale) {
    std::vector<MarkVertex> triangles;
    const Pen pen{size, &triangles};
    for (const Mark& mark : scene.marks) {
        const auto from = project(view, size, toStage(mark.from, scene.top));
        const auto to = project(view, size, toStage(mark.to, scene.top));
        if (!from || !to) continue;
        pen.mark(*from, *to, scale, kSeam, kSeamColour);
        pen.mark(*from, *to, scale, kLine,
                 {static_cast<float>(mark.colour[0]), static_cast<float>(mark.colour[1]),
                  static_cast<float>(mark.colour[2]), 1});
    }
    return triangles;
}

}  // namespace bandwright
