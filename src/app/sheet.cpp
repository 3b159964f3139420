#include "sheet.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright {

namespace {

struct Edge2 {
    ImVec2 from, to;
};

std::vector<Edge2> pixelEdges(const Sheet& sheet, const Section& section) {
    std::vector<Edge2> edges;
    for (const Loop& loop : section) {
        for (const Segment& segment : loop) {
            const std::vector<Vec2> points = flattened(segment, kFlatness / sheet.scale);
            for (std::size_t i = 1; i < points.size(); ++i) {
                edges.push_back({sheet.at(points[i - 1]), sheet.at(points[i])});
            }
        }
    }
    return edges;
}

/// Where the line of constant `across` cuts the edges, by how far along it; `along` and `across` are unit
/// vectors.
std::vector<float> cuts(const std::vector<Edge2>& edges, ImVec2 along, ImVec2 across, float level) {
    std::vector<float> found;
    for (const Edge2& edge : edges) {
        const float a = edge.from.x * across.x + edge.from.y * across.y - level;
        const float b = edge.to.x * across.x + edge.to.y * across.y - level;
        if ((a < 0) == (b < 0)) continue;
        const float t = a / (a - b);
        const float x = edge.from.x + t * (edge.to.x - edge.from.x),
                    y = edge.from.y + t * (edge.to.y - edge.from.y);
        found.push_back(x * along.x + y * along.y);
    }
    std::ranges::sort(found);
    return found;
}

/// Calls `stroke(from, to)` for every stretch of the lines, `spacing` apart, that lies inside.
template <class Stroke>
void sweep(const std::vector<Edge2>& edges, float radians, float spacing, const Stroke& stroke) {
    if (edges.empty()) return;
    const ImVec2 along{std::cos(radians), -std::sin(radians)}, across{std::sin(radians), std::cos(radians)};
    float least = 1e9F, most = -1e9F;
    for (const Edge2& edge : edges) {
        const float level = edge.from.x * across.x + edge.from.y * across.y;
        least = std::min(least, level);
        most = std::max(most, level);
    }
    const float first = std::floor(least / spacing);
    const int count = static_cast<int>(std::ceil((most - least) / spacing)) + 1;
    for (int i = 0; i < count; ++i) {
        const float level = (first + static_cast<float>(i) + 0.5F) * spacing;
        const std::vector<float> found = cuts(edges, along, across, level);
        for (std::size_t cut = 0; cut + 1 < found.size(); cut += 2) {
            const auto point = [&](float t) {
                return ImVec2{along.x * t + across.x * level, along.y * t + across.y * level};
            };
            stroke(point(found[cut]), point(found[cut + 1]));
        }
    }
}

}  // namespace

std::vector<Vec2> flattened(const Segment& segment, double tolerance) {
    if (!segment.isArc()) return {segment.from, segment.to};
    const double half = std::acos(std::clamp(1 - tolerance / segment.radius, -1.0, 1.0));
    const double turn = arcLength(segment) / segment.radius;
    const int count = std::clamp(static_cast<int>(std::ceil(turn / std::max(2 * half, 1e-3))), 1, 400);
    std::vector<Vec2> points;
    for (int i = 0; i <= count; ++i)
        points.push_back(pointAt(segment, static_cast<double>(i) / count));
    return points;
}

double distanceTo(const Segment& segment, Vec2 point, double tolerance) {
    const std::vector<Vec2> points = flattened(segment, tolerance);
    double nearest = 1e9;
    for (std::size_t i = 1; i < points.size(); ++i) {
        const Vec2 way = points[i] - points[i - 1];
        const double squared = dot(way, way);
        const double t = squared > 0 ? std::clamp(dot(point - points[i - 1], way) / squared, 0.0, 1.0) : 0;
        nearest = std::min(nearest, distance(point, points[i - 1] + t * way));
    }
    return nearest;
}

namespace {

/// Whether the arc comes by this point of its circle on its way.
bool isPassed(const Segment& arc, Vec2 point) {
    const auto turn = [&arc](Vec2 to) {
        const Vec2 a = arc.from - arc.centre, b = to - arc.centre;
        const double angle = std::atan2(cross(a, b), dot(a, b)) * (arc.ccw ? 1 : -1);
        return angle < 0 ? angle + 2 * std::numbers::pi : angle;
    };
    return turn(point) <= turn(arc.to);
}

}  // namespace

void grow(Bounds& bounds, const Section& section) {
    const auto take = [&bounds](Vec2 point) {
        bounds.leastZ = std::min(bounds.leastZ, point.z);
        bounds.mostZ = std::max(bounds.mostZ, point.z);
        bounds.leastR = std::min(bounds.leastR, point.r);
        bounds.mostR = std::max(bounds.mostR, point.r);
    };
    for (const Loop& loop : section) {
        for (const Segment& segment : loop) {
            take(segment.from);
            take(segment.to);
            if (!segment.isArc()) continue;
            for (const Vec2 way : {Vec2{1, 0}, Vec2{0, 1}, Vec2{-1, 0}, Vec2{0, -1}}) {
                const Vec2 extreme = segment.centre + segment.radius * way;
                if (isPassed(segment, extreme)) take(extreme);
            }
        }
    }
}

