#include <algorithm>
#include <cmath>
#include <string_view>

#include "measure.hpp"
#include "shrink_fit.hpp"
#include "stuff.hpp"

namespace bandwright::check {

namespace {

/// Where a tube stands in its hole: distances from the ring's axis along the hole's.
struct TubeHeights {
    double base, ledge;
    double top;      ///< of the lip, open
    double highest;  ///< of the finished tube, its lip closed over the stone if there is one
};

TubeHeights heightsOf(const StagedRing& ring, std::size_t setting) {
    const design::Tube& tube = *ring.design.settings[setting].tube;
    double base = 0;
    double highest = 0;
    for (const geometry::Loop& wall : ring.bodies[setting].tube) {
        for (const geometry::Segment& s : wall) {
            if (s.tag.feature == geometry::Feature::TubeEnd) base = s.from.r;
            highest = std::max(highest, s.from.r);
        }
    }
    const double top = base + tube.height;
    return {base, top - tube.seatDepth, top, highest};
}

/// The gap is judged by what is to fill it.
std::string_view fitOf(design::Join join) {
    switch (join) {
        case design::Join::Adhesive:
            return "tube-clearance";
        case design::Join::Solder:
            return "solder-gap";
        case design::Join::LaserWeld:
            return "weld-gap";
        case design::Join::Press:
            break;  // it has none
    }
    return {};
}

/// A pressed tube in a ring of the band's metal that reaches to the nearer edge. Where it is weakest its wall
/// is that of its seat.
double pressStress(const StagedRing& ring, std::size_t i, double interference,
                   const trade::Catalogue& catalogue) {
    const design::Setting& setting = ring.design.settings[i];
    const Stuff band = stuffOf(*catalogue.metal(ring.design.band.metal), ring.design.band.grain);
    const Stuff tube = stuffOf(*catalogue.metal(setting.tube->metal), design::Grain::Bent);
    const double hole = geometry::seatOf(setting.hole, i).diameter / 2;
    const double reach = ring.design.band.width / 2 - std::abs(setting.placement.offset);
    const Tubing inner{setting.tube->seatDiameter / 2, hole, tube.modulus};
    const PressFit fit = pressFit(inner, {hole, std::max(reach, kTouch + hole), band.modulus}, interference);
    return -fit.liner / tube.strength;
}

void measureTube(const StagedRing& ring, std::size_t i, const trade::Catalogue& catalogue,
                 Measures& measures) {
    const design::Setting& setting = ring.design.settings[i];
    const design::Tube& tube = *setting.tube;
    const TubeHeights at = heightsOf(ring, i);
    const double z = setting.placement.offset;
    const std::string of = ofSetting(ring.design, i);
    const auto add = [&](std::string_view id, const std::string& label, double value, geometry::Vec2 from,
                         geometry::Vec2 to, geometry::Tag fromTag, geometry::Tag toTag) {
        const geometry::Gap gap{value, from, to, fromTag, toTag};
        measures.push_back(
            measureOf(numbered(id, i), label + of, ring.stage, gap, holeAngle(ring.design, i), i));
    };
    const double outer = tube.outerDiameter / 2;
    const double seat = tube.seatDiameter / 2;
    const double inner = tube.innerDiameter / 2;
    const geometry::HoleSeat hole = geometry::seatOf(setting.hole, i);
    const double bore = hole.diameter / 2;
    const bool pressed = tube.join == design::Join::Press;
    add(pressed ? "press-fit" : fitOf(tube.join),
        pressed ? "Interference of the tube" : "Clearance round the tube",
        pressed ? 2 * (outer - bore) : bore - outer, {z + outer, at.base}, {z + bore, at.base},
        {geometry::Feature::TubeOutside, i}, hole.side);
    if (pressed && outer > bore && seat < bore) {
        measures.push_back(countOf(numbered("press-stress", i), "Stress in the pressed tube" + of, ring.stage,
                                   pressStress(ring, i, 2 * (outer - bore), catalogue), "of its yield",
                                   {z + bore, at.ledge}, {geometry::Feature::TubeSeat, i},
                                   holeAngle(ring.design, i), i));
    }
    add("tube-lip", "Wall of the tube's lip", outer - seat, {z + seat, at.top}, {z + outer, at.top},
        {geometry::Feature::TubeSeat, i}, {geometry::Feature::TubeOutside, i});
    add("tube-ledge", "Width of the ledge in the tube", seat - inner, {z + inner, at.ledge},
        {z + seat, at.ledge}, {geometry::Feature::TubeLedge, i}, {geometry::Feature::TubeLedge, i});
    const double mouth = geometry::outsideAt(ring.design, z);
    add("tube-proud", "Tube against the outside", at.highest - mouth, {z + outer, mouth},
        {z + outer, at.highest}, {geometry::Feature::Outside}, {geometry::Feature::TubeLip, i});
    const geometry::MouthPlace low = geometry::lowestMouth(ring.design, z, bore);
    const double across = std::sqrt(std::max(0.0, bore * bore - (low.z - z) * (low.z - z)));
    const double angle = holeAngle(ring.design, i);
    const auto onWall = [&](double height) {
        return geometry::Vec3{height * std::cos(angle) - across * std::sin(angle),
                              height * std::sin(angle) + across * std::cos(angle), low.z};
    };
    measures.push_back({numbered("tube-grip", i),
                        "Least depth of the seat" + of,
                        ring.stage,
                        low.height - at.base,
                        "mm",
                        onWall(at.base),
                        onWall(low.height),
                        hole.floor,
                        {geometry::Feature::Outside},
                        static_cast<std::uint16_t>(i)});
}

}  // namespace

void measureTubes(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.settings.size(); ++i) {
        if (ring.design.settings[i].tube) measureTube(ring, i, catalogue, measures);
    }
}

}  // namespace bandwright::check
