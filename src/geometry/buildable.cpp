#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "design/field_table.hpp"
#include "geometry/hole.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "geometry/tolerance.hpp"
#include "outline.hpp"

namespace bandwright::geometry {

namespace {

/// What must stay uncut round the ring's axis, on the radius, mm.
constexpr double kCore = 1;

/// By how much a hole must be narrower than the finger, mm.
constexpr double kFingerSides = 4;

std::string millimetres(double value) {
    return base::shortestNumber(value) + " mm";
}

/// A bound is named in thousandths, rounded to the side that is allowed.
double roundedDown(double value) {
    return std::floor(value * 1e3 + kSamePoint) / 1e3;
}
double roundedUp(double value) {
    return std::ceil(value * 1e3 - kSamePoint) / 1e3;
}

constexpr double kNoBound = std::numeric_limits<double>::infinity();

struct Allowed {
    double least = -kNoBound, most = kNoBound;
};
Allowed atMost(double most) {
    return {.most = roundedDown(most)};
}
Allowed atLeast(double least) {
    return {.least = roundedUp(least)};
}
Allowed within(double limit) {
    return {-roundedDown(limit), roundedDown(limit)};
}

/// Refuses the number of a field. Where no number that the field can have is allowed, `otherwise` says what
/// is.
[[noreturn]] void refuse(const design::Design& design, const std::string& path, const std::string& why,
                         Allowed allowed, const std::string& otherwise) {
    const design::NumberField range = design::fieldAt(design, path)->number;
    const std::string unit = range.unit == design::Unit::Degrees ? " degrees" : " mm";
    const auto number = [&](double value) { return base::shortestNumber(value) + unit; };
    std::string told;
    if (allowed.most < range.least || allowed.least > range.most) {
        told = otherwise;
    } else if (allowed.least == -kNoBound) {
        told = "at most " + number(allowed.most);
    } else {
        told = allowed.most == kNoBound ? "at least " + number(allowed.least)
                                        : number(allowed.least) + " to " + number(allowed.most);
    }
    throw base::InputError(path + " is " + number(*design::numberAt(design, path)) + ", " + why +
                           "; allowed: " + told);
}

/// How far one may go from a value that is allowed towards one that is not.
double bound(double good, double bad, auto&& isAllowed) {
    for (int i = 0; i < 60; ++i) {
        const double middle = (good + bad) / 2;
        (isAllowed(middle) ? good : bad) = middle;
    }
    return good;
}

void requireShapes(const design::Design& design) {
    const design::Band& band = design.band;
    const double half = band.width / 2;
    const double outer = outsideRise(band.outside);
    if (outer > half + kSamePoint)
        refuse(design, "band.outside.rise", "more than the curve of a band this wide can rise", atMost(half),
               "a wider band");
    const double inner = boreRise(band.bore);
    const double run = half - boreFlatHalf(band);
    if (inner > 0 && run > 0 && inner > run + kSamePoint)
        refuse(design, "band.bore.rise", "more than the crown beside the flat can rise", atMost(run),
               "a narrower flat");
    if (band.bore.ease > half - kLeastMade + kSamePoint)
        refuse(design, "band.bore.ease", "as much as half the band's width or more",
               atMost(half - kLeastMade), "a wider band");
}

/// What can be wrong with an edge, apart from the other edge.
enum class EdgeFault { None, Wide, PastRidge, Round, Flat, Deep };

/// `top` is the radius up to which the edge face is needed.
EdgeFault edgeFault(const design::Band& band, const design::Edge& edge, double outside, double top) {
    if (edge.shape == design::EdgeShape::Sharp || edge.width == 0) return EdgeFault::None;
    const double half = band.width / 2;
    const double rise = outsideRise(band.outside);
    const bool round = edge.shape == design::EdgeShape::Round;
    if (edge.width > band.width - kLeastMade + kSamePoint) return EdgeFault::Wide;
    if (round && band.outside.shape == design::OutsideShape::Domed && rise > 0) {
        const double dome = (half * half + rise * rise) / (2 * rise);
        if (edge.width > (dome + half) / 2 - kLeastMade) return EdgeFault::Round;
    }
    const EdgeCorner corner = edgeCorner(band, edge, outside);
    if (band.outside.shape == design::OutsideShape::KnifeEdge && rise > 0 && corner.top.z < 0)
        return EdgeFault::PastRidge;
    const double fallen = outsideAt(band, outside, half) - corner.bottom.r;
    if (!round && fallen < kLeastMade * std::min(1.0, edge.width)) return EdgeFault::Flat;
    if (corner.bottom.r < top + kLeastMade - kSamePoint) return EdgeFault::Deep;
    return EdgeFault::None;
}

std::string why(EdgeFault fault) {
    switch (fault) {
        case EdgeFault::Wide:
            return "as wide as the band or wider";
        case EdgeFault::PastRidge:
            return "past the ridge of a knife-edge band";
        case EdgeFault::Round:
            return "too large to meet the dome";
        case EdgeFault::Flat:
            return "flatter than the outside falls there";
        case EdgeFault::Deep:
            return "which leaves no edge face above the bore";
        case EdgeFault::None:
            break;
    }
    return {};
}

void requireEdge(const design::Design& design, const design::Edge& edge, const std::string& field,
                 double outside, double top) {
    const design::Band& band = design.band;
    const EdgeFault fault = edgeFault(band, edge, outside, top);
    if (fault == EdgeFault::None) return;
    design::Edge other = edge;
    if (fault == EdgeFault::Flat) {
        constexpr double kSteepest = 85;
        const auto isSteep = [&](double angle) {
            other.angle = angle;
            return edgeFault(band, other, outside, top) != EdgeFault::Flat;
        };
        const double least = isSteep(kSteepest) ? bound(kSteepest, edge.angle, isSteep) : kNoBound;
        refuse(design, field + ".angle", why(fault), atLeast(least), "a sharp or a rounded edge");
    }
    // Too much width causes each of the others; one may hide another.
    const double most = bound(0, edge.width, [&](double width) {
        other.width = width;
        const EdgeFault left = edgeFault(band, other, outside, top);
        return left == EdgeFault::None || left == EdgeFault::Flat;
    });
    refuse(design, field + ".width", why(fault), atMost(most), "a sharp edge");
}

/// Whether the edges leave some of the outside between them, or just meet.
bool edgesStayApart(const design::Band& band, double outside) {
    return edgeCorner(band, band.right, outside).top.z >= -edgeCorner(band, band.left, outside).top.z;
}

/// `ease` is where the liner's own edge face begins and `edge` where the band's ends.
void requireLiner(const design::Design& design, double ease, double edge) {
    const double joint = design::linerRadius(design);
    if (joint < ease + kLeastMade - kSamePoint)
        refuse(design, "band.liner.thickness", "which leaves the liner no edge face beside the bore",
               atLeast(ease + kLeastMade - design::boreRadius(design)),
               "a bore that opens less at its edges");
    const double most = std::min(edge, outsideAt(design, 0)) - kLeastMade;
    if (joint > most + kSamePoint)
        refuse(design, "band.liner.thickness", "which leaves nothing of the band round it",
               atMost(most - design::boreRadius(design)), "a thicker band");
}

void requireBand(const design::Design& design) {
    const design::Band& band = design.band;
    requireShapes(design);
    // Before sizing the bore is narrower, which leaves only more room.
    const double outside = design::outsideRadius(design);
    const double ease = easeCorner(band, design::boreRadius(design)).outer.r;
    const double edge = outsideAt(band, outside, band.width / 2);
    if (band.liner) requireLiner(design, ease, edge);
    const double top = std::max(ease, design::linerRadius(design));
    if (edge < top + kLeastMade - kSamePoint) {
        refuse(design, "band.thickness", "which leaves no edge face between bore and outside",
               atLeast(band.thickness + top + kLeastMade - edge), "an outside and a bore that curve less");
    }
    requireEdge(design, band.left, "band.left", outside, top);
    requireEdge(design, band.right, "band.right", outside, top);
    if (edgesStayApart(band, outside)) return;
    const double share = bound(0, 1, [&](double part) {
        design::Band narrower = band;
        narrower.left.width *= part;
        narrower.right.width *= part;
        return edgesStayApart(narrower, outside);
    });
    // Widths that just meet may cross in rounding.
    throw base::InputError("band.left.width and band.right.width are " + millimetres(band.left.width) +
                           " and " + millimetres(band.right.width) + ", which cross; allowed: for instance " +
                           millimetres(std::max(0.0, roundedDown(share * band.left.width - kFilm))) +
                           " and " +
                           millimetres(std::max(0.0, roundedDown(share * band.right.width - kFilm))));
}

/// Whether an outline runs into itself.
bool crossesItself(const Loop& loop) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t j = i + 2; j < n; ++j) {
            if (i == 0 && j == n - 1) continue;
            if (crossings(loop[i], loop[j]).count > 0) return true;
        }
    }
    return false;
}

