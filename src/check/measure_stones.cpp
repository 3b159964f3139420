#include <algorithm>
#include <limits>
#include <optional>

#include "geometry/stone.hpp"
#include "geometry/tolerance.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

struct SetStone {
    const StagedRing& ring;
    std::size_t number;

    const design::Setting& setting() const { return ring.design.settings[number]; }
    const geometry::Section& outline() const { return ring.bodies[number].stone; }
    const geometry::Section& tube() const { return ring.bodies[number].tube; }

    void add(Measures& measures, std::string_view id, const std::string& label,
             const geometry::Gap& gap) const {
        const std::string of = ofSetting(ring.design, number);
        measures.push_back(measureOf(numbered(id, number), label + of, ring.stage, gap,
                                     holeAngle(ring.design, number), number));
    }
};

/// The upper edge of the girdle on the right.
std::optional<geometry::Vec2> girdleTop(const geometry::Section& outline) {
    std::optional<geometry::Vec2> best;
    for (const geometry::Segment& s : geometry::segmentsWhere(
             outline, [](geometry::Tag t) { return t.feature != geometry::Feature::Table; })) {
        for (const geometry::Vec2 p : {s.from, s.to}) {
            if (!best || p.z > best->z + geometry::kSamePoint ||
                (p.z > best->z - geometry::kSamePoint && p.r > best->r))
                best = p;
        }
    }
    return best;
}

std::optional<double> heightOf(const geometry::Section& tube, geometry::Feature feature) {
    const auto found =
        geometry::segmentsWhere(tube, [&](geometry::Tag tag) { return tag.feature == feature; });
    if (found.empty()) return std::nullopt;
    return found.front().from.r;
}

/// The innermost place of a tube's lip, on the right.
geometry::Vec2 lipEnd(const geometry::Section& tube, double axis) {
    geometry::Vec2 best{std::numeric_limits<double>::infinity(), 0};
    for (const geometry::Segment& s : geometry::segmentsWhere(
             tube, [](geometry::Tag tag) { return tag.feature == geometry::Feature::TubeLip; })) {
        for (const geometry::Vec2 p : {s.from, s.to})
            if (p.z > axis && p.z < best.z) best = p;
    }
    return best;
}

/// The stone against the tube that holds it. A tube is round, so a long stone is as wide as it is long.
void measureInTube(const SetStone& stone, Measures& measures) {
    const design::Tube& tube = *stone.setting().tube;
    const auto girdle = girdleTop(stone.outline());
    const auto ledge = heightOf(stone.tube(), geometry::Feature::TubeLedge);
    if (!girdle || !ledge) return;
    const double lip = *ledge + tube.seatDepth;  // open
    const double z = stone.setting().placement.offset;
    const double widest = geometry::girdleLength(*stone.setting().stone) / 2;
    const double narrowest = stone.setting().stone->diameter / 2;
    const double seat = tube.seatDiameter / 2;
    const double inner = tube.innerDiameter / 2;
    stone.add(measures, "stone-clearance", "Clearance round the stone",
              {seat - widest,
               {z + widest, girdle->r},
               {z + seat, girdle->r},
               {geometry::Feature::Girdle, stone.number},
               {geometry::Feature::TubeSeat, stone.number}});
    stone.add(measures, "stone-on-ledge", "Reach of the stone over the ledge",
              {narrowest - inner,
               {z + inner, *ledge},
               {z + narrowest, *ledge},
               {geometry::Feature::TubeLedge, stone.number},
               {geometry::Feature::Girdle, stone.number}});
    stone.add(measures, "lip-over-girdle", "Lip above the girdle",
              {lip - girdle->r,
               {z + seat, girdle->r},
               {z + seat, lip},
               {geometry::Feature::Girdle, stone.number},
               {geometry::Feature::TubeLip, stone.number}});
    if (widest > seat + geometry::kSamePoint) return;  // the stone does not go in, nor the lip over it
    const geometry::Vec2 end = lipEnd(stone.tube(), z);
    stone.add(measures, "lip-cover", "Reach of the closed lip over the girdle",
              {widest - (end.z - z),
               {z + widest, end.r},
               end,
               {geometry::Feature::Girdle, stone.number},
               {geometry::Feature::TubeLip, stone.number}});
}

