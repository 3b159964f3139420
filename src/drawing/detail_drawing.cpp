#include "drawing/detail_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "dimensioning.hpp"
#include "drawing_parts.hpp"

namespace bandwright::drawing {

namespace {

/// Round a small dimension: so many times its length to each side, and at least so many mm of the ring.
constexpr double kAround = 1.5, kLeastAround = 0.35;
/// mm of the ring; tools are moved by less.
constexpr double kOnBorder = 1e-5;

bool isSmall(const Dimension& dimension, double scale, double least) {
    return dimension.measured != Measured::Round && dimension.value > 0 && dimension.value * scale < least;
}

geometry::Rectangle windowRound(const Dimension& dimension) {
    const double room = std::max(kAround * dimension.value, kLeastAround);
    const geometry::Vec2 a = dimension.from, b = dimension.to, out{room, room};
    return {geometry::Vec2{std::min(a.z, b.z), std::min(a.r, b.r)} - out,
            geometry::Vec2{std::max(a.z, b.z), std::max(a.r, b.r)} + out};
}

bool holds(const geometry::Rectangle& box, geometry::Vec2 p) {
    return p.z >= box.low.z && p.z <= box.high.z && p.r >= box.low.r && p.r <= box.high.r;
}

/// Joins rectangles until none overlap.
void merge(std::vector<geometry::Rectangle>& boxes) {
    for (std::size_t i = 0; i < boxes.size();) {
        std::size_t k = i + 1;
        while (k < boxes.size() && geometry::distance(boxes[i], boxes[k]) > 0)
            ++k;
        if (k == boxes.size()) {
            ++i;
            continue;
        }
        geometry::Rectangle& a = boxes[i];
        const geometry::Rectangle b = boxes[k];
        a = {{std::min(a.low.z, b.low.z), std::min(a.low.r, b.low.r)},
             {std::max(a.high.z, b.high.z), std::max(a.high.r, b.high.r)}};
        boxes.erase(boxes.begin() + static_cast<std::ptrdiff_t>(k));
        i = 0;
    }
}

bool isOnBorder(const geometry::Segment& s, const geometry::Rectangle& box) {
    if (s.isArc()) return false;
    const auto both = [&](double from, double to, double border) {
        return std::abs(from - border) < kOnBorder && std::abs(to - border) < kOnBorder;
    };
    return both(s.from.z, s.to.z, box.low.z) || both(s.from.z, s.to.z, box.high.z) ||
           both(s.from.r, s.to.r, box.low.r) || both(s.from.r, s.to.r, box.high.r);
}

void addPart(Drawing& drawing, const CutBody& body, double wholeScale, const geometry::Rectangle& window) {
    const geometry::Section part =
        geometry::intersect(scaled(body.outline, 1 / wholeScale), rectangle(window));
    if (part.empty()) return;
    drawing.bodies.push_back({body.role, LineKind::Thin, scaled(part, drawing.scale), {}});
    for (const geometry::Loop& loop : part) {
        for (const geometry::Segment& s : loop) {
            if (!isOnBorder(s, window))
                drawing.strokes.push_back({body.line, scaled({{s}}, drawing.scale).front().front()});
        }
    }
}

/// The dimension again, with the same words before and after its number.
void show(Dimensioning& all, const Dimension& dimension, geometry::Vec2 middle) {
    const std::string digits = base::fixed(dimension.value, 2);
    const std::size_t at = dimension.text.words.find(digits);
    Shown shown{.field = dimension.field, .from = dimension.from, .to = dimension.to};
    shown.isField = dimension.isField;
    if (at != std::string::npos) {
        shown.before = dimension.text.words.substr(0, at);
        const std::size_t slope = dimension.text.words.find(" \u00D7 ", at);
        if (slope != std::string::npos) shown.after = dimension.text.words.substr(slope);
    }
    const geometry::Vec2 place = 0.5 * (dimension.from + dimension.to);
    switch (dimension.measured) {
        case Measured::AlongAxis:
            return place.r >= middle.r ? all.above(shown) : all.below(shown);
        case Measured::AlongRadius:
            return place.z >= middle.z ? all.atRight(shown) : all.atLeft(shown);
        case Measured::Straight:
        case Measured::Round:
            return all.leader(shown, dimension.measured, place);
    }
}

}  // namespace

std::vector<geometry::Rectangle> smallPlaces(const Drawing& drawing, double least) {
    std::vector<geometry::Rectangle> boxes;
    for (const Dimension& dimension : drawing.dimensions) {
        if (isSmall(dimension, drawing.scale, least)) boxes.push_back(windowRound(dimension));
    }
    merge(boxes);
    return boxes;
}

void dropDimensions(Drawing& whole, const geometry::Rectangle& window, double least) {
    std::erase_if(whole.dimensions, [&](const Dimension& dimension) {
        return isSmall(dimension, whole.scale, least) && holds(window, dimension.from) &&
               holds(window, dimension.to);
    });
}

Drawing detailDrawing(const Drawing& whole, const geometry::Rectangle& window, double least,
                      const Layout& layout) {
    Drawing drawing = emptyDrawing(layout);
    for (const CutBody& body : whole.bodies)
        addPart(drawing, body, whole.scale, window);
    Dimensioning all(drawing, layout);
    for (const Dimension& dimension : whole.dimensions) {
        if (isSmall(dimension, whole.scale, least) && holds(window, dimension.from) &&
            holds(window, dimension.to))
            show(all, dimension, 0.5 * (window.low + window.high));
    }
    finish(drawing, all);
    return drawing;
}

}  // namespace bandwright::drawing