void requireOutline(const design::Design& design) {
    const double bore = design::boreRadius(design);
    const auto isSound = [&](double thickness) {
        const Loop loop = bandOutline(design.band, bore, bore + thickness);
        return !crossesItself(loop) && enclosedArea(loop) > 0;
    };
    const double thickness = design.band.thickness;
    if (isSound(thickness)) return;
    const double plenty = thickness + design.band.width + outsideRise(design.band.outside);
    // At the bound itself outlines touch, and after rounding to a thousandth they may touch again.
    double least = roundedUp(bound(plenty, thickness, isSound));
    while (least < plenty && !isSound(least))
        least = roundedUp(least + 5e-4);
    refuse(design, "band.thickness", "so that the outside runs into the bore", atLeast(least),
           "an outside and a bore that curve less");
}

void requireDraft(const design::Design& design, const design::Channel& channel, const std::string& field,
                  double lip) {
    const auto floorStays = [&](double draft) {
        design::Channel other = channel;
        other.draft = draft;
        return 2 * channelHalfWidth(other, 0) >= kLeastMade;
    };
    if (!floorStays(channel.draft)) {
        refuse(design, field + "draft", "so that the sides meet above the floor",
               atMost(bound(0, channel.draft, floorStays)), "a wider or shallower channel");
    }
    const auto mouthStays = [&](double draft) {
        design::Channel other = channel;
        other.draft = draft;
        return draft >= 0 || 2 * channelHalfWidth(other, lip) >= kLeastMade;
    };
    if (!mouthStays(channel.draft)) {
        refuse(design, field + "draft", "so that the sides meet below the outside",
               atLeast(bound(0, channel.draft, mouthStays)), "a wider or shallower channel");
    }
}

