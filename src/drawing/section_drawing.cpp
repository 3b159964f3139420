#include "drawing/section_drawing.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "base/numbers.hpp"
#include "dimensioning.hpp"
#include "drawing/hatching.hpp"
#include "drawing_parts.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::drawing {

namespace {

/// mm by which a length may differ from the intended one where tools on both sides were moved.
constexpr double kMeant = 2 * geometry::sectionNudge(geometry::kMostNudges);

/// The angle between a segment and the axis.
std::string slope(const geometry::Segment& s) {
    const geometry::Vec2 way = s.to - s.from;
    return degrees(std::atan2(std::abs(way.r), std::abs(way.z)) * 180 / std::numbers::pi);
}

/// The axis of a hole, a little longer than the body it passes through (ISO 128-2, M).
void addAxis(Drawing& drawing, double z) {
    const geometry::Rectangle bodies = bodiesOf(drawing);
    const double beyond = 0.2 * drawing.textHeight, at = drawing.scale * z;
    drawing.strokes.push_back(
        {LineKind::Axis, geometry::line({at, bodies.low.r - beyond}, {at, bodies.high.r + beyond}, {})});
}

/// The place farthest to one side (-1 left, 1 right); of several, the highest.
geometry::Vec2 farthest(const std::vector<geometry::Segment>& segments, double side) {
    geometry::Vec2 best = segments.front().from;
    for (const geometry::Segment& s : segments) {
        for (const geometry::Vec2 p : {s.from, s.to}) {
            const double ahead = side * (p.z - best.z);
            if (ahead > geometry::kSamePoint || (ahead > -geometry::kSamePoint && p.r > best.r)) best = p;
        }
    }
    return best;
}

std::vector<geometry::Segment> allOf(const geometry::Section& section) {
    return geometry::segmentsWhere(section, [](geometry::Tag) { return true; });
}

bool hasFace(const std::vector<geometry::Segment>& segments, geometry::Side side) {
    return std::ranges::any_of(segments, [&](const geometry::Segment& s) {
        return s.tag.feature == geometry::Feature::EdgeFace && s.tag.side == side;
    });
}

/// Where a line along the radius crosses a section, from the axis outwards; `along` is r.
std::vector<LineCut> upwards(const geometry::Section& section, double z) {
    return cutsAlong(section, {0, 1}, -z);
}

/// Where the side of a channel, extended as far as needed, reaches a height; nothing where another cut has
/// removed the side.
std::optional<geometry::Vec2> mouth(const geometry::Section& band, std::size_t channel, geometry::Side side,
                                    double height) {
    constexpr double kFull = 1e-6;  // mm under the height; less is a corner without a straight side
    const std::vector<geometry::Segment> flank = geometry::segmentsWhere(band, [&](geometry::Tag tag) {
        return geometry::channelOf(tag) == channel && tag.side == side &&
               tag.feature != geometry::Feature::ChannelFloor;
    });
    const auto top = std::ranges::max_element(
        flank, {}, [](const geometry::Segment& s) { return std::max(s.from.r, s.to.r); });
    if (top == flank.end()) return std::nullopt;
    const geometry::Vec2 high = top->from.r > top->to.r ? top->from : top->to;
    if (top->isArc() && high.r < height - kFull) return std::nullopt;
    const geometry::Vec2 way = geometry::tangentAt(*top, high == top->from ? 0 : 1);
    return geometry::Vec2{high.z + (height - high.r) / way.r * way.z, height};
}

/// The outermost places of the metal on both sides.
struct Edges {
    geometry::Vec2 left, right;
};

/// How far from the nearer edge something begins that is not in the middle.
void showPosition(Dimensioning& all, const Edges& edges, const std::string& field, double offset,
                  geometry::Vec2 begin) {
    if (std::abs(offset) < kMeant) return;
    const geometry::Vec2 edge = offset < 0 ? edges.left : edges.right;
    if (std::abs(edge.z - begin.z) < kMeant) return;
    all.above({.field = field + ".offset",
               .from = offset < 0 ? edge : begin,
               .to = offset < 0 ? begin : edge,
               .isField = false});
}

void showChannel(Dimensioning& all, const geometry::Section& band, const geometry::Workpiece& piece,
                 const Edges& edges, const design::Channel& channel, std::size_t number) {
    const std::string field = "channels[" + std::to_string(number) + "]";
    const double top = geometry::outsideAt(piece, channel.offset);
    const auto left = mouth(band, number, geometry::Side::Left, top),
               right = mouth(band, number, geometry::Side::Right, top);
    if (left && right) {
        all.above({field + ".width", *left, *right});
        showPosition(all, edges, field, channel.offset, channel.offset < 0 ? *left : *right);
    }
    const auto isFloorAt = [&](double z) {
        const std::vector<LineCut> cuts = upwards(band, z);
        return cuts.size() >= 2 && geometry::channelOf(cuts[1].tag) == number;
    };
    // Not if a wall or the edge of the band runs up at this place.
    if (!isFloorAt(channel.offset - kMeant) || !isFloorAt(channel.offset + kMeant)) return;
    const std::vector<LineCut> cuts = upwards(band, channel.offset);
    const geometry::Vec2 inside{channel.offset, cuts[0].along}, floor{channel.offset, cuts[1].along};
    all.upright({field + ".depth", floor, {channel.offset, top}}, channel.offset);
    all.upright({.field = field + ".depth", .from = inside, .to = floor, .isField = false}, channel.offset);
}

/// The single segment of a loop that is the edge on one side, if no channel has cut into it.
const geometry::Segment* wholeEdge(const geometry::Loop& loop, geometry::Side side) {
    const geometry::Segment* found = nullptr;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const geometry::Tag tag = loop[i].tag;
        if (tag.side != side ||
            (tag.feature != geometry::Feature::Bevel && tag.feature != geometry::Feature::EdgeRound))
            continue;
        const geometry::Tag before = loop[(i + loop.size() - 1) % loop.size()].tag,
                            after = loop[(i + 1) % loop.size()].tag;
        if (found != nullptr || geometry::channelOf(before) || geometry::channelOf(after)) return nullptr;
        found = &loop[i];
    }
    return found;
}

