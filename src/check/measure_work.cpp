#include <algorithm>
#include <cmath>
#include <numbers>

#include "measure.hpp"

namespace bandwright::check {

void measureEdges(const StagedRing& ring, Measures& measures) {
    const design::Band& band = ring.piece.band;
    for (const geometry::Side side : kSides) {
        const auto faces = geometry::segmentsWhere(ring.plain.band, [&](geometry::Tag tag) {
            return tag == geometry::Tag(geometry::Feature::EdgeFace, side);
        });
        if (faces.empty()) continue;  // a channel runs out at the edge, and its rim says so
        const geometry::Segment& face = *std::max_element(
            faces.begin(), faces.end(), [](const geometry::Segment& a, const geometry::Segment& b) {
                return geometry::arcLength(a) < geometry::arcLength(b);
            });
        const bool left = side == geometry::Side::Left;
        const bool round = (left ? band.left : band.right).shape == design::EdgeShape::Round;
        const geometry::Tag beside{round ? geometry::Feature::EdgeRound : geometry::Feature::Bevel, side};
        measures.push_back(measureOf(left ? "edge-face-left" : "edge-face-right",
                                     left ? "Flat of the left edge" : "Flat of the right edge", ring.stage,
                                     {geometry::arcLength(face), face.from, face.to, face.tag, beside},
                                     ring.quietAngle, 0));
    }
}

namespace {

void measureBore(const StagedRing& ring, Measures& measures) {
    const design::Band& band = ring.design.band;
    const double bore = design::boreRadius(ring.design);
    const double half = band.width / 2;
    const geometry::Vec2 corner{half, geometry::boreAt(ring.plain, half).value_or(bore)};
    const auto add = [&](const char* id, const char* label, double value, geometry::Vec2 from,
                         geometry::Vec2 to, geometry::Feature toFeature) {
        measures.push_back(
            measureOf(id, label, ring.stage,
                      {value, from, to, {geometry::Feature::Bore}, {toFeature, geometry::Side::Right}},
                      ring.quietAngle, 0));
    };
    const double ease = band.bore.ease;
    add("bore-ease", "Radius between bore and edge", ease, corner - geometry::Vec2{ease, 0}, corner,
        geometry::Feature::Ease);
    const double sizing = ring.design.allowances.sizing;
    add("sizing-allowance", "Metal left in the bore for sizing", sizing, {0, bore - sizing}, {0, bore},
        geometry::Feature::Bore);
    add("band-thickness", "Thickness of the band on the finger", band.thickness, {0, bore},
        {0, bore + band.thickness}, geometry::Feature::Outside);
}

/// The length in mm of a drill's point: half its diameter over the tangent of half its angle.
double pointLength(design::HoleBottom bottom, double diameter) {
    const auto cone = [&](double degrees) {
        return diameter / 2 / std::tan(degrees / 2 * std::numbers::pi / 180);
    };
    switch (bottom) {
        case design::HoleBottom::Drill118:
            return cone(118);
        case design::HoleBottom::Drill135:
            return cone(135);
        case design::HoleBottom::Through:
        case design::HoleBottom::Flat:
            break;
    }
    return 0;
}

/// How deep the narrowest part of each hole is drilled, in its own diameters; a blind one to the tip of the
/// drill.
void measureDrillDepth(const StagedRing& ring, Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const design::Setting& setting = ring.design.settings[i];
        const double z = setting.placement.offset;
        const bool through = setting.hole.bottom == design::HoleBottom::Through;
        const double mouth = geometry::outsideAt(ring.piece, z);
        const double depth = through ? mouth - geometry::boreAt(ring.plain, z).value_or(ring.piece.bore)
                                     : setting.hole.pilotDepth + mouth - geometry::outsideAt(ring.design, z) +
                                           pointLength(setting.hole.bottom, setting.hole.pilotDiameter);
        measures.push_back(countOf(numbered("drill-depth", i),
                                   "Depth of the pilot" + ofSetting(ring.design, i), ring.stage,
                                   depth / setting.hole.pilotDiameter, "of its diameter", {z, mouth - depth},
                                   {geometry::Feature::Pilot, i}, holeAngle(ring.design, i), i));
    }
}

/// The steepest the outside stands under the rim of the pilot where the drill starts: across the width, and
/// round the band.
void measureDrillStart(const StagedRing& ring, Measures& measures) {
    const design::Design& design = ring.design;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        const double z = setting.placement.offset, radius = setting.hole.pilotDiameter / 2;
        const double mouth = geometry::outsideAt(design, z);
        double steepest = std::asin(std::min(1.0, radius / mouth));
        for (const double at : {z - radius, z + radius})
            steepest = std::max(steepest, geometry::outsideLeanAt(design, at));
        measures.push_back(countOf(numbered("drill-start", i),
                                   "Slope of the outside under the drill" + ofSetting(design, i), ring.stage,
                                   steepest * 180 / std::numbers::pi, "degrees", {z, mouth},
                                   {geometry::Feature::Pilot, i}, holeAngle(design, i), i));
    }
}