void requireChannel(const design::Design& design, std::size_t number) {
    const design::Channel& channel = design.channels[number];
    const std::string field = "channels[" + std::to_string(number) + "].";
    const double half = design.band.width / 2;
    if (std::abs(channel.offset) > half + kSamePoint)
        refuse(design, field + "offset", "beside the band", within(half), "a wider band");
    const double outside = design::outsideRadius(design);
    const double mouth = outsideAt(design.band, outside, channel.offset);
    if (channel.depth > mouth - kCore + kSamePoint)
        refuse(design, field + "depth", "as far as the ring's own axis", atMost(mouth - kCore),
               "a larger ring or an outside that curves less");
    requireDraft(design, channel, field, channelLip(channel, outside - mouth));
    const double floor = 2 * channelHalfWidth(channel, 0);
    const double reach = cornerReach(channel);
    if (2 * reach > floor + kSamePoint)
        refuse(design, field + "floor-radius", "more than the floor is wide enough for",
               atMost(channel.floorRadius * floor / (2 * reach)), "a wider channel");
    const double height = reach * std::cos(radians(channel.draft));
    if (height > channel.depth + kSamePoint)
        refuse(design, field + "floor-radius", "more than the channel is deep enough for",
               atMost(channel.floorRadius * channel.depth / height), "a deeper channel");
}

/// Each part wider and less deep than the one below it; `deepest` is how deep a hole may be.
void requireSteps(const design::Design& design, const design::Hole& hole, const std::string& field,
                  double deepest) {
    if (hole.bottom != design::HoleBottom::Through) {
        const double point = drillPoint(hole);
        if (hole.pilotDepth < kLeastMade)
            refuse(design, field + "pilot-depth", "for a hole that is not drilled through",
                   atLeast(kLeastMade), "a hole that is");
        if (hole.pilotDepth + point > deepest + kSamePoint)
            refuse(design, field + "pilot-depth", "as far as the ring's own axis", atMost(deepest - point),
                   "a narrower pilot hole or a larger ring");
        deepest = hole.pilotDepth;
    }
    double widest = hole.pilotDiameter;
    for (std::size_t i = 0; i < hole.steps.size(); ++i) {
        const design::HoleStep& step = hole.steps[i];
        const std::string name = field + "steps[" + std::to_string(i) + "].";
        if (step.diameter < widest + kLeastMade - kSamePoint)
            refuse(design, name + "diameter", "no wider than what is below it", atLeast(widest + kLeastMade),
                   "something narrower below it");
        if (step.depth > deepest - kLeastMade + kSamePoint)
            refuse(design, name + "depth", "as deep as what is below it or deeper",
                   atMost(deepest - kLeastMade), "something deeper below it");
        if (step.depth + bearingRise(step, widest) > deepest - kLeastMade + kSamePoint) {
            const double run = (step.diameter - widest) / 2;
            const double most = std::atan2(deepest - kLeastMade - step.depth, run) * 180 / kPi;
            refuse(design, name + "bearing", "as deep as what is below it or deeper", atMost(most),
                   "something deeper below it");
        }
        widest = step.diameter;
        deepest = step.depth;
    }
    if (hole.countersink > 0 && hole.countersink / 2 > deepest - kLeastMade + kSamePoint)
        refuse(design, field + "countersink", "deeper than the hole below it",
               atMost(2 * (deepest - kLeastMade)), "a deeper hole below it");
}