/// Dimensions a bevel by its width along the axis and its slope, a round by its radius.
void showEdge(Dimensioning& all, const geometry::Section& band, geometry::Side side) {
    const std::string field = side == geometry::Side::Left ? "band.left.width" : "band.right.width";
    for (const geometry::Loop& loop : band) {
        const geometry::Segment* edge = wholeEdge(loop, side);
        if (edge == nullptr) continue;
        const geometry::Vec2 middle = geometry::pointAt(*edge, 0.5);
        if (edge->isArc()) {
            all.leader({field, middle, edge->centre, "R "}, Measured::Straight, middle);
        } else {
            all.leader({field, edge->from, edge->to, "", " \u00D7 " + slope(*edge)}, Measured::AlongAxis,
                       middle);
        }
    }
}

/// The part nearest to the finger.
const geometry::Section& innermost(const geometry::RingSections& plain) {
    return plain.liner.empty() ? plain.band : plain.liner;
}

bool isRound(const design::Stone& stone) {
    if (!stone.model.empty()) return false;
    const bool canBeLonger =
        stone.cut == design::StoneCut::RoseCut || stone.cut == design::StoneCut::Cabochon;
    return stone.cut == design::StoneCut::RoundBrilliant ||
           (canBeLonger && (stone.length == 0 || stone.length == stone.diameter));
}

void showStone(Dimensioning& all, const design::Setting& setting, const std::string& field,
               const geometry::Section& stone, const geometry::RingSections& plain) {
    const std::vector<geometry::Segment> outline = allOf(stone);
    all.above({field + ".stone.diameter", farthest(outline, -1), farthest(outline, 1),
               isRound(*setting.stone) ? "\u00D8 " : ""});
    geometry::Vec2 lowest = outline.front().from;
    for (const geometry::Segment& s : outline) {
        if (s.from.r < lowest.r) lowest = s.from;
    }
    const std::optional<double> bore = geometry::boreAt(plain, lowest.z);
    if (!bore || *bore >= lowest.r) return;
    const bool hasSteps = !setting.hole.steps.empty();
    const std::string decides =
        setting.tube ? ".tube.seat-depth"
        : hasSteps   ? ".hole.steps[" + std::to_string(setting.hole.steps.size() - 1) + "].depth"
                     : ".hole.pilot-depth";
    all.besideAxis({.field = field + decides, .from = {lowest.z, *bore}, .to = lowest, .isField = false});
}

void showTube(Dimensioning& all, const std::string& field, const geometry::Section& tube) {
    const geometry::Vec2 left = farthest(allOf(tube), -1), right = farthest(allOf(tube), 1);
    all.above({field + ".tube.outer-diameter", left, right, "\u00D8 "});
    const geometry::Rectangle bounds = rectangleRound(tube);
    all.atRight({field + ".tube.height", {right.z, bounds.low.r}, {right.z, bounds.high.r}});
}