/// The thickest bar that leaves room for chips, a seventh of the bore on either side; ground down where none
/// of them does.
double boringBar(const trade::Tools& tools, double bore) {
    constexpr double kShare = 0.7;
    double best = 0;
    for (const double bar : tools.boringBars)
        if (bar <= kShare * 2 * bore) best = std::max(best, bar);
    return best > 0 ? best : kShare * 2 * bore;
}

/// Through the band and what is left on its faces, and 2 mm to reach past the edge.
void measureBoring(const StagedRing& ring, const trade::Tools& tools, Measures& measures) {
    constexpr double kPast = 2;
    const double bore = design::boreRadius(ring.design);
    const double reach = ring.design.band.width + 2 * ring.design.allowances.parting + kPast;
    measures.push_back(countOf("boring-reach", "Reach of the boring bar", ring.stage,
                               reach / boringBar(tools, bore), "of its diameter", {0, bore},
                               {geometry::Feature::Bore}, ring.quietAngle, 0));
}

void measureParting(const StagedRing& ring, const trade::Tools& tools, Measures& measures) {
    const design::Allowances& left = ring.design.allowances;
    const double blank = design::outsideRadius(ring.design) + left.truing + left.blankOutside;
    const double half = ring.design.band.width / 2, bore = design::boreRadius(ring.design);
    const geometry::Tag face{geometry::Feature::EdgeFace, geometry::Side::Right};
    const auto add = [&](const char* id, const char* label, double value) {
        measures.push_back(
            countOf(id, label, ring.stage, value, "of the blade", {half, bore}, face, ring.quietAngle, 0));
    };
    add("parting-blade", "Diameter of the blank to part off", 2 * blank / tools.partingBlade);
    add("parting-room", "Metal left on each face in parting", left.parting / tools.partingBlade);
}

/// A row of one hole is where it is.
void measureDividing(const StagedRing& ring, const trade::Tools& tools, Measures& measures) {
    const design::Design& design = ring.design;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const std::vector<double> angles = design::placedAngles(design.settings[i].placement);
        if (angles.size() < 2) continue;
        const double z = design.settings[i].placement.offset;
        measures.push_back(countOf(
            numbered("dividing-error", i), "Error of the dividing head's angles" + ofSetting(design, i),
            ring.stage, tools.dividing.error(angles), "degrees", {z, geometry::outsideAt(design, z)},
            {geometry::Feature::Pilot, i}, holeAngle(design, i), i));
    }
}

void measureGrooving(const StagedRing& ring, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i) {
        const design::Channel& c = ring.design.channels[i];
        const double mouth = geometry::outsideAt(ring.design, c.offset);
        measures.push_back(measureOf(numbered("channel-width", i), "Width of " + channelName(ring.design, i),
                                     ring.stage,
                                     {c.width,
                                      {c.offset - c.width / 2, mouth},
                                      {c.offset + c.width / 2, mouth},
                                      {geometry::Feature::ChannelSide, i, geometry::Side::Left},
                                      {geometry::Feature::ChannelSide, i, geometry::Side::Right}},
                                     ring.quietAngle, i));
    }
}

}  // namespace

void measureDrilling(const StagedRing& ring, Measures& measures) {
    measureDrillDepth(ring, measures);
    measureDrillStart(ring, measures);
}

/// The length of bore that bears on a mandrel: what lies within a fiftieth of a millimetre of the narrowest
/// place.
void measureHolding(const StagedRing& ring, Measures& measures) {
    constexpr double kBears = 0.02;
    const auto bears = geometry::narrowBore(ring.plain, kBears);
    const geometry::Vec2 none{0, ring.piece.bore};
    geometry::Vec2 left = bears ? bears->left : none;
    geometry::Vec2 right = bears ? bears->right : none;
    left.r = right.r = std::min(left.r, right.r);  // it bears along the mandrel
    measures.push_back(
        measureOf("mandrel-grip", "Bore that bears on a mandrel", ring.stage,
                  {right.z - left.z, left, right, {geometry::Feature::Bore}, {geometry::Feature::Bore}},
                  ring.quietAngle, 0));
}

void measureWork(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    measureBore(ring, measures);
    measureBoring(ring, catalogue.tools, measures);
    measureParting(ring, catalogue.tools, measures);
    measureDividing(ring, catalogue.tools, measures);
    measureGrooving(ring, measures);
}

}  // namespace bandwright::check
