#include "paper/place_drawing.hpp"

#include <utility>

#include "paper/typeset.hpp"

namespace bandwright::paper {

namespace {

constexpr Colour kHatching{0.25, 0.25, 0.25};
constexpr Colour kWitness{0.75, 0.15, 0.1};
/// Of a length that is pointed out, in widths of a narrow line; our own choice.
constexpr double kWitnessWidth = 3;

/// A drawing's marks as they are gathered.
struct Drafter {
    const drawing::Drawing& drawing;
    Point origin;
    std::vector<Mark> marks{};

    double width(drawing::LineKind kind) const { return drawing::lineWidth(kind, drawing.textHeight); }
    Point at(geometry::Vec2 place) const { return {origin.x + place.z, origin.y - place.r}; }

    void thin(const std::vector<geometry::Segment>& lines, Colour colour = kBlack) {
        for (const geometry::Segment& s : lines)
            marks.push_back(Stroke{pathOf(s, origin), width(drawing::LineKind::Thin), colour});
    }

    void text(const drawing::Text& text, Colour colour = kBlack) {
        marks.push_back(Text{text.words, at(text.at), {.size = emOfCapitals(text.height), .colour = colour}});
    }

    void outlines(drawing::LineKind kind) {
        for (const drawing::CutBody& body : drawing.bodies) {
            if (body.line == kind) marks.push_back(Stroke{pathOf(body.outline, origin), width(kind)});
        }
    }

    void stroke(const drawing::Stroke& stroke) {
        marks.push_back(Stroke{pathOf(stroke.path, origin), width(stroke.line), kBlack,
                               drawing::dashes(stroke.line, drawing.textHeight)});
    }

    void dimension(const drawing::Dimension& dimension) {
        thin(dimension.extensions);
        thin(dimension.lines);
        for (const drawing::Arrowhead& arrow : dimension.arrows) {
            Path head{{Step::Kind::Begin, at(arrow[0])},
                      {Step::Kind::Line, at(arrow[1])},
                      {Step::Kind::Line, at(arrow[2])},
                      {Step::Kind::Close}};
            marks.emplace_back(Fill{std::move(head)});
        }
        text(dimension.text);
    }

    void witness(const drawing::Witness& witness) {
        const double wide = kWitnessWidth * width(drawing::LineKind::Thin);
        marks.push_back(Stroke{pathOf(witness.line, origin), wide, kWitness});
        for (const geometry::Vec2 end : {witness.line.from, witness.line.to})
            marks.push_back(Fill{circle(at(end), wide), kWitness});
        text(witness.text, kWitness);
    }
};

}  // namespace

drawing::Layout layoutOnPaper(double scale, double textHeight) {
    drawing::Layout layout;
    layout.scale = scale;
    layout.textHeight = textHeight;
    const TextStyle style{.size = emOfCapitals(1)};
    layout.textWidth = [style](std::string_view words) { return textWidth(words, style); };
    return layout;
}

std::vector<Mark> marksOf(const drawing::Drawing& drawing, Point origin) {
    Drafter drafter{drawing, origin};
    for (const drawing::CutBody& body : drawing.bodies)
        drafter.thin(body.hatching, kHatching);
    // A wide outline that two bodies share lies over a narrow one.
    drafter.outlines(drawing::LineKind::Thin);
    drafter.outlines(drawing::LineKind::Outline);
    for (const drawing::Stroke& stroke : drawing.strokes)
        drafter.stroke(stroke);
    for (const drawing::Dimension& dimension : drawing.dimensions)
        drafter.dimension(dimension);
    if (drawing.witness) drafter.witness(*drawing.witness);
    return std::move(drafter.marks);
}

Path pathOf(const geometry::Segment& segment, Point origin) {
    const auto at = [&](geometry::Vec2 place) { return Point{origin.x + place.z, origin.y - place.r}; };
    if (!segment.isArc()) return line(at(segment.from), at(segment.to));
    return {{Step::Kind::Begin, at(segment.from)},
            {Step::Kind::Arc, at(segment.to), at(segment.centre), !segment.ccw}};
}

Path pathOf(const geometry::Section& section, Point origin) {
    Path path;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& segment : loop) {
            const Path piece = pathOf(segment, origin);
            if (&segment == &loop.front()) path.push_back(piece.front());
            path.push_back(piece.back());
        }
        path.push_back({Step::Kind::Close});
    }
    return path;
}

}  // namespace bandwright::paper
