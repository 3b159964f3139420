#include <algorithm>
#include <cmath>
#include <string_view>

#include "measure.hpp"
#include "rules.hpp"

namespace bandwright::check {

namespace {

constexpr double kUsSize = 0.8128;  // mm of diameter, 0.032 in

geometry::Gap radial(const design::Design& design, double value, geometry::Feature to) {
    const double bore = design::boreRadius(design);
    return {value, {0, bore}, {0, bore + value}, {geometry::Feature::Bore}, {to}};
}

/// Shops add half a US size for a band of 5 mm or more, and take off a quarter to a half for a comfort bore.
double advisedCorrection(const design::Band& band) {
    constexpr double kWide = 5;
    if (band.width < kWide) return 0;
    return band.bore.shape == design::BoreShape::Comfort ? kUsSize / 8 : kUsSize / 2;
}

/// How far the bore can be opened before a wall over the finger reaches its least thickness.
void measureResize(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    const trade::Metal& metal = *catalogue.metal(design.band.metal);
    double room = design.band.thickness - metal.leastWall.value;
    geometry::Tag limiting{geometry::Feature::Outside};
    for (const Measure& m : measures) {
        if (m.stage != ring.stage || subjectOf(m) != "floor-wall") continue;
        if (m.value - metal.leastFloor.value >= room) continue;
        room = m.value - metal.leastFloor.value;
        limiting = m.fromTag;
    }
    if (design.band.liner) room = std::min(room, design.band.liner->thickness);
    room = std::max(0.0, room);  // below its least the wall has its own rule
    Measure m = measureOf("resize-room", "Room to open the bore by and by", ring.stage,
                          radial(design, room, limiting.feature), ring.quietAngle, 0);
    m.value = 2 * room / kUsSize;
    m.unit = "US sizes";
    m.toTag = limiting;
    measures.push_back(std::move(m));
}

}  // namespace

void measureFit(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    measureResize(ring, catalogue, measures);
    const double lacking = advisedCorrection(design.band) - design.finger.widthCorrection;
    measures.push_back(measureOf("width-correction", "Diameter lacking for a band so wide", ring.stage,
                                 radial(design, lacking, geometry::Feature::Bore), ring.quietAngle, 0));
    const double half = design.band.width / 2, bore = design::boreRadius(design);
    measures.push_back(measureOf("band-width", "Width of the band on the finger", ring.stage,
                                 {design.band.width,
                                  {-half, bore},
                                  {half, bore},
                                  {geometry::Feature::EdgeFace, geometry::Side::Left},
                                  {geometry::Feature::EdgeFace, geometry::Side::Right}},
                                 ring.quietAngle, 0));
}

}  // namespace bandwright::check
