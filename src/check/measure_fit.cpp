#include "measure.hpp"
#include "trade/ring_size.hpp"

namespace bandwright::check {

namespace {

geometry::Gap radial(const design::Design& design, double value, geometry::Feature to) {
    const double bore = design::boreRadius(design);
    return {value, {0, bore}, {0, bore + value}, {geometry::Feature::Bore}, {to}};
}

/// Shops add half a US size for a band of 5 mm or more, and take off a quarter to a half for a comfort bore.
double advisedCorrection(const design::Band& band) {
    constexpr double kWide = 5;
    if (band.width < kWide) return 0;
    return band.bore.shape == design::BoreShape::Comfort ? trade::kMmPerUsSize / 8 : trade::kMmPerUsSize / 2;
}

}  // namespace

void measureFit(const StagedRing& ring, Measures& measures) {
    const design::Design& design = ring.design;
    const double lacking = advisedCorrection(design.band) - design.finger.widthCorrection;
    measures.push_back(measureOf("width-correction", "Bore against what is usual for so wide a band",
                                 ring.stage, radial(design, lacking, geometry::Feature::Bore),
                                 ring.quietAngle, 0));
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