/// The pilot and, while the hole is empty, its wider steps.
void showHole(Dimensioning& all, const design::Setting& setting, std::size_t number, const std::string& field,
              const geometry::Workpiece& piece, const std::vector<geometry::Segment>& walls) {
    const auto ofHole = [&](geometry::Feature feature, std::size_t step) {
        std::vector<geometry::Segment> found;
        std::ranges::copy_if(walls, std::back_inserter(found), [&](const geometry::Segment& s) {
            return s.tag.feature == feature && geometry::settingOf(s.tag) == number && s.tag.step == step;
        });
        return found;
    };
    if (const auto pilot = ofHole(geometry::Feature::Pilot, 0); !pilot.empty()) {
        double low = pilot.front().from.r;
        for (const geometry::Segment& s : pilot)
            low = std::min({low, s.from.r, s.to.r});
        all.below({field + ".hole.pilot-diameter",
                   {farthest(pilot, -1).z, low},
                   {farthest(pilot, 1).z, low},
                   "pilot \u00D8 "});
    }
    if (piece.joined || piece.set) return;
    const double z = setting.placement.offset;
    for (std::size_t step = 0; step < setting.hole.steps.size(); ++step) {
        const std::vector<geometry::Segment> seat = ofHole(geometry::Feature::Seat, step);
        if (seat.empty()) continue;
        const std::string path = field + ".hole.steps[" + std::to_string(step) + "]";
        all.above({path + ".diameter", farthest(seat, -1), farthest(seat, 1), "\u00D8 "});
        if (step + 1 < setting.hole.steps.size()) continue;
        double low = seat.front().from.r;
        for (const geometry::Segment& s : seat)
            low = std::min({low, s.from.r, s.to.r});
        all.besideAxis({path + ".depth", {farthest(seat, 1).z, low}, {z, geometry::outsideAt(piece, z)}});
    }
}

}  // namespace

Drawing sectionDrawing(const design::Design& design, design::Stage stage, const geometry::RingSections& plain,
                       const Layout& layout, const std::optional<PointedOut>& pointedOut) {
    Drawing drawing = emptyDrawing(layout);
    addBody(drawing, geometry::PartRole::Band, plain.band);
    addBody(drawing, geometry::PartRole::Liner, plain.liner);
    for (const geometry::Section& fill : plain.fills)
        addBody(drawing, geometry::PartRole::Fill, fill);

    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    std::vector<geometry::Segment> metal = allOf(plain.band);
    std::ranges::copy(allOf(plain.liner), std::back_inserter(metal));
    const geometry::Vec2 left = farthest(metal, -1), right = farthest(metal, 1);
    const double bore = rectangleRound(innermost(plain)).low.r;
    Dimensioning all(drawing, layout);
    // Where bevels or channels have taken a whole edge face, the ring is narrower than it was turned.
    all.above({.field = "band.width",
               .from = left,
               .to = right,
               .isField = hasFace(metal, geometry::Side::Left) && hasFace(metal, geometry::Side::Right)});
    // A channel cut right through the middle removes the narrowest part of the bore.
    const bool isBore = std::abs(bore - piece.bore) < kMeant;
    // Thickness is meant to the largest radius of the outside, even if a bevel or a channel has cut that
    // away.
    all.atRight({.field = "band.thickness",
                 .from = {right.z, bore},
                 .to = {right.z, piece.outside},
                 .isField = isBore});
    if (piece.lined) {
        const double joint = rectangleRound(plain.band).low.r;
        all.atLeft({.field = "band.liner.thickness",
                    .from = {left.z, bore},
                    .to = {left.z, joint},
                    .isField = isBore && std::abs(joint - piece.joint) < kMeant});
    }
    for (std::size_t i = 0; piece.channelled && i < design.channels.size(); ++i)
        showChannel(all, plain.band, piece, {left, right}, design.channels[i], i);
    showEdge(all, plain.band, geometry::Side::Left);
    showEdge(all, plain.band, geometry::Side::Right);
    all.note({"finger.size",
              {0, -bore},
              {0, bore},
              "bore \u00D8 ",
              stage == design::Stage::Finished ? "" : ", " + design::name(stage),
              isBore});
    finish(drawing, all, pointedOut);
    return drawing;
}

Drawing settingDrawing(const design::Design& design, design::Stage stage, std::size_t setting,
                       const geometry::RingSections& plain, const geometry::SettingSection& through,
                       const Layout& layout, const std::optional<PointedOut>& pointedOut) {
    Drawing drawing = emptyDrawing(layout);
    addBody(drawing, geometry::PartRole::Band, through.band);
    addBody(drawing, geometry::PartRole::Liner, through.liner);
    for (const geometry::Section& fill : through.fills)
        addBody(drawing, geometry::PartRole::Fill, fill);
    addBody(drawing, geometry::PartRole::Stone, through.stone);
    addBody(drawing, geometry::PartRole::Tube, through.tube);

    const design::Setting& made = design.settings[setting];
    const std::string field = "settings[" + std::to_string(setting) + "]";
    addAxis(drawing, made.placement.offset);
    Dimensioning all(drawing, layout);
    if (!through.stone.empty()) showStone(all, made, field, through.stone, plain);
    if (!through.tube.empty()) showTube(all, field, through.tube);
    const geometry::Workpiece piece = geometry::workpiece(design, stage);
    std::vector<geometry::Segment> walls = allOf(through.band);
    std::ranges::copy(allOf(through.liner), std::back_inserter(walls));
    if (piece.drilled) {
        const double z = made.placement.offset;
        showPosition(all, {farthest(walls, -1), farthest(walls, 1)}, field + ".placement", z,
                     {z, geometry::outsideAt(piece, z)});
        showHole(all, made, setting, field, piece, walls);
    }
    finish(drawing, all, pointedOut);
    return drawing;
}

}  // namespace bandwright::drawing
