#include "mark_lines.hpp"

#include <cmath>

namespace bandwright::render {

namespace {

constexpr double kLine = 2.2, kSeam = 5.0, kCap = 13.0;  // pixels: widths of line and seam, length of a cap
constexpr std::array<float, 4> kSeamColour = {1, 1, 1, 0.75F};
constexpr double kShortest = 0.5;  // pixels; a shorter line shows only its caps, upright

void drawMark(const Pen& pen, Pixel a, Pixel b, double scale, double width,
              const std::array<float, 4>& colour) {
    const double length = std::hypot(b[0] - a[0], b[1] - a[1]);
    const Pixel along =
        length > kShortest ? Pixel{(b[0] - a[0]) / length, (b[1] - a[1]) / length} : Pixel{1, 0};
    const Pixel across = {-along[1], along[0]};
    const double half = scale * width / 2, border = scale * (width - kLine) / 2;
    pen.bar(a, b, along, half, half, colour);
    for (const Pixel& end : {a, b})
        pen.bar(end, end, across, half, scale * kCap / 2 + border, colour);
}

}  // namespace

std::vector<MarkVertex> markTriangles(const scene::Scene& scene, const scene::Viewpoint& view,
                                      scene::Size size, double scale) {
    std::vector<MarkVertex> triangles;
    const Pen pen{size, triangles};
    for (const scene::Mark& mark : scene.marks) {
        const auto from = scene::project(view, size, scene::toStage(mark.from, scene.top));
        const auto to = scene::project(view, size, scene::toStage(mark.to, scene.top));
        if (!from || !to) continue;
        drawMark(pen, *from, *to, scale, kSeam, kSeamColour);
        drawMark(pen, *from, *to, scale, kLine,
                 {static_cast<float>(mark.colour[0]), static_cast<float>(mark.colour[1]),
                  static_cast<float>(mark.colour[2]), 1});
    }
    return triangles;
}

}  // namespace bandwright::render
