#include "drawing/drawing.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace bandwright::drawing {

namespace {

constexpr double kNever = std::numeric_limits<double>::infinity();
constexpr geometry::Rectangle kEmpty{{kNever, kNever}, {-kNever, -kNever}};

void grow(geometry::Rectangle& all, const geometry::Rectangle& more) {
    all.low = {std::min(all.low.z, more.low.z), std::min(all.low.r, more.low.r)};
    all.high = {std::max(all.high.z, more.high.z), std::max(all.high.r, more.high.r)};
}

void grow(geometry::Rectangle& all, const std::vector<geometry::Segment>& lines) {
    for (const geometry::Segment& line : lines)
        grow(all, geometry::rectangleRound(line));
}

}  // namespace

double lineWidth(LineKind kind, double textHeight) {
    return textHeight / (kind == LineKind::Outline ? 5 : 10);
}

std::vector<double> dashes(LineKind kind, double textHeight) {
    const double d = lineWidth(kind, textHeight);
    switch (kind) {
        case LineKind::Outline:
        case LineKind::Thin:
            break;
        case LineKind::Hidden:
            return {12 * d, 3 * d};
        case LineKind::Axis:
            return {24 * d, 3 * d, 0.5 * d, 3 * d};
    }
    return {};
}

geometry::Rectangle boxOf(const Text& text) {
    const double clear = text.height / 4;
    return {text.at - geometry::Vec2{0, clear}, text.at + geometry::Vec2{text.width, text.height + clear}};
}

double letteringWidth(std::string_view text) {
    constexpr double kCharacter = 0.5, kBetween = 0.2, kWordGap = 0.6;
    double width = 0;
    for (const char c : text) {
        const bool continues = (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
        if (!continues) width += c == ' ' ? kWordGap - kBetween : kCharacter + kBetween;
    }
    return std::max(0.0, width - kBetween);
}

geometry::Rectangle rectangleRound(const geometry::Section& section) {
    geometry::Rectangle all = kEmpty;
    for (const geometry::Loop& loop : section)
        grow(all, loop);
    return all;
}

geometry::Rectangle bodiesOf(const Drawing& drawing) {
    geometry::Rectangle all = kEmpty;
    for (const CutBody& body : drawing.bodies)
        grow(all, rectangleRound(body.outline));
    return all;
}

geometry::Rectangle extentOf(const Drawing& drawing) {
    geometry::Rectangle all = bodiesOf(drawing);
    for (const Stroke& stroke : drawing.strokes)
        grow(all, geometry::rectangleRound(stroke.path));
    for (const Dimension& dimension : drawing.dimensions) {
        grow(all, boxOf(dimension.text));
        grow(all, dimension.extensions);
        grow(all, dimension.lines);
        for (const Arrowhead& arrow : dimension.arrows) {
            for (const geometry::Vec2 corner : arrow)
                grow(all, {corner, corner});
        }
    }
    if (drawing.witness) {
        grow(all, geometry::rectangleRound(drawing.witness->line));
        grow(all, boxOf(drawing.witness->text));
    }
    return all;
}

const geometry::Segment* outlineNear(const Drawing& drawing, geometry::Vec2 place, double reach) {
    const geometry::Segment* nearest = nullptr;
    for (const CutBody& body : drawing.bodies) {
        for (const geometry::Loop& loop : body.outline) {
            for (const geometry::Segment& segment : loop) {
                const double away = geometry::distance(place, geometry::nearestOn(segment, place));
                if (away < reach) reach = away, nearest = &segment;
            }
        }
    }
    return nearest;
}

double fittingScale(const std::function<Drawing(double scale)>& draw, double width, double height) {
    constexpr int kMostTries = 12;
    double fits = 0, large = kNever, scale = 1;
    for (int i = 0; i < kMostTries; ++i) {
        const Drawing drawing = draw(scale);
        const geometry::Vec2 whole = extentOf(drawing).high - extentOf(drawing).low;
        const geometry::Vec2 bodies = bodiesOf(drawing).high - bodiesOf(drawing).low;
        const bool fit = whole.z <= width && whole.r <= height;
        (fit ? fits : large) = scale;
        // Text and arrows round the bodies keep their size at every scale, except that text may or may not
        // find room.
        const double next = scale * std::min((width - (whole.z - bodies.z)) / bodies.z,
                                             (height - (whole.r - bodies.r)) / bodies.r);
        if (fit && next < 1.001 * scale) break;
        scale = 0.9998 * next;
        if (scale <= fits || scale >= large) scale = std::isfinite(large) ? (fits + large) / 2 : 2 * fits;
    }
    return fits;
}

}  // namespace bandwright::drawing
