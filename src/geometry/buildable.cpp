#include <algorithm>
#include <cmath>
#include <numbers>
#include <string>

#include "arc.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "outline.hpp"
#include "trade/input_error.hpp"
#include "trade/wording.hpp"

namespace bandwright {

namespace {

/// The least that must be left of a length for it to be there at all, mm.
constexpr double kLeast = 1e-3;

/// Lengths that are meant to be the same may differ by so little, mm.
constexpr double kRounding = 1e-9;

std::string millimetres(double value) {
    return shortestNumber(std::round(value * 1e4) / 1e4) + " mm";
}

[[noreturn]] void refuse(const std::string& field, double found, const std::string& why,
                         const std::string& allowed) {
    throw InputError(field + " is " + millimetres(found) + why + "; allowed: " + allowed);
}

std::string atMost(double most) {
    return "at most " + millimetres(std::floor(most * 1e3) / 1e3);
}
std::string lessThan(double most) {
    return "less than " + millimetres(most);
}
std::string moreThan(double least) {
    return "more than " + millimetres(least);
}

void requireShapes(const Band& band) {
    const double half = band.width / 2;
    const double outer = outsideRise(band.outside);
    if (outer > half)
        refuse("band.outside.rise", outer, ", more than the curve of a band this wide can rise",
               atMost(half));
    const double inner = boreRise(band.bore);
    const double run = half - boreFlatHalf(band);
    if (inner > 0 && boreFlatHalf(band) < half && inner > run)
        refuse("band.bore.rise", inner, ", more than the crown beside the flat can rise", atMost(run));
    if (band.bore.ease > half - kLeast)
        refuse("band.bore.ease", band.bore.ease, ", more than half the band's width", lessThan(half));
}

void requireEdge(const Band& band, const Edge& edge, const std::string& field, double outside,
                 double easeTop) {
    if (edge.shape == EdgeShape::Sharp) return;
    const double half = band.width / 2;
    const EdgeCorner corner = edgeCorner(band, edge, outside);
    if (edge.width > band.width - kLeast)
        refuse(field + ".width", edge.width, ", wider than the band", lessThan(band.width));
    if (band.outside.shape == OutsideShape::KnifeEdge && outsideRise(band.outside) > 0 && corner.top.z < 0)
        refuse(field + ".width", edge.width, ", past the ridge of a knife-edge band", atMost(half));
    if (edge.shape == EdgeShape::Bevel && edge.width > 0 &&
        corner.bottom.r > outsideAt(band, outside, half) - kLeast * std::min(1.0, edge.width)) {
        throw InputError(field + ".angle is " + shortestNumber(edge.angle) +
                         " degrees, flatter than the outside falls there; allowed: a steeper bevel");
    }
    if (corner.bottom.r < easeTop + kLeast) {
        const double drop = corner.top.r - easeTop;
        const bool bevel = edge.shape == EdgeShape::Bevel;
        const double most = bevel ? drop / std::tan(edge.angle * std::numbers::pi / 180) : drop;
        refuse(field + ".width", edge.width, ", which leaves no edge face above the bore", lessThan(most));
    }
}

void requireBand(const Design& design) {
    const Band& band = design.band;
    requireShapes(band);
    const double outside = outsideRadius(design);
    for (const double bore : {boreRadius(design), boreRadius(design) - design.allowances.sizing}) {
        const EaseCorner ease = easeCorner(band, bore);
        const double edgeTop = outsideAt(band, outside, band.width / 2);
        if (edgeTop < ease.outer.r + kLeast) {
            refuse("band.thickness", band.thickness, ", which leaves no edge face between bore and outside",
                   moreThan(band.thickness + ease.outer.r - edgeTop));
        }
        requireEdge(band, band.left, "band.left", outside, ease.outer.r);
        requireEdge(band, band.right, "band.right", outside, ease.outer.r);
    }
    const double left = -edgeCorner(band, band.left, outside).top.z;
    const double right = edgeCorner(band, band.right, outside).top.z;
    if (right < left) {
        throw InputError("band.left.width and band.right.width are " + millimetres(band.left.width) +
                         " and " + millimetres(band.right.width) +
                         ", which cross; allowed: " + atMost(band.width) + " together");
    }
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

void requireOutline(const Design& design) {
    for (const double bore : {boreRadius(design), boreRadius(design) - design.allowances.sizing}) {
        for (std::size_t i = 0; i <= design.channels.size(); ++i) {
            const bool fill = i < design.channels.size();
            if (fill && !design.channels[i].fill) continue;
            const double proud = fill ? design.channels[i].fill->proud : 0;
            const Loop loop = bandOutline(design.band, bore, outsideRadius(design) + proud);
            if (!crossesItself(loop) && properties({loop}).area > 0) continue;
            if (fill) {
                refuse("channels[" + std::to_string(i) + "].fill.proud", proud, ", sunk below the bore",
                       "a fill that stands above the bore");
            }
            refuse("band.thickness", design.band.thickness, ", and the outside runs into the bore",
                   "a band thick enough to keep them apart everywhere");
        }
    }
}

void requireChannel(const Design& design, std::size_t number) {
    const Channel& channel = design.channels[number];
    const std::string field = "channels[" + std::to_string(number) + "].";
    const double half = design.band.width / 2;
    if (std::abs(channel.offset) - channel.width / 2 > half - kLeast)
        refuse(field + "offset", channel.offset, ", beside the band", "a channel that touches the band");
    if (std::abs(channel.offset) > half)
        refuse(field + "offset", channel.offset, ", its middle beside the band",
               millimetres(-half) + " to " + millimetres(half));
    const double outside = outsideRadius(design);
    const double mouth = outsideAt(design.band, outside, channel.offset);
    if (channel.depth > mouth - 1)
        refuse(field + "depth", channel.depth, ", past the ring's own axis", atMost(mouth - 1));
    const double floor = 2 * channelHalfWidth(channel, 0);
    if (floor < kLeast) {
        throw InputError(
            field + "draft is " + shortestNumber(channel.draft) +
            " degrees, and the sides meet above the floor; allowed: less draft, less depth or more width");
    }
    const double reach = cornerReach(channel);
    if (2 * reach > floor + kRounding)
        refuse(field + "floor-radius", channel.floorRadius, ", more than the floor is wide enough for",
               atMost(channel.floorRadius * floor / (2 * reach)));
    const double lean = channel.draft * std::numbers::pi / 180;
    if (reach * std::cos(lean) > channel.depth + kRounding)
        refuse(field + "floor-radius", channel.floorRadius, ", more than the channel is deep enough for",
               atMost(channel.floorRadius * channel.depth / (reach * std::cos(lean))));
    const double lip = outside - mouth + channel.depth + 0.01;
    if (channel.draft < 0 && channelHalfWidth(channel, lip) < kLeast) {
        throw InputError(
            field + "draft is " + shortestNumber(channel.draft) +
            " degrees, and the sides meet below the outside; allowed: less undercut or more width");
    }
}

void requireHole(const Design& design, std::size_t number) {
    const Setting& setting = design.settings[number];
    const Hole& hole = setting.hole;
    const std::string field = "settings[" + std::to_string(number) + "].";
    const double mouth =
        outsideAt(design.band, outsideRadius(design),
                  std::clamp(setting.placement.offset, -design.band.width / 2, design.band.width / 2));
    if (std::abs(setting.placement.offset) > design.band.width / 2)
        refuse(field + "placement.offset", setting.placement.offset, ", beside the band",
               millimetres(-design.band.width / 2) + " to " + millimetres(design.band.width / 2));
    const bool blind = hole.bottom != HoleBottom::Through;
    if (blind && hole.pilotDepth < kLeast)
        refuse(field + "hole.pilot-depth", hole.pilotDepth, " for a hole that is not drilled through",
               moreThan(0));
    double widest = hole.pilotDiameter;
    double deepest = blind ? hole.pilotDepth : mouth - 1;
    for (std::size_t i = 0; i < hole.steps.size(); ++i) {
        const std::string step = field + "hole.steps[" + std::to_string(i) + "].";
        if (hole.steps[i].diameter < widest + kLeast)
            refuse(step + "diameter", hole.steps[i].diameter, ", no wider than what is below it",
                   moreThan(widest));
        if (hole.steps[i].depth > deepest - kLeast)
            refuse(step + "depth", hole.steps[i].depth, ", no less than what is below it", lessThan(deepest));
        widest = hole.steps[i].diameter;
        deepest = hole.steps[i].depth;
    }
    if (hole.countersink > 0 && hole.countersink / 2 > deepest - kLeast)
        refuse(field + "hole.countersink", hole.countersink, ", deeper than the hole below it",
               lessThan(2 * deepest));
    const double bore = 2 * (boreRadius(design) - design.allowances.sizing);
    if (widest + hole.countersink + 4 > bore)
        refuse(field + "hole." + (hole.steps.empty() ? "pilot-diameter" : "steps"), widest + hole.countersink,
               " wide, nearly as wide as the finger", lessThan(bore - 4));
}

void requireTubeAndStone(const Setting& setting, const std::string& field) {
    const Hole& hole = setting.hole;
    const bool hasFlat = !hole.steps.empty() || hole.bottom == HoleBottom::Flat;
    if (!hasFlat && (setting.tube || setting.stone)) {
        throw InputError(field + "hole.steps is empty, so there is no flat for the " +
                         (setting.tube ? "tube" : "stone") +
                         " to stand on; allowed: at least one step, or a flat bottom");
    }
    if (setting.tube) {
        const Tube& tube = *setting.tube;
        if (tube.seatDiameter > tube.outerDiameter - kLeast)
            refuse(field + "tube.seat-diameter", tube.seatDiameter, ", which leaves no lip",
                   lessThan(tube.outerDiameter));
        if (tube.innerDiameter > tube.seatDiameter - kLeast)
            refuse(field + "tube.inner-diameter", tube.innerDiameter, ", which leaves no ledge",
                   lessThan(tube.seatDiameter));
        if (tube.seatDepth < kLeast || tube.seatDepth > tube.height - kLeast)
            refuse(field + "tube.seat-depth", tube.seatDepth,
                   " in a tube " + millimetres(tube.height) + " high",
                   moreThan(0) + " and " + lessThan(tube.height));
    }
    if (setting.stone) {
        try {
            facets(*setting.stone);
        } catch (const InputError& error) {
            throw InputError(field + "stone: " + error.what());
        }
    }
}

}  // namespace

void requireBuildable(const Design& design) {
    requireBand(design);
    requireOutline(design);
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        requireChannel(design, i);
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        requireHole(design, i);
        requireTubeAndStone(design.settings[i], "settings[" + std::to_string(i) + "].");
    }
    if (sections(design).band.empty() || sections(design, Stage::BeforeSizing).band.empty())
        throw InputError("channels: together they leave no metal; allowed: channels that leave a band");
}

}  // namespace bandwright