void requireHole(const design::Design& design, std::size_t number) {
    const design::Setting& setting = design.settings[number];
    const design::Hole& hole = setting.hole;
    const std::string field = "settings[" + std::to_string(number) + "].";
    const double offset = setting.placement.offset;
    const double half = design.band.width / 2;
    if (std::abs(offset) > half + kSamePoint)
        refuse(design, field + "placement.offset", "beside the band", within(half), "a wider band");
    requireSteps(design, hole, field + "hole.",
                 outsideAt(design.band, design::outsideRadius(design), offset) - kCore);

    const double most = 2 * (design::boreRadius(design) - design.allowances.sizing) - kFingerSides;
    const double widest = seatOf(hole, number).diameter;
    const std::string part = hole.steps.empty()
                                 ? "pilot-diameter"
                                 : "steps[" + std::to_string(hole.steps.size() - 1) + "].diameter";
    if (widest > most + kSamePoint)
        refuse(design, field + "hole." + part, "nearly as wide as the finger", atMost(most),
               "a larger finger");
    if (widest + hole.countersink > most + kSamePoint)
        refuse(design, field + "hole.countersink", "which makes the hole nearly as wide as the finger",
               atMost(most - widest), "a narrower hole");
}

void requireTube(const design::Design& design, const design::Tube& tube, const std::string& field) {
    if (tube.seatDiameter > tube.outerDiameter - kLeastMade + kSamePoint)
        refuse(design, field + "seat-diameter", "which leaves no lip",
               atMost(tube.outerDiameter - kLeastMade), "a wider tube");
    if (tube.innerDiameter > tube.seatDiameter - kLeastMade + kSamePoint)
        refuse(design, field + "inner-diameter", "which leaves no ledge",
               atMost(tube.seatDiameter - kLeastMade), "a wider seat");
    if (tube.seatDepth < kLeastMade)
        refuse(design, field + "seat-depth", "which leaves no seat", atLeast(kLeastMade), "a seat");
    if (tube.seatDepth > tube.height - kLeastMade + kSamePoint)
        refuse(design, field + "seat-depth", "as deep as the tube is high or deeper",
               atMost(tube.height - kLeastMade), "a higher tube");
}

void requireTubeAndStone(const design::Design& design, const design::Setting& setting,
                         const std::string& field) {
    const bool hasFlat = !setting.hole.steps.empty() || setting.hole.bottom == design::HoleBottom::Flat;
    if (!hasFlat && (setting.tube || setting.stone)) {
        throw base::InputError(field + "hole.steps is empty, so there is no flat for the " +
                               (setting.tube ? "tube" : "stone") +
                               " to stand on; allowed: at least one step, or a flat bottom");
    }
    if (setting.tube && !setting.hole.steps.empty() && setting.hole.steps.back().bearing > 0)
        refuse(design, field + "hole.steps[" + std::to_string(setting.hole.steps.size() - 1) + "].bearing",
               "under a tube, which stands on a flat", atMost(0), "a flat step");
    if (setting.tube) requireTube(design, *setting.tube, field + "tube.");
    if (!setting.stone) return;
    try {
        stoneMesh(*setting.stone);
    } catch (const base::InputError& error) {
        std::string what = error.what();
        if (what.starts_with("Stone: ")) what.erase(0, 7);
        throw base::InputError(field + "stone: " + what);
    }
}

/// Whether the channels are nearly as wide together as the band; if not, something of it is left.
bool mayLeaveNothing(const design::Design& design) {
    constexpr double kNearly = 0.1;  // mm
    double together = 0;
    for (std::size_t i = 0; i < design.channels.size(); ++i) {
        double half = 0;
        const Section cutter = channelCutter(design, i);
        for (const Segment& s : cutter.front())
            half = std::max(half, rectangleRound(s).high.z - design.channels[i].offset);
        together += 2 * half;
    }
    return together > design.band.width - kNearly;
}

}  // namespace

void requireBuildable(const design::Design& design) {
    requireBand(design);
    requireOutline(design);
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        requireChannel(design, i);
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        requireHole(design, i);
        requireTubeAndStone(design, design.settings[i], "settings[" + std::to_string(i) + "].");
    }
    // Before sizing there is only more metal.
    if (mayLeaveNothing(design) && sections(design).band.empty())
        throw base::InputError("channels: together they leave no metal; allowed: channels that leave a band");
}

}  // namespace bandwright::geometry
