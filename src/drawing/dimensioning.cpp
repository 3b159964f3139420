#include "dimensioning.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "drawing_parts.hpp"

namespace bandwright::drawing {

namespace {

// Lengths are in text heights; one is ten widths of a narrow line.
//
// ISO 129-1, M: an extension line continues about 8 line widths past its dimension line, and may leave a gap
// to the outline; an arrowhead opens by 15 to 30 degrees and is as long as text is high; where the extension
// lines leave no room for both, they stand outside and point in.
constexpr double kOverrun = 0.8;
constexpr double kGap = 0.3;
constexpr double kArrow = 1;
constexpr double kArrowAngle = 20;    // degrees
constexpr double kLeastInside = 2.2;  // so that two arrowheads do not touch
constexpr double kTail = 2;           // of a dimension line behind an arrowhead outside
// Our own choice: as close as the boxes of text allow.
constexpr double kOverLine = 0.4;   // base line over dimension line
constexpr double kBeside = 0.6;     // text beside its line
constexpr int kFarthestSteps = 15;  // of a quarter of kNext farther out, with a leader
constexpr double kFirstAbove = 2;   // dimension lines from the outline
constexpr double kFirstBelow = 2.1;
constexpr double kNoteBelow = 1.3;  // the middle of text without a line
constexpr double kNext = 2;         // and from each other
constexpr double kLeaderOut = 0.9;
constexpr double kOffAxis = 1.2;    // of a dimension line beside an axis
constexpr double kLineRoom = 0.25;  // half of what a dimension line needs for itself and its arrowheads

bool overlap(const geometry::Rectangle& a, const geometry::Rectangle& b) {
    return a.low.z < b.high.z && b.low.z < a.high.z && a.low.r < b.high.r && b.low.r < a.high.r;
}

geometry::Rectangle around(geometry::Vec2 a, geometry::Vec2 b, double room) {
    return {{std::min(a.z, b.z) - room, std::min(a.r, b.r) - room},
            {std::max(a.z, b.z) + room, std::max(a.r, b.r) + room}};
}

/// Whether a segment comes into a box; an arc counts by its chords.
bool crosses(const geometry::Segment& segment, const geometry::Rectangle& box) {
    const int pieces = segment.isArc() ? 16 : 1;
    for (int i = 0; i < pieces; ++i) {
        const geometry::Vec2 from = geometry::pointAt(segment, static_cast<double>(i) / pieces),
                             to = geometry::pointAt(segment, static_cast<double>(i + 1) / pieces);
        if (stretchIn(geometry::line(from, to, {}), box)) return true;
    }
    return false;
}

geometry::Vec2 unit(geometry::Vec2 v) {
    return (1 / geometry::length(v)) * v;
}

double measuredBetween(const Shown& shown, Measured measured) {
    const geometry::Vec2 way = shown.to - shown.from;
    switch (measured) {
        case Measured::AlongAxis:
            return std::abs(way.z);
        case Measured::AlongRadius:
            return std::abs(way.r);
        case Measured::Round:
            return shown.degreesPerMm * std::abs(way.z);
        case Measured::Straight:
            break;
    }
    return geometry::length(way);
}

}  // namespace

std::string degrees(double value) {
    return base::shortestNumber(base::roundedTo(value, 2)) + "\u00B0";
}

void Dimensioning::besideAxis(Shown shown) {
    const double axis = layout_.scale * shown.to.z;
    uprights_.push_back({std::move(shown), axis + heights(kOffAxis)});
}

void Dimensioning::atRight(Shown shown) {
    uprights_.push_back({std::move(shown), bodies_.high.z + heights(kFirstAbove)});
}

void Dimensioning::atLeft(Shown shown) {
    uprights_.push_back({std::move(shown), bodies_.low.z - heights(kFirstAbove), true});
}

void Dimensioning::leader(Shown shown, Measured measured, geometry::Vec2 tip) {
    leaders_.push_back({std::move(shown), measured, layout_.scale * tip});
}

void Dimensioning::pointOut(geometry::Vec2 from, geometry::Vec2 to, std::string words) {
    drawing_.witness =
        Witness{geometry::line(layout_.scale * from, layout_.scale * to, {}), text(std::move(words))};
}

Text Dimensioning::text(std::string words) const {
    const double width = layout_.textHeight * layout_.textWidth(words);
    return {.words = std::move(words), .at = {}, .height = layout_.textHeight, .width = width};
}

Dimension Dimensioning::dimension(const Shown& shown, Measured measured) const {
    Dimension dimension;
    dimension.field = shown.field;
    dimension.isField = shown.isField;
    dimension.measured = shown.degreesPerMm == 0 ? measured : Measured::Round;
    dimension.from = shown.from;
    dimension.to = shown.to;
    dimension.value = measuredBetween(shown, dimension.measured);
    std::string digits =
        dimension.measured == Measured::Round ? degrees(dimension.value) : base::fixed(dimension.value, 2);
    const auto limit = layout_.limits.find(shown.field);
    if (shown.isField && limit != layout_.limits.end())
        digits += " \u00B1" + base::shortestNumber(limit->second);
    dimension.text = text(shown.before + digits + shown.after);
    return dimension;
}

void Dimensioning::addExtension(Dimension& dimension, geometry::Vec2 place, geometry::Vec2 end) const {
    if (geometry::distance(place, end) <= heights(kGap)) return;
    const geometry::Vec2 way = unit(end - place);
    dimension.extensions.push_back(
        geometry::line(place + heights(kGap) * way, end + heights(kOverrun) * way, {}));
}

void Dimensioning::addArrow(Dimension& dimension, geometry::Vec2 tip, geometry::Vec2 way) const {
    const double half = std::tan(kArrowAngle / 2 * std::numbers::pi / 180);
    const geometry::Vec2 back = tip - heights(kArrow) * way;
    const geometry::Vec2 aside = heights(kArrow) * half * geometry::Vec2{-way.r, way.z};
    dimension.arrows.push_back({tip, back + aside, back - aside});
}

bool Dimensioning::addLine(Dimension& dimension, geometry::Vec2 from, geometry::Vec2 to) const {
    if (from == to) return true;
    const bool inside = geometry::distance(from, to) >= heights(kLeastInside);
    const geometry::Vec2 way = unit(to - from);
    const geometry::Vec2 tail = heights(inside ? 0 : kTail) * way;
    dimension.lines.push_back(geometry::line(from - tail, to + tail, {}));
    addArrow(dimension, from, inside ? -1 * way : way);
    addArrow(dimension, to, inside ? way : -1 * way);
    return inside;
}

bool Dimensioning::isFree(const geometry::Rectangle& box) const {
    return std::ranges::none_of(taken_,
                                [&](const geometry::Rectangle& other) { return overlap(box, other); });
}

/// Puts the middle of the text there and returns whether that place is free.
bool Dimensioning::settle(Text& text, geometry::Vec2 middle) const {
    text.at = middle - 0.5 * geometry::Vec2{text.width, text.height};
    return isFree(boxOf(text));
}

/// Text across an outline or an axis is hard to read.
bool Dimensioning::crossesLine(const Text& text) const {
    const geometry::Rectangle box = boxOf(text);
    const auto meets = [&](const geometry::Segment& s) { return crosses(s, box); };
    return std::ranges::any_of(drawing_.strokes, meets, &Stroke::path) ||
           std::ranges::any_of(drawing_.bodies, [&](const CutBody& body) {
               return std::ranges::any_of(body.outline, [&](const geometry::Loop& loop) {
                   return std::ranges::any_of(loop, meets);
               });
           });
}

void Dimensioning::settleUnder(Text& text, double z) const {
    double r = bodies_.low.r - heights(kNoteBelow);
    while (!settle(text, {z, r}))
        r -= heights(kNext / 4);
}

void Dimensioning::keep(Dimension dimension) {
    taken_.push_back(boxOf(dimension.text));
    for (const geometry::Segment& s : dimension.lines)
        taken_.push_back(around(s.from, s.to, heights(kLineRoom)));
    drawing_.dimensions.push_back(std::move(dimension));
}

void Dimensioning::write() {
    for (Upright& upright : uprights_)
        drawUpright(upright);
    writeRows(above_, 1);
    writeRows(below_, -1);
    for (Upright& upright : uprights_)
        writeUpright(upright);
    for (const Leader& leader : leaders_)
        writeLeader(leader);
    for (const Shown& shown : notes_)
        writeNote(shown);
    if (drawing_.witness) writeWitness();
}

/// Shorter dimensions lie nearer to the section, so that no dimension line crosses the extension lines of
/// another.
void Dimensioning::writeRows(std::vector<Shown>& all, double side) {
    std::ranges::stable_sort(all, {},
                             [](const Shown& shown) { return measuredBetween(shown, Measured::AlongAxis); });
    for (const Shown& shown : all)
        writeInRow(shown, side);
}

void Dimensioning::writeInRow(const Shown& shown, double side) {
    Dimension drawn = dimension(shown, Measured::AlongAxis);
    const geometry::Vec2 a = layout_.scale * shown.from, b = layout_.scale * shown.to;
    const double low = std::min(a.z, b.z), high = std::max(a.z, b.z);
    const bool arrowsInside = high - low >= heights(kLeastInside);
    const bool textInside = drawn.text.width + heights(2 * kBeside) <= high - low;
    const double tail = arrowsInside ? 0 : heights(kTail);
    const double textStart =
        textInside ? (low + high - drawn.text.width) / 2 : high + std::max(tail / 2, heights(kBeside));
    const double end = textInside ? high + tail : std::max(high + tail, textStart + drawn.text.width);
    double r = side > 0 ? bodies_.high.r + heights(kFirstAbove) : bodies_.low.r - heights(kFirstBelow);
    const auto room = [&] {
        return geometry::Rectangle{{low - tail, r - heights(kLineRoom)},
                                   {end, r + heights(kOverLine + 1 + kLineRoom)}};
    };
    while (!isFree(room()))
        r += side * heights(kNext / 4);
    addExtension(drawn, a, {a.z, r});
    addExtension(drawn, b, {b.z, r});
    addLine(drawn, {low, r}, {high, r});
    if (!textInside) drawn.lines.push_back(geometry::line({high, r}, {end, r}, {}));
    drawn.text.at = {textStart, r + heights(kOverLine)};
    taken_.push_back(room());
    keep(std::move(drawn));
}

void Dimensioning::drawUpright(Upright& upright) {
    Dimension& drawn = upright.drawn = dimension(upright.shown, Measured::AlongRadius);
    const geometry::Vec2 a = layout_.scale * upright.shown.from, b = layout_.scale * upright.shown.to;
    const double low = std::min(a.r, b.r), high = std::max(a.r, b.r);
    addExtension(drawn, a, {upright.z, a.r});
    addExtension(drawn, b, {upright.z, b.r});
    addLine(drawn, {upright.z, low}, {upright.z, high});
    for (const geometry::Segment& s : drawn.lines)
        taken_.push_back(around(s.from, s.to, heights(kLineRoom)));
}

/// Tries beside the middle of the line, then its other side, then farther out on both sides and under the
/// section at the end of a leader.
void Dimensioning::writeUpright(Upright& upright) {
    Dimension& drawn = upright.drawn;
    const double middle = layout_.scale * (upright.shown.from.r + upright.shown.to.r) / 2;
    const double first = upright.onLeft ? -1 : 1, half = drawn.text.width / 2;
    const auto leadTo = [&](geometry::Vec2 end) {
        drawn.lines.push_back(geometry::line({upright.z, middle}, end, {}));
    };
    for (int step = 0; step <= kFarthestSteps; ++step) {
        const double out = heights(kBeside + step * kNext / 4);
        for (const double way : {first, -first}) {
            if (!settle(drawn.text, {upright.z + way * (out + half), middle}) || crossesLine(drawn.text))
                continue;
            if (step > 0) leadTo({upright.z + way * (out - heights(kBeside / 2)), middle});
            return keep(std::move(drawn));
        }
    }
    settleUnder(drawn.text, upright.z);
    leadTo({upright.z, boxOf(drawn.text).high.r});
    keep(std::move(drawn));
}

void Dimensioning::writeLeader(const Leader& leader) {
    Dimension drawn = dimension(leader.shown, leader.measured);
    const double side = leader.tip.z < 0 ? -1 : 1;
    const double edge = side < 0 ? bodies_.low.z : bodies_.high.z;
    geometry::Vec2 elbow{edge + side * heights(kLeaderOut), bodies_.high.r + heights(1)};
    const double aside = side * (drawn.text.width / 2 + heights(kBeside));
    while (!settle(drawn.text, elbow + geometry::Vec2{aside, 0}))
        elbow.r += heights(kNext / 4);
    drawn.lines.push_back(geometry::line(leader.tip, elbow, {}));
    drawn.lines.push_back(geometry::line(elbow, elbow + geometry::Vec2{side * heights(kBeside / 2), 0}, {}));
    addArrow(drawn, leader.tip, unit(leader.tip - elbow));
    taken_.push_back(boxOf(drawn.text));
    drawing_.dimensions.push_back(std::move(drawn));
}

void Dimensioning::writeNote(const Shown& shown) {
    Dimension drawn = dimension(shown, Measured::AlongRadius);
    settleUnder(drawn.text, (bodies_.low.z + bodies_.high.z) / 2);
    keep(std::move(drawn));
}

/// Puts the text as near to the middle of its line as there is room.
void Dimensioning::writeWitness() {
    Text& words = drawing_.witness->text;
    const geometry::Segment& s = drawing_.witness->line;
    const geometry::Vec2 middle = 0.5 * (s.from + s.to);
    const double aside = words.width / 2 + heights(2 * kBeside);
    for (int step = 0; step < 24; ++step) {
        for (const double up : {step * heights(0.5), -step * heights(0.5)}) {
            for (const double way : {1.0, -1.0}) {
                if (settle(words, middle + geometry::Vec2{way * aside, up})) return;
            }
        }
    }
    settleUnder(words, middle.z);
}

}  // namespace bandwright::drawing
