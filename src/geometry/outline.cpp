#include "outline.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/ring.hpp"

namespace bandwright::geometry {

namespace {

/// Radius of the arc with this half chord and this rise.
double arcRadius(double halfChord, double rise) {
    return (square(halfChord) + square(rise)) / (2 * rise);
}

Vec2 mirrored(Vec2 p) {
    return {-p.z, p.r};
}

/// The same curve seen in the mirror, run so that the material is still on its left.
Segment mirrored(const Segment& s) {
    Segment result = s;
    result.from = mirrored(s.to);
    result.to = mirrored(s.from);
    result.centre = mirrored(s.centre);
    return result;
}

Segment arc(Vec2 from, Vec2 to, Vec2 centre, double radius, bool ccw, Tag tag) {
    return {.from = from, .to = to, .centre = centre, .radius = radius, .ccw = ccw, .tag = tag};
}

void add(Loop& loop, const Segment& s) {
    if (!(s.from == s.to)) loop.push_back(s);
}

/// Bore from left to right, between the inner ends of the two eases.
void addBore(Loop& loop, const design::Band& band, double bore, Vec2 left, Vec2 right) {
    const double rise = boreRise(band.bore);
    const double flat = boreFlatHalf(band);
    if (rise == 0 || flat >= right.z) {
        // The crown, if there is any, lies within the ease.
        add(loop, line(left, right, {Feature::Bore}));
        return;
    }
    const double radius = arcRadius(band.width / 2 - flat, rise);
    if (flat == 0) {
        add(loop, arc(left, right, {0, bore + radius}, radius, true, {Feature::BoreCrown}));
        return;
    }
    const Vec2 end{flat, bore};
    add(loop,
        arc(left, mirrored(end), {-flat, bore + radius}, radius, true, {Feature::BoreCrown, Side::Left}));
    add(loop, line(mirrored(end), end, {Feature::Bore}));
    add(loop, arc(end, right, {flat, bore + radius}, radius, true, {Feature::BoreCrown, Side::Right}));
}

/// Outside from right to left.
void addOutside(Loop& loop, const design::Band& band, double outside, Vec2 right, Vec2 left) {
    const double rise = outsideRise(band.outside);
    const double half = band.width / 2;
    const Tag tag{Feature::Outside};
    if (rise == 0) {
        add(loop, line(right, left, tag));
    } else if (band.outside.shape == design::OutsideShape::KnifeEdge) {
        add(loop, line(right, {0, outside}, {Feature::Outside, Side::Right}));
        add(loop, line({0, outside}, left, {Feature::Outside, Side::Left}));
    } else if (band.outside.shape == design::OutsideShape::Domed) {
        const double radius = arcRadius(half, rise);
        add(loop, arc(right, left, {0, outside - radius}, radius, true, tag));
    } else {
        const double radius = arcRadius(half, rise);
        add(loop, arc(right, left, {0, outside - rise + radius}, radius, false, tag));
    }
}

/// From the edge face up to the outside, at the right.
Segment edgeSegment(const design::Edge& edge, const EdgeCorner& corner, Side side) {
    if (edge.shape == design::EdgeShape::Round)
        return arc(corner.bottom, corner.top, corner.centre, edge.width, true, {Feature::EdgeRound, side});
    return line(corner.bottom, corner.top, {Feature::Bevel, side});
}

}  // namespace

double boreRise(const design::Bore& bore) {
    return bore.shape == design::BoreShape::Comfort ? bore.rise : 0;
}

double boreFlatHalf(const design::Band& band) {
    return std::min(band.bore.flat, band.width) / 2;
}

double outsideRise(const design::Outside& outside) {
    return outside.shape == design::OutsideShape::Flat ? 0 : outside.rise;
}

double outsideAt(const design::Band& band, double outside, double z) {
    const double rise = outsideRise(band.outside);
    if (rise == 0) return outside;
    const double half = band.width / 2;
    if (band.outside.shape == design::OutsideShape::KnifeEdge) return outside - rise * std::abs(z) / half;
    const double radius = arcRadius(half, rise);
    const double drop = radius - std::sqrt(std::max(0.0, square(radius) - square(z)));
    return band.outside.shape == design::OutsideShape::Domed ? outside - drop : outside - rise + drop;
}

double outsideLeanAt(const design::Band& band, double z) {
    const double rise = outsideRise(band.outside);
    if (rise == 0) return 0;
    const double half = band.width / 2;
    if (band.outside.shape == design::OutsideShape::KnifeEdge) return std::atan(rise / half);
    return std::asin(std::min(1.0, std::abs(z) / arcRadius(half, rise)));
}

EdgeCorner edgeCorner(const design::Band& band, const design::Edge& edge, double outside) {
    const double half = band.width / 2;
    const double e = edge.width;
    if (edge.shape == design::EdgeShape::Sharp || e == 0) {
        const Vec2 corner{half, outsideAt(band, outside, half)};
        return {corner, corner, corner};
    }
    if (edge.shape == design::EdgeShape::Bevel) {
        const Vec2 top{half - e, outsideAt(band, outside, half - e)};
        const Vec2 bottom{half, top.r - e * std::tan(radians(edge.angle))};
        return {top, bottom, bottom};
    }
    const double rise = outsideRise(band.outside);
    const double z = half - e;
    if (rise == 0) return {{z, outside}, {half, outside - e}, {z, outside - e}};
    if (band.outside.shape == design::OutsideShape::KnifeEdge) {
        const double slope = rise / half;
        const double slant = std::sqrt(1 + square(slope));
        const Vec2 centre{z, outside - slope * z - e * slant};
        return {centre + (e / slant) * Vec2{slope, 1}, {half, centre.r}, centre};
    }
    // Tangent inside a dome's circle, or outside a hollow's.
    const double radius = arcRadius(half, rise);
    const bool domed = band.outside.shape == design::OutsideShape::Domed;
    const Vec2 middle{0, domed ? outside - radius : outside - rise + radius};
    const double apart = domed ? radius - e : radius + e;
    const double up = std::sqrt(std::max(0.0, square(apart) - square(z)));
    const Vec2 centre{z, domed ? middle.r + up : middle.r - up};
    return {middle + (radius / apart) * (centre - middle), {half, centre.r}, centre};
}

EaseCorner easeCorner(const design::Band& band, double bore) {
    const double half = band.width / 2;
    const double e = band.bore.ease;
    const double rise = boreRise(band.bore);
    const double flat = boreFlatHalf(band);
    if (e == 0) {
        const Vec2 corner{half, flat >= half ? bore : bore + rise};
        return {corner, corner, corner};
    }
    const double z = half - e;
    if (rise == 0 || z <= flat) return {{z, bore}, {half, bore + e}, {z, bore + e}};
    const double radius = arcRadius(half - flat, rise);
    const Vec2 middle{flat, bore + radius};
    const double apart = radius - e;
    const Vec2 centre{z, middle.r - std::sqrt(std::max(0.0, square(apart) - square(z - flat)))};
    return {middle + (radius / apart) * (centre - middle), {half, centre.r}, centre};
}

Loop bandOutline(const design::Band& band, double bore, double outside) {
    const EaseCorner ease = easeCorner(band, bore);
    const EdgeCorner right = edgeCorner(band, band.right, outside);
    const EdgeCorner left = edgeCorner(band, band.left, outside);
    const Segment easeRight =
        arc(ease.inner, ease.outer, ease.centre, band.bore.ease, true, {Feature::Ease, Side::Right});
    Segment easeLeft = mirrored(easeRight);
    easeLeft.tag.side = Side::Left;

    Loop loop;
    addBore(loop, band, bore, mirrored(ease.inner), ease.inner);
    add(loop, easeRight);
    add(loop, line(ease.outer, right.bottom, {Feature::EdgeFace, Side::Right}));
    add(loop, edgeSegment(band.right, right, Side::Right));
    addOutside(loop, band, outside, right.top, mirrored(left.top));
    add(loop, mirrored(edgeSegment(band.left, left, Side::Left)));
    add(loop, line(mirrored(left.bottom), mirrored(ease.outer), {Feature::EdgeFace, Side::Left}));
    add(loop, easeLeft);
    return tidied(loop);
}

Loop linedBandOutline(const design::Band& band, double joint, double outside) {
    design::Band lined = band;
    lined.bore = {design::BoreShape::Straight, 0, 0, 0};
    Loop loop = bandOutline(lined, joint, outside);
    for (Segment& s : loop)
        if (s.tag.feature == Feature::Bore) s.tag = {Feature::LinerJoint};
    return loop;
}

Loop linerOutline(const design::Band& band, double bore, double joint) {
    design::Band liner = band;
    liner.outside.shape = design::OutsideShape::Flat;
    liner.left.shape = liner.right.shape = design::EdgeShape::Sharp;
    Loop loop = bandOutline(liner, bore, joint);
    for (Segment& s : loop)
        if (s.tag.feature == Feature::Outside) s.tag = {Feature::LinerJoint};
    return loop;
}

double channelHalfWidth(const design::Channel& channel, double height) {
    return channel.width / 2 + (height - channel.depth) * std::tan(radians(channel.draft));
}

double channelLip(const design::Channel& channel, double rise) {
    return channel.depth + rise + 0.01;
}

double cornerReach(const design::Channel& channel) {
    return channel.floorRadius / std::tan((kPi / 2 + radians(channel.draft)) / 2);
}

double beyondAll(const design::Design& design) {
    double proudest = 0;
    for (const design::Channel& channel : design.channels) {
        if (channel.fill) proudest = std::max(proudest, channel.fill->proud);
    }
    return design::outsideRadius(design) + design.allowances.truing + proudest + design.allowances.fill + 1;
}

Section channelCutter(const design::Design& design, std::size_t number) {
    const design::Channel& channel = design.channels[number];
    const double outside = design::outsideRadius(design);
    const double mouth = outsideAt(design.band, outside, channel.offset);
    const double floor = channelFloor(design, number);
    const double top = beyondAll(design) - floor;
    const double lip = channel.draft < 0 ? channelLip(channel, outside - mouth) : top;
    const auto at = [&](double z, double height) { return Vec2{z, floor + height}; };

    const double reach = cornerReach(channel);
    const double q = channel.floorRadius;
    const double foot = channelHalfWidth(channel, 0) - reach;
    const double lean = radians(channel.draft);
    const double shoulder = channelHalfWidth(channel, 0) + reach * std::sin(lean);
    const double shoulderHeight = reach * std::cos(lean);
    const double lipHalf = channelHalfWidth(channel, lip);

    Loop right;
    add(right, arc(at(foot, 0), at(shoulder, shoulderHeight), at(foot, q), q, true,
                   {Feature::ChannelCorner, number, Side::Right}));
    const Tag side{Feature::ChannelSide, number, Side::Right};
    add(right, line(at(shoulder, shoulderHeight), at(lipHalf, lip), side));
    add(right, line(at(lipHalf, lip), at(lipHalf, top), side));

    Loop loop;
    add(loop, line(at(-foot, 0), at(foot, 0), {Feature::ChannelFloor, number}));
    loop.insert(loop.end(), right.begin(), right.end());
    add(loop, line(at(lipHalf, top), at(-lipHalf, top), side));  // above all metal
    for (auto s = right.rbegin(); s != right.rend(); ++s) {
        loop.push_back(mirrored(*s));
        loop.back().tag.side = Side::Left;
    }
    return {moved(tidied(loop), {channel.offset, 0})};
}

}  // namespace bandwright::geometry
