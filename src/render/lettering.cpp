#include "lettering.hpp"

#include <cmath>

namespace bandwright::render {

namespace {

// The strokes of a character on a grid 4 wide and 6 high: two digits for each point, a space between strokes.
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
        case '-':
            return "0343";
        case '+':
            return "0343 2125";
        case 'm':
            return "00044440 2420";
        default:
            return "";
    }
}

double advance(char sign) {
    return sign == '.' || sign == ' ' ? 2 : 6;
}

}  // namespace

double widthOf(std::string_view text) {
    double width = -2;
    for (const char sign : text)
        width += advance(sign);
    return width;
}

void writeText(const Pen& pen, std::string_view text, Pixel place, double unit, double stroke) {
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

}  // namespace bandwright::render
