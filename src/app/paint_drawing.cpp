#include "paint_drawing.hpp"

#include <algorithm>
#include <cmath>

#include "drawing/hatching.hpp"

namespace bandwright::app {

namespace {

/// How far the chords of an arc may be away from it, pixels.
constexpr double kFlatness = 0.15;

struct Tints {
    ImU32 tint, hatching;
};
Tints tintsOf(geometry::PartRole role) {
    switch (role) {
        case geometry::PartRole::Band:
            return {palette::inUse.band, palette::inUse.bandHatching};
        case geometry::PartRole::Fill:
            return {palette::inUse.fill, palette::inUse.fillHatching};
        case geometry::PartRole::Liner:
            return {palette::inUse.liner, palette::inUse.linerHatching};
        case geometry::PartRole::Tube:
            return {palette::inUse.tube, palette::inUse.tubeHatching};
        case geometry::PartRole::Stone:
            return {palette::inUse.stone, 0};
    }
    return {};
}

/// Height of a capital of the small font, and the distance of its base line from the top of the text, pixels.
struct Metrics {
    float capital = 1, base = 0;
};
Metrics metrics(const Theme& theme) {
    const ImFontGlyph* glyph = theme.small->FindGlyph('H');
    return {glyph->Y1 - glyph->Y0, glyph->Y1};
}

/// The part of a segment between two shares of its length.
geometry::Segment stretch(geometry::Segment segment, double from, double to) {
    const geometry::Vec2 start = geometry::pointAt(segment, from), end = geometry::pointAt(segment, to);
    segment.from = start;
    segment.to = end;
    return segment;
}

/// A drawing's pen on the screen.
struct Pen {
    ImDrawList& list;
    const Theme& theme;
    const Paper& paper;
    double textHeight;

    double flatness() const { return kFlatness / paper.pixels; }
    float width(drawing::LineKind kind) const {
        return std::max(1.0F, static_cast<float>(paper.pixels * drawing::lineWidth(kind, textHeight)));
    }

    /// Fills each row of pixels where its middle line is inside.
    void tint(const geometry::Section& section, ImU32 colour) const {
        for (const geometry::Segment& row : drawing::hatching(section, 0, 1 / paper.pixels)) {
            const ImVec2 from = paper.at(row.from), to = paper.at(row.to);
            list.AddRectFilled({from.x, std::floor(from.y)}, {to.x, std::floor(from.y) + 1}, colour);
        }
    }

    void outline(const drawing::CutBody& body) const {
        for (const geometry::Loop& loop : body.outline) {
            for (const geometry::Segment& segment : loop) {
                const std::vector<geometry::Vec2> points = flattened(segment, flatness());
                for (std::size_t i = 0; i + 1 < points.size(); ++i)
                    list.PathLineTo(paper.at(points[i]));
            }
            list.PathStroke(body.line == drawing::LineKind::Outline ? palette::kInk : palette::kGraphite,
                            ImDrawFlags_Closed, width(body.line));
        }
    }

    void stroke(const drawing::Stroke& stroke) const {
        const std::vector<double> pattern = drawing::dashes(stroke.line, textHeight);
        const double whole = geometry::arcLength(stroke.path);
        double from = 0;
        for (std::size_t i = 0; from < whole; ++i) {
            const double to = pattern.empty() ? whole : std::min(whole, from + pattern[i % pattern.size()]);
            if (i % 2 == 0) {
                for (const geometry::Vec2 p :
                     flattened(stretch(stroke.path, from / whole, to / whole), flatness()))
                    list.PathLineTo(paper.at(p));
                list.PathStroke(palette::kGraphite, 0, width(stroke.line));
            }
            from = to;
        }
    }

    void text(const drawing::Text& text, ImU32 colour) const {
        const geometry::Rectangle box = drawing::boxOf(text);
        const ImVec2 low = paper.at({box.low.z, box.high.r}), high = paper.at({box.high.z, box.low.r});
        list.AddRectFilled({low.x - theme.px(2), low.y}, {high.x + theme.px(2), high.y}, palette::kLabel,
                           theme.px(2));
        const ImVec2 at = paper.at(text.at);
        list.AddText(theme.small, theme.small->FontSize,
                     {std::floor(at.x + 0.5F), std::floor(at.y - metrics(theme).base + 0.5F)}, colour,
                     text.words.c_str());
    }

