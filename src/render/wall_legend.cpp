#include "wall_legend.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <string_view>

namespace bandwright {

namespace {

constexpr int kColourSteps = 64;
constexpr double kLength = 300, kHeight = 14, kMargin = 28;  // points
constexpr double kDigit = 11, kTick = 5, kStroke = 1.5;      // points: height of a digit, ...
constexpr std::array<float, 4> kInk = {0.13F, 0.14F, 0.15F, 1};

// Strokes of a sign on a grid 4 wide and 6 high, two digits a point, a space between strokes.
std::string_view strokes(char sign) {
    switch (sign) {
        case '0':
            return "0006464000";
        case '1':
            return "152620";
        case '2':
            return "064643030040";
        case '3':
            return "06464000 1343";
        case '4':
            return "060343 4640";
        case '5':
            return "460603434000";
        case '6':
            return "460600404303";
        case '7':
            return "064610";
        case '8':
            return "0006464000 0343";
        case '9':
            return "430306464000";
        case '.':
            return "0000";
        case 'm':
            return "00044440 2420";
        default:
            return "";
    }
}

double advance(char sign) {
    return sign == '.' || sign == ' ' ? 2 : 6;
}

double widthOf(std::string_view text) {
    double width = -2;
    for (const char sign : text)
        width += advance(sign);
    return width;
}

// `unit` is the pixels of a step of the signs' grid; `place` is the text's lower left corner.
void write(const Pen& pen, std::string_view text, Pixel place, double unit, double stroke) {
    for (const char sign : text) {
        const std::string_view points = strokes(sign);
        const auto at = [&](std::size_t i) {
            return Pixel{place[0] + unit * (points[i] - '0'), place[1] - unit * (points[i + 1] - '0')};
        };
        for (std::size_t i = 0; i + 3 < points.size(); i += 2) {
            if (points[i + 2] == ' ') {
                ++i;
                continue;
            }
            const Pixel a = at(i), b = at(i + 2);
            const double length = std::hypot(b[0] - a[0], b[1] - a[1]);
            const Pixel along =
                length > 0 ? Pixel{(b[0] - a[0]) / length, (b[1] - a[1]) / length} : Pixel{1, 0};
            pen.bar(a, b, along, stroke / 2, stroke / 2, kInk);
        }
        place[0] += unit * advance(sign);
    }
}

// The least step of 0.1, 0.2, 0.5, 1, 2, 5, ... mm that gives no more than six numbers.
double numberStep(double range) {
    for (double decade = 0.1;; decade *= 10) {
        for (const double step : {1.0, 2.0, 5.0}) {
            if (range <= 6 * step * decade) return step * decade;
        }
    }
}

void drawColours(const Pen& pen, Pixel topLeft, double length, double height) {
    for (int i = 0; i < kColourSteps; ++i) {
        const LinearRgb c = wallColour((i + 0.5) / kColourSteps);
        const auto encoded = [&](std::size_t k) {
            const double v = c[k];
            return static_cast<float>(v <= 0.0031308 ? 12.92 * v : 1.055 * std::pow(v, 1 / 2.4) - 0.055);
        };
        pen.rectangle({topLeft[0] + length * i / kColourSteps, topLeft[1]},
                      {topLeft[0] + length * (i + 1) / kColourSteps, topLeft[1] + height},
                      {encoded(0), encoded(1), encoded(2), 1});
    }
}

}  // namespace

std::vector<MarkVertex> wallLegend(const WallScale& scale, Size size, double pixelsAPoint) {
    std::vector<MarkVertex> triangles;
    const double range = scale.most - scale.least;
    if (!(range > 0)) return triangles;
    const Pen pen{size, triangles};
    const double k = pixelsAPoint, unit = k * kDigit / 6;
    const double length = std::min(k * kLength, 0.5 * size.width), left = k * kMargin;
    const double bottom = size.height - k * (kMargin + kDigit + kTick + 4), top = bottom - k * kHeight;
    pen.rectangle({left - k, top - k}, {left + length + k, bottom + k}, kInk);
    drawColours(pen, {left, top}, length, k * kHeight);

    const double step = numberStep(range), slack = 1e-6;
    const auto first = static_cast<int>(std::ceil(scale.least / step - slack));
    const auto last = static_cast<int>(std::floor(scale.most / step + slack));
    for (int i = first; i <= last; ++i) {
        const double value = i * step;
        std::array<char, 16> text{};
        std::snprintf(text.data(), text.size(), "%.1f%s", value, i == last ? " mm" : "");
        const std::string_view number(text.data());
        const double x = left + length * (value - scale.least) / range;
        pen.rectangle({x - k * kStroke / 2, bottom}, {x + k * kStroke / 2, bottom + k * kTick}, kInk);
        const double start = x - unit * widthOf(number.substr(0, number.find(' '))) / 2;
        write(pen, number, {start, bottom + k * (kTick + 4 + kDigit)}, unit, k * kStroke);
    }
    return triangles;
}

}  // namespace bandwright