/// The stone set straight in the hole: its bearing below it, the metal's edge to be pushed over it.
void measureInMetal(const SetStone& stone, Measures& measures) {
    const design::Hole& hole = stone.setting().hole;
    const auto girdle = girdleTop(stone.outline());
    if (!girdle || hole.steps.empty()) return;
    const geometry::HoleSeat at = geometry::seatOf(hole, stone.number);
    const double z = stone.setting().placement.offset;
    const double widest = geometry::girdleLength(*stone.setting().stone) / 2;
    const double narrowest = stone.setting().stone->diameter / 2;
    const double seat = at.diameter / 2;
    const double below = at.below / 2;
    stone.add(measures, "stone-clearance", "Clearance round the stone",
              {seat - widest,
               {z + widest, girdle->r},
               {z + seat, girdle->r},
               {geometry::Feature::Girdle, stone.number},
               at.side});
    const double bearing = geometry::outsideAt(stone.ring.design, z) - at.depth;
    stone.add(measures, "bearing-width", "Bearing under the stone",
              {std::min(seat, narrowest) - below,
               {z + below, bearing},
               {z + std::min(seat, narrowest), bearing},
               at.floor,
               at.floor});
    const double mouth = geometry::lowestMouth(stone.ring.design, z, seat).height;
    stone.add(measures, "girdle-sunk", "Depth of the girdle below the metal's edge",
              {mouth - girdle->r,
               {z + widest, girdle->r},
               {z + widest, mouth},
               {geometry::Feature::Girdle, stone.number},
               {geometry::Feature::Outside}});
    // Leaned in by 45 degrees the edge comes in by as much as it stands above the girdle.
    stone.add(measures, "edge-cover", "Reach over the girdle of the edge leaned in to 45\u00B0",
              {mouth - girdle->r - (seat - widest),
               {z + widest, mouth},
               {z + seat - (mouth - girdle->r), mouth},
               {geometry::Feature::Girdle, stone.number},
               at.side});
}

/// How far girdle and stone stand above the outside.
void measureProud(const SetStone& stone, Measures& measures) {
    const auto girdle = girdleTop(stone.outline());
    if (!girdle || stone.outline().front().empty()) return;
    const double z = stone.setting().placement.offset;
    const double mouth = geometry::outsideAt(stone.ring.design, z);
    double top = girdle->r;
    for (const geometry::Segment& s : stone.outline().front())
        top = std::max(top, geometry::rectangleRound(s).high.r);
    const auto above = [&](double height, geometry::Feature feature) {
        return geometry::Gap{
            height - mouth, {z, mouth}, {z, height}, {geometry::Feature::Outside}, {feature, stone.number}};
    };
    stone.add(measures, "girdle-proud", "Girdle against the outside",
              above(girdle->r, geometry::Feature::Girdle));
    stone.add(measures, "stone-proud", "Top of the stone against the outside",
              above(top, geometry::Feature::Crown));
}

/// Down the hole's axis from the lowest place of the stone to where the bore would be; the finger may bulge
/// into the pilot, but not further than the ring lets it.
void measureCulet(const SetStone& stone, Measures& measures) {
    const auto bore = geometry::boreAt(stone.ring.plain, stone.setting().placement.offset);
    if (stone.outline().empty() || stone.outline().front().empty() || !bore) return;
    const geometry::Loop& outline = stone.outline().front();
    const auto lowest = std::min_element(
        outline.begin(), outline.end(),
        [](const geometry::Segment& a, const geometry::Segment& b) { return a.from.r < b.from.r; });
    stone.add(measures, "culet-to-finger", "Room between stone and finger",
              {lowest->from.r - *bore,
               lowest->from,
               {lowest->from.z, *bore},
               lowest->tag,
               {geometry::Feature::Bore}});
}

/// Below its seat the stone touches nothing.
void measureRoom(const SetStone& stone, Measures& measures) {
    const auto below = geometry::segmentsWhere(
        stone.outline(), [](geometry::Tag tag) { return tag.feature == geometry::Feature::Pavilion; });
    const auto hole = geometry::segmentsWhere(stone.ring.drilled[stone.number], [](geometry::Tag tag) {
        return tag.feature == geometry::Feature::Pilot || tag.feature == geometry::Feature::HoleBottom ||
               tag.feature == geometry::Feature::Ledge;
    });
    if (!stone.setting().tube) return;  // it rests on the hole itself
    if (const auto gap = shortest(below, hole))
        stone.add(measures, "pavilion-room", "Room round the pavilion in the hole", *gap);
}

}  // namespace

void measureStones(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const design::Setting& setting = ring.design.settings[i];
        if (!setting.stone) continue;
        const SetStone stone{ring, i};
        if (setting.tube) {
            measureInTube(stone, measures);
        } else {
            measureInMetal(stone, measures);
        }
        measureRoom(stone, measures);
        measureCulet(stone, measures);
        measureProud(stone, measures);
        const auto girdle = girdleTop(stone.outline());
        measures.push_back(countOf(
            numbered("stone-hardness", i), "Hardness of the stone" + ofSetting(ring.design, i), ring.stage,
            catalogue.gem(setting.stone->gem)->mohs.value, "Mohs", girdle.value_or(geometry::Vec2{}),
            {geometry::Feature::Girdle, i}, holeAngle(ring.design, i), i));
    }
}

}  // namespace bandwright::check