    void dimension(const drawing::Dimension& dimension) const {
        for (const geometry::Segment& s : dimension.extensions)
            list.AddLine(paper.at(s.from), paper.at(s.to), palette::kGrip, width(drawing::LineKind::Thin));
        for (const geometry::Segment& s : dimension.lines)
            list.AddLine(paper.at(s.from), paper.at(s.to), palette::kGraphite,
                         width(drawing::LineKind::Thin));
        for (const drawing::Arrowhead& arrow : dimension.arrows) {
            list.AddTriangleFilled(paper.at(arrow[0]), paper.at(arrow[1]), paper.at(arrow[2]),
                                   palette::kGraphite);
        }
    }

    void witness(const drawing::Witness& witness) const {
        const ImVec2 from = paper.at(witness.line.from), to = paper.at(witness.line.to);
        list.AddLine(from, to, palette::kWitness, theme.px(3));
        for (const ImVec2 end : {from, to}) {
            list.AddCircleFilled(end, theme.px(4), palette::kPaper);
            list.AddCircle(end, theme.px(4), palette::kWitness, 0, theme.px(2));
        }
        text(witness.text, palette::kWitness);
    }
};

}  // namespace

double pixelsPerMm(const Theme& theme, double textHeight) {
    return metrics(theme).capital / textHeight;
}

double widthInHeights(const Theme& theme, std::string_view text) {
    const ImFont& font = *theme.small;
    return font.CalcTextSizeA(font.FontSize, FLT_MAX, 0, text.data(), text.data() + text.size()).x /
           metrics(theme).capital;
}

void paint(const drawing::Drawing& drawing, ImDrawList& list, const Theme& theme, const Paper& paper) {
    const Pen pen{list, theme, paper, drawing.textHeight};
    for (const drawing::CutBody& body : drawing.bodies) {
        const Tints tints = tintsOf(body.role);
        pen.tint(body.outline, tints.tint);
        for (const geometry::Segment& s : body.hatching)
            list.AddLine(paper.at(s.from), paper.at(s.to), tints.hatching,
                         pen.width(drawing::LineKind::Thin));
    }
    // A wide outline that two bodies share lies over a narrow one.
    for (const drawing::LineKind kind : {drawing::LineKind::Thin, drawing::LineKind::Outline}) {
        for (const drawing::CutBody& body : drawing.bodies) {
            if (body.line == kind) pen.outline(body);
        }
    }
    for (const drawing::Stroke& stroke : drawing.strokes)
        pen.stroke(stroke);
    for (const drawing::Dimension& dimension : drawing.dimensions)
        pen.dimension(dimension);
    for (const drawing::Dimension& dimension : drawing.dimensions)
        pen.text(dimension.text, palette::kInk);
    if (drawing.witness) pen.witness(*drawing.witness);
}

void paint(const geometry::Segment& segment, ImDrawList& list, const Paper& paper, ImU32 colour,
           float thickness) {
    for (const geometry::Vec2 point : flattened(segment, kFlatness / paper.pixels))
        list.PathLineTo(paper.at(point));
    list.PathStroke(colour, 0, thickness);
}

std::vector<geometry::Vec2> flattened(const geometry::Segment& segment, double tolerance) {
    if (!segment.isArc()) return {segment.from, segment.to};
    const double half = std::acos(std::clamp(1 - tolerance / segment.radius, -1.0, 1.0));
    const double turn = geometry::arcLength(segment) / segment.radius;
    const int count = std::clamp(static_cast<int>(std::ceil(turn / std::max(2 * half, 1e-3))), 1, 400);
    std::vector<geometry::Vec2> points;
    for (int i = 0; i <= count; ++i)
        points.push_back(geometry::pointAt(segment, static_cast<double>(i) / count));
    return points;
}

}  // namespace bandwright::app