std::vector<double> crossings(const Section& section, double z) {
    std::vector<double> found;
    for (const Loop& loop : section) {
        for (const Segment& segment : loop) {
            const std::vector<Vec2> points = flattened(segment, 1e-4);
            for (std::size_t i = 1; i < points.size(); ++i) {
                const double a = points[i - 1].z - z, b = points[i].z - z;
                if ((a < 0) != (b < 0))
                    found.push_back(points[i - 1].r + a / (a - b) * (points[i].r - points[i - 1].r));
            }
        }
    }
    std::ranges::sort(found);
    return found;
}

void Sheet::cut(const Section& section, ImU32 tint, ImU32 lines, double degrees, float spacing) const {
    const std::vector<Edge2> edges = pixelEdges(*this, section);
    sweep(edges, 0, 1, [&](ImVec2 from, ImVec2 to) {
        draw.AddRectFilled({from.x, std::floor(from.y)}, {to.x, std::floor(from.y) + 1}, tint);
    });
    const auto radians = static_cast<float>(degrees * std::numbers::pi / 180);
    sweep(edges, radians, theme.px(spacing), [&](ImVec2 from, ImVec2 to) { draw.AddLine(from, to, lines); });
}

void Sheet::segment(const Segment& segment, ImU32 colour, float thickness) const {
    for (const Vec2 point : flattened(segment, kFlatness / scale))
        draw.PathLineTo(at(point));
    draw.PathStroke(colour, 0, thickness);
}

void Sheet::outline(const Section& section, ImU32 colour, float thickness) const {
    for (const Loop& loop : section) {
        for (const Segment& segment : loop) {
            const std::vector<Vec2> points = flattened(segment, kFlatness / scale);
            for (std::size_t i = 0; i + 1 < points.size(); ++i)
                draw.PathLineTo(at(points[i]));
        }
        draw.PathStroke(colour, ImDrawFlags_Closed, thickness);
    }
}

void Sheet::note(ImVec2 middle, const std::string& text, ImU32 colour) const {
    const ImFont& font = *theme.small;
    const ImVec2 size = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, text.c_str());
    const ImVec2 corner{std::floor(middle.x - size.x / 2), std::floor(middle.y - size.y / 2)};
    const float pad = theme.px(3);
    draw.AddRectFilled({corner.x - pad, corner.y}, {corner.x + size.x + pad, corner.y + size.y},
                       (palette::kPaper & ~IM_COL32_A_MASK) | (225U << IM_COL32_A_SHIFT), theme.px(2));
    draw.AddText(&font, font.FontSize, corner, colour, text.c_str());
}

namespace {

void arrow(ImDrawList& draw, ImVec2 tip, ImVec2 direction, float size) {
    const ImVec2 side{-direction.y, direction.x};
    draw.AddTriangleFilled(tip,
                           {tip.x - direction.x * size + side.x * size * 0.3F,
                            tip.y - direction.y * size + side.y * size * 0.3F},
                           {tip.x - direction.x * size - side.x * size * 0.3F,
                            tip.y - direction.y * size - side.y * size * 0.3F},
                           palette::kGraphite);
}

/// The line of a dimension with its two arrows; they point inwards from outside where there is no room
/// between.
void dimensionLine(const Sheet& sheet, ImVec2 a, ImVec2 b) {
    const float size = sheet.theme.px(6);
    const float length = std::hypot(b.x - a.x, b.y - a.y);
    const ImVec2 way = length > 0 ? ImVec2{(b.x - a.x) / length, (b.y - a.y) / length} : ImVec2{1, 0};
    const bool inside = length > 3 * size;
    const float sign = inside ? 1.0F : -1.0F;
    const float tail = inside ? 0 : 2 * size;
    sheet.draw.AddLine({a.x - way.x * tail, a.y - way.y * tail}, {b.x + way.x * tail, b.y + way.y * tail},
                       palette::kGraphite);
    arrow(sheet.draw, a, {-way.x * sign, -way.y * sign}, size);
    arrow(sheet.draw, b, {way.x * sign, way.y * sign}, size);
}

}  // namespace

void Sheet::acrossDimension(Vec2 from, Vec2 to, float y, const std::string& text) const {
    const ImVec2 a = at(from), b = at(to);
    const float gap = theme.px(3);
    for (const ImVec2 end : {a, b}) {
        const float way = y < end.y ? -1.0F : 1.0F;
        draw.AddLine({end.x, end.y + way * gap}, {end.x, y + way * gap}, palette::kHairline);
    }
    dimensionLine(*this, {a.x, y}, {b.x, y});
    note({(a.x + b.x) / 2, y}, text, palette::kInk);
}

void Sheet::upDimension(Vec2 from, Vec2 to, float x, const std::string& text, bool textLeft) const {
    const ImVec2 a = at(from), b = at(to);
    const float gap = theme.px(3);
    for (const ImVec2 end : {a, b}) {
        if (std::abs(x - end.x) < gap) continue;
        const float way = x < end.x ? -1.0F : 1.0F;
        draw.AddLine({end.x + way * gap, end.y}, {x + way * gap, end.y}, palette::kHairline);
    }
    dimensionLine(*this, {x, a.y}, {x, b.y});
    const ImFont& font = *theme.small;
    const float width = font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, text.c_str()).x;
    const float beside = width / 2 + theme.px(8);
    note({x + (textLeft ? -beside : beside), (a.y + b.y) / 2}, text, palette::kInk);
}

}  // namespace bandwright
