#include "wall_legend.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string_view>

#include "lettering.hpp"
#include "trade/linear_rgb.hpp"

namespace bandwright::render {

namespace {

constexpr int kColourSteps = 64;
constexpr double kLength = 300, kHeight = 14, kLegendTick = 5;  // points

struct NumberStep {
    double step = 0;
    int decimals = 0;
};

// The least step of 1, 2, 5, 10, ... of a decimal that gives at most six numbers.
NumberStep numberStep(double range, int decimals) {
    for (;; --decimals) {
        const double decade = std::pow(10.0, -decimals);
        for (const double step : {1.0, 2.0, 5.0}) {
            if (range <= 6 * step * decade) return {step * decade, std::max(decimals, 1)};
        }
    }
}

void drawColours(const Pen& pen, const scene::WallScale& scale, Pixel topLeft, double length, double height) {
    for (int i = 0; i < kColourSteps; ++i) {
        const trade::LinearRgb c = scene::scaleColour(scale, (i + 0.5) / kColourSteps);
        const auto encoded = [&](std::size_t k) { return static_cast<float>(trade::srgbEncoded(c[k])); };
        pen.rectangle({topLeft[0] + length * i / kColourSteps, topLeft[1]},
                      {topLeft[0] + length * (i + 1) / kColourSteps, topLeft[1] + height},
                      {encoded(0), encoded(1), encoded(2), 1});
    }
}

}  // namespace

std::vector<MarkVertex> wallLegend(const scene::WallScale& scale, scene::Size size, double pixelsAPoint) {
    std::vector<MarkVertex> triangles;
    const double range = scale.most - scale.least;
    if (!(range > 0)) return triangles;
    const Pen pen{size, triangles};
    const double k = pixelsAPoint, unit = k * kDigit / 6;
    const double length = std::min(k * kLength, 0.5 * size.width), left = k * kMargin;
    const double bottom = size.height - k * (kMargin + kDigit + kLegendTick + 4), top = bottom - k * kHeight;
    pen.rectangle({left - k, top - k}, {left + length + k, bottom + k}, kInk);
    drawColours(pen, scale, {left, top}, length, k * kHeight);

    constexpr int kWallDecimals = 1, kDeviationDecimals = 3;
    const auto [step, decimals] = numberStep(range, scale.twoSided ? kDeviationDecimals : kWallDecimals);
    constexpr double slack = 1e-6;
    const auto first = static_cast<int>(std::ceil(scale.least / step - slack));
    const auto last = static_cast<int>(std::floor(scale.most / step + slack));
    for (int i = first; i <= last; ++i) {
        const double value = i * step;
        std::array<char, 16> text{};
        std::snprintf(text.data(), text.size(), scale.twoSided && i > 0 ? "+%.*f%s" : "%.*f%s", decimals,
                      value, i == last ? " mm" : "");
        const std::string_view number(text.data());
        const double x = left + length * (value - scale.least) / range;
        pen.rectangle({x - k * kStroke / 2, bottom}, {x + k * kStroke / 2, bottom + k * kLegendTick}, kInk);
        const double start = x - unit * widthOf(number.substr(0, number.find(' '))) / 2;
        writeText(pen, number, {start, bottom + k * (kLegendTick + 4 + kDigit)}, unit, k * kStroke);
    }
    return triangles;
}

}  // namespace bandwright::render
