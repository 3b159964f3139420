#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/part.hpp"
#include "geometry/section.hpp"

/// A technical drawing as plain data, for screen, paper and file alike. Lengths are mm of the paper unless
/// they are said to be mm of the ring. z runs to the right and r upwards; each point of the ring lies at its
/// own coordinates times the scale.
///
/// Figures marked P were seen in a published excerpt or table of the standard, those marked M are from
/// memory.
namespace bandwright::drawing {

/// Lines by ISO 128-2 (P), with the number the standard gives them.
enum class LineKind : std::uint8_t {
    Outline,  ///< 01.2, continuous wide: outlines
    Thin,     ///< 01.1, continuous narrow: dimensions, leaders, hatching, edges between bodies
    Hidden,   ///< 02.1, dashed narrow: what lies behind
    Axis,     ///< 04.1, long-dashed dotted narrow: axes
};

/// Width of a line that goes with lettering of that height: narrow lines are as wide as the strokes, a tenth
/// of the height (ISO 3098-1, lettering B, P), wide ones twice that (ISO 128-2, P).
double lineWidth(LineKind kind, double textHeight);

/// Lengths of dash and gap in turn; empty for a continuous line. In widths of the line (ISO 128-2, M): dash
/// 12, long dash 24, dot 0.5, gap 3.
std::vector<double> dashes(LineKind kind, double textHeight);

/// The heights of lettering that suit a sheet (ISO 3098-1, P).
inline constexpr std::array<double, 5> kTextHeights{1.8, 2.5, 3.5, 5, 7};

/// A line of text, to be read from the bottom of the sheet.
struct Text {
    std::string words;  ///< UTF-8
    geometry::Vec2 at;  ///< the left end of its base line
    double height = 0;  ///< of its capitals and digits
    double width = 0;
};

/// The box of a text with its share of the space between lines: lines of text stand 1.5 heights apart (ISO
/// 3098-1, lettering B, P).
geometry::Rectangle boxOf(const Text& text);

/// A body that the plane of the drawing cuts.
struct CutBody {
    geometry::PartRole role = geometry::PartRole::Band;
    LineKind line = LineKind::Outline;
    geometry::Section outline;                ///< with the tags of the geometry
    std::vector<geometry::Segment> hatching;  ///< Thin; broken off at text (ISO 128-3, M)
};

struct Stroke {
    LineKind line = LineKind::Thin;
    geometry::Segment path;
};

/// Filled; its tip first.
using Arrowhead = std::array<geometry::Vec2, 3>;

/// How a dimension is measured between its two places.
enum class Measured : std::uint8_t {
    AlongAxis,
    AlongRadius,
    Straight,
    Round,  ///< an angle round the band, on the unrolled outside
};

/// A number of the ring and the lines that say where it belongs.
struct Dimension {
    std::string field;    ///< of the design, which decides it: "band.width"
    bool isField = true;  ///< in the finished ring it is that number itself; else follows from it
    Measured measured = Measured::Straight;
    geometry::Vec2 from, to;  ///< mm of the ring: it is measured between these places of the section
    double value = 0;         ///< mm of the ring, or degrees
    Text text;
    std::vector<geometry::Segment> extensions, lines;  ///< Thin
    std::vector<Arrowhead> arrows;
};

/// A length that is pointed out, with round ends.
struct Witness {
    geometry::Segment line;
    Text text;
};

struct Drawing {
    double scale = 1;  ///< mm of the paper to one of the ring
    double textHeight = 0;
    std::vector<CutBody> bodies;
    std::vector<Stroke> strokes;
    std::vector<Dimension> dimensions;
    std::optional<Witness> witness;
};

/// Width of a line of text, in heights, in lettering B of ISO 3098: 0.2 between characters and 0.6 between
/// words (P), characters on average as wide as digits, 0.5 (M).
double letteringWidth(std::string_view text);

/// How large a drawing is made.
struct Layout {
    double scale = 10;        ///< mm of the paper to one of the ring
    double textHeight = 2.5;  ///< one of kTextHeights on paper
    /// Width of a line of text, in heights.
    std::function<double(std::string_view)> textWidth = letteringWidth;
    /// Tolerance, plus or minus, in mm for each field, written after its number; equal limits are written
    /// once with both signs (ISO 129-1, M).
    std::map<std::string, double> limits{};
};

/// The smallest upright rectangle round all segments; for none it is empty, with its low end above its high
/// end.
geometry::Rectangle rectangleRound(const geometry::Section& section);

/// The rectangle round the bodies, and the one round everything including text and arrows.
geometry::Rectangle bodiesOf(const Drawing& drawing);
geometry::Rectangle extentOf(const Drawing& drawing);

/// The segment of an outline that passes nearest to a place, if one does within `reach`; nullptr otherwise.
const geometry::Segment* outlineNear(const Drawing& drawing, geometry::Vec2 place, double reach);

/// The largest scale, within 0.1 %, at which the drawing made by `draw` fits on paper of this size; 0 when
/// not even its text fits.
double fittingScale(const std::function<Drawing(double scale)>& draw, double width, double height);

}  // namespace bandwright::drawing
