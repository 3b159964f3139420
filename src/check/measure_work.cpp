#include <algorithm>
#include <cmath>
#include <numbers>

#include "measure.hpp"

namespace bandwright {

void measureEdges(const StagedRing& ring, Measures& measures) {
    const Band& band = ring.piece.band;
    for (const Side side : kSides) {
        const auto faces =
            segmentsWhere(ring.plain.band, [&](Tag tag) { return tag == Tag(Feature::EdgeFace, side); });
        if (faces.empty()) continue;  // a channel runs out at the edge, and its rim says so
        const Segment& face =
            *std::max_element(faces.begin(), faces.end(),
                              [](const Segment& a, const Segment& b) { return arcLength(a) < arcLength(b); });
        const bool left = side == Side::Left;
        const bool round = (left ? band.left : band.right).shape == EdgeShape::Round;
        const Tag beside{round ? Feature::EdgeRound : Feature::Bevel, side};
        measures.push_back(measureOf(left ? "edge-face-left" : "edge-face-right",
                                     left ? "Flat of the left edge" : "Flat of the right edge", ring.stage,
                                     {arcLength(face), face.from, face.to, face.tag, beside}, ring.quietAngle,
                                     0));
    }
}

namespace {

void measureBore(const StagedRing& ring, Measures& measures) {
    const Band& band = ring.design.band;
    const double bore = boreRadius(ring.design);
    const double half = band.width / 2;
    const Vec2 corner{half, boreAt(ring.plain, half).value_or(bore)};
    const auto add = [&](const char* id, const char* label, double value, Vec2 from, Vec2 to,
                         Feature toFeature) {
        measures.push_back(measureOf(id, label, ring.stage,
                                     {value, from, to, {Feature::Bore}, {toFeature, Side::Right}},
                                     ring.quietAngle, 0));
    };
    const double ease = band.bore.ease;
    add("bore-ease", "Ease between bore and edge", ease, corner - Vec2{ease, 0}, corner, Feature::Ease);
    const double sizing = ring.design.allowances.sizing;
    add("sizing-allowance", "Left in the bore for sizing", sizing, {0, bore - sizing}, {0, bore},
        Feature::Bore);
    add("band-thickness", "Thickness of the band on the finger", band.thickness, {0, bore},
        {0, bore + band.thickness}, Feature::Outside);
}

/// How deep the narrowest part of each hole is drilled, in its own diameters.
void measureDrillDepth(const StagedRing& ring, Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Setting& setting = ring.design.settings[i];
        const double z = setting.placement.offset;
        const bool through = setting.hole.bottom == HoleBottom::Through;
        const double mouth = outsideAt(ring.piece, z);
        const double depth = through ? mouth - boreAt(ring.plain, z).value_or(ring.piece.bore)
                                     : setting.hole.pilotDepth + mouth - outsideAt(ring.design, z);
        measures.push_back(countOf(numbered("drill-depth", i),
                                   "Depth in diameters of the pilot" + ofSetting(ring.design, i), ring.stage,
                                   depth / setting.hole.pilotDiameter, "times", {z, mouth - depth},
                                   {Feature::Pilot, i}, holeAngle(ring.design, i), i));
    }
}

/// The steepest the outside stands under the rim of the pilot where the drill starts: across the width, and
/// round the band.
void measureDrillStart(const StagedRing& ring, Measures& measures) {
    const Design& design = ring.design;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const Setting& setting = design.settings[i];
        const double z = setting.placement.offset, radius = setting.hole.pilotDiameter / 2;
        const double mouth = outsideAt(design, z);
        double steepest = std::asin(std::min(1.0, radius / mouth));
        for (const double at : {z - radius, z + radius})
            steepest = std::max(steepest, outsideLeanAt(design, at));
        measures.push_back(countOf(numbered("drill-start", i),
                                   "Slope under the drill's rim" + ofSetting(design, i), ring.stage,
                                   steepest * 180 / std::numbers::pi, "degrees", {z, mouth},
                                   {Feature::Pilot, i}, holeAngle(design, i), i));
    }
}

/// A bar seven tenths of the bore thick, which leaves room for chips, and 2 mm to reach past the edge.
void measureBoring(const StagedRing& ring, Measures& measures) {
    constexpr double kBar = 0.7, kPast = 2;
    const double bore = boreRadius(ring.design);
    measures.push_back(countOf("boring-reach", "Reach of the boring bar in its diameters", ring.stage,
                               (ring.design.band.width + kPast) / (kBar * 2 * bore), "times", {0, bore},
                               {Feature::Bore}, ring.quietAngle, 0));
}

void measureGrooving(const StagedRing& ring, Measures& measures) {
    for (std::size_t i = 0; i < ring.design.channels.size(); ++i) {
        const Channel& c = ring.design.channels[i];
        const double mouth = outsideAt(ring.design, c.offset);
        measures.push_back(measureOf(numbered("channel-width", i), "Width of " + channelName(ring.design, i),
                                     ring.stage,
                                     {c.width,
                                      {c.offset - c.width / 2, mouth},
                                      {c.offset + c.width / 2, mouth},
                                      {Feature::ChannelSide, i, Side::Left},
                                      {Feature::ChannelSide, i, Side::Right}},
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
    const auto bears = narrowBore(ring.plain, kBears);
    const Vec2 none{0, ring.piece.bore};
    const Vec2 left = bears ? bears->left : none;
    const Vec2 right = bears ? bears->right : none;
    measures.push_back(measureOf("mandrel-grip", "Bore that bears on a mandrel", ring.stage,
                                 {right.z - left.z, left, right, {Feature::Bore}, {Feature::Bore}},
                                 ring.quietAngle, 0));
}

void measureWork(const StagedRing& ring, Measures& measures) {
    measureBore(ring, measures);
    measureBoring(ring, measures);
    measureGrooving(ring, measures);
}

}  // namespace bandwright
