#include "scale_bar.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

#include "lettering.hpp"

namespace bandwright::render {

namespace {

constexpr double kLongest = 0.25;  // share of the picture's width
constexpr double kScaleTick = 8;   // points

// The greatest of 0.1, 0.2, 0.5, 1, 2, 5, ... mm that is not longer than that.
double roundLength(double most) {
    const double decade = std::pow(10, std::max(-1.0, std::floor(std::log10(most) + 1e-9)));
    for (const double step : {5.0, 2.0})
        if (step * decade <= most) return step * decade;
    return decade;
}

}  // namespace

std::vector<MarkVertex> scaleBar(double pixelsPerMm, scene::Size size, double pixelsAPoint) {
    std::vector<MarkVertex> triangles;
    const Pen pen{size, triangles};
    const double k = pixelsAPoint, mm = roundLength(kLongest * size.width / pixelsPerMm),
                 length = mm * pixelsPerMm;
    const double right = size.width - k * kMargin, left = right - length, y = size.height - k * kMargin;
    const double half = k * kStroke / 2;
    pen.rectangle({left, y - half}, {right, y + half}, kInk);
    for (const double end : {left + half, right - half})
        pen.rectangle({end - half, y - k * kScaleTick / 2}, {end + half, y + k * kScaleTick / 2}, kInk);
    std::array<char, 16> text{};
    std::snprintf(text.data(), text.size(), "%g mm", mm);
    const double unit = k * kDigit / 6;
    writeText(pen, text.data(),
              {(left + right - unit * widthOf(text.data())) / 2, y - k * (kScaleTick / 2 + 4)}, unit,
              k * kStroke);
    return triangles;
}

}  // namespace bandwright::render
