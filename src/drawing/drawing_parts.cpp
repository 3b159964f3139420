#include "drawing_parts.hpp"

#include <algorithm>
#include <utility>

#include "drawing/hatching.hpp"

namespace bandwright::drawing {

namespace {

/// Adds the parts of a line that lie outside all boxes.
void addClearOf(const std::vector<geometry::Rectangle>& boxes, const geometry::Segment& whole,
                std::vector<geometry::Segment>& lines) {
    std::vector<std::pair<double, double>> clear{{0, 1}};
    const geometry::Vec2 way = whole.to - whole.from;
    for (const geometry::Rectangle& box : boxes) {
        const auto inside = stretchIn(whole, box);
        if (!inside) continue;
        const auto [in, out] = *inside;
        std::vector<std::pair<double, double>> left;
        for (const auto& [from, to] : clear) {
            if (from < std::min(to, in)) left.emplace_back(from, std::min(to, in));
            if (std::max(from, out) < to) left.emplace_back(std::max(from, out), to);
        }
        clear = std::move(left);
    }
    for (const auto& [from, to] : clear)
        lines.push_back(geometry::line(whole.from + from * way, whole.from + to * way, {}));
}

void hatch(Drawing& drawing) {
    std::vector<geometry::Rectangle> boxes;
    for (const Dimension& dimension : drawing.dimensions)
        boxes.push_back(boxOf(dimension.text));
    if (drawing.witness) boxes.push_back(boxOf(drawing.witness->text));
    for (CutBody& body : drawing.bodies) {
        const HatchStyle style = hatchStyle(body.role);
        if (style.spacing == 0) continue;
        for (const geometry::Segment& s :
             hatching(body.outline, style.degrees, style.spacing * drawing.textHeight))
            addClearOf(boxes, s, body.hatching);
    }
}

}  // namespace

std::optional<std::pair<double, double>> stretchIn(const geometry::Segment& line,
                                                   const geometry::Rectangle& box) {
    double in = 0, out = 1;
    const auto clip = [&](double from, double step, double low, double high) {
        if (step == 0) {
            if (from < low || from > high) out = -1;
            return;
        }
        const auto [first, last] = std::minmax({(low - from) / step, (high - from) / step});
        in = std::max(in, first);
        out = std::min(out, last);
    };
    const geometry::Vec2 way = line.to - line.from;
    clip(line.from.z, way.z, box.low.z, box.high.z);
    clip(line.from.r, way.r, box.low.r, box.high.r);
    if (in >= out) return std::nullopt;
    return std::pair{in, out};
}

geometry::Section scaled(geometry::Section section, double scale) {
    for (geometry::Loop& loop : section) {
        for (geometry::Segment& s : loop) {
            s.from = scale * s.from;
            s.to = scale * s.to;
            s.centre = scale * s.centre;
            s.radius *= scale;
        }
    }
    return section;
}

geometry::Section rectangle(const geometry::Rectangle& box) {
    const geometry::Vec2 a = box.low, b{box.high.z, box.low.r}, c = box.high, d{box.low.z, box.high.r};
    return {{geometry::line(a, b, {}), geometry::line(b, c, {}), geometry::line(c, d, {}),
             geometry::line(d, a, {})}};
}

void addBody(Drawing& drawing, geometry::PartRole role, const geometry::Section& section) {
    if (section.empty()) return;
    const LineKind kind = role == geometry::PartRole::Fill ? LineKind::Thin : LineKind::Outline;
    drawing.bodies.push_back({role, kind, scaled(section, drawing.scale), {}});
}

Drawing emptyDrawing(const Layout& layout) {
    Drawing drawing;
    drawing.scale = layout.scale;
    drawing.textHeight = layout.textHeight;
    return drawing;
}

void finish(Drawing& drawing, Dimensioning& dimensioning, const std::optional<PointedOut>& pointedOut) {
    if (pointedOut) dimensioning.pointOut(pointedOut->from, pointedOut->to, pointedOut->words);
    dimensioning.write();
    hatch(drawing);
}

}  // namespace bandwright::drawing
