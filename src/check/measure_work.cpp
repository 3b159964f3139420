#include <algorithm>
#include <array>

#include "measure.hpp"

namespace bandwright {

namespace {

void measureEdges(const StagedRing& ring, Measures& measures) {
    const Band& band = ring.design.band;
    for (const std::uint16_t side : std::array<std::uint16_t, 2>{0, 1}) {
        const auto faces = segmentsWhere(ring.plain.band, [&](Tag tag) {
            return tag == Tag{Feature::EdgeFace, side};
        });
        if (faces.empty()) continue;  // a channel runs out at the edge, and its rim says so
        const Segment& face =
            *std::max_element(faces.begin(), faces.end(),
                              [](const Segment& a, const Segment& b) { return arcLength(a) < arcLength(b); });
        const bool round = (side == 0 ? band.left : band.right).shape == EdgeShape::Round;
        const Tag beside{round ? Feature::EdgeRound : Feature::Bevel, side};
        measures.push_back(measureOf(side == 0 ? "edge-face-left" : "edge-face-right",
                                     side == 0 ? "Flat of the left edge" : "Flat of the right edge",
                                     ring.stage, {arcLength(face), face.from, face.to, face.tag, beside},
                                     ring.quietAngle, 0));
    }
}

void measureBore(const StagedRing& ring, Measures& measures) {
    const Band& band = ring.design.band;
    const double bore = boreRadius(ring.design);
    const double half = band.width / 2;
    const Vec2 corner{half, boreAt(ring.plain, half).value_or(bore)};
    const auto add = [&](const char* id, const char* label, double value, Vec2 from, Vec2 to,
                         Feature toFeature) {
        measures.push_back(measureOf(id, label, ring.stage,
                                     {value, from, to, {Feature::Bore, 0}, {toFeature, 1}}, ring.quietAngle,
                                     0));
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
void measureDrilling(const StagedRing& ring, Measures& measures) {
    const std::size_t count = ring.design.settings.size();
    for (std::size_t i = 0; i < count; ++i) {
        const Setting& setting = ring.design.settings[i];
        const double z = setting.placement.offset;
        const bool through = setting.hole.bottom == HoleBottom::Through;
        const double mouth = outsideAt(ring.design, z);
        const double depth = through ? mouth - boreAt(ring.plain, z).value_or(boreRadius(ring.design))
                                     : setting.hole.pilotDepth;
        measures.push_back(
            countOf(numbered("drill-depth", i), "Depth in diameters of the pilot" + ofSetting(ring.design, i),
                    ring.stage, depth / setting.hole.pilotDiameter, "times", {z, mouth - depth},
                    {Feature::Pilot, static_cast<std::uint16_t>(i)}, holeAngle(ring.design, i), i));
    }
}

}  // namespace

void measureWork(const StagedRing& ring, Measures& measures) {
    measureEdges(ring, measures);
    measureBore(ring, measures);
    measureDrilling(ring, measures);
}

}  // namespace bandwright
