#include <algorithm>
#include <cmath>

#include "measure.hpp"
#include "shrink_fit.hpp"
#include "stuff.hpp"

namespace bandwright::check {

namespace {

/// The outside that the band's sleeve has left where it is thinnest: the floor of the deepest channel.
double thinnestOutside(const design::Design& design) {
    double least = design::outsideRadius(design);
    for (std::size_t i = 0; i < design.channels.size(); ++i)
        least = std::min(least, geometry::channelFloor(design, i));
    return least;
}

struct Joint {
    const StagedRing& ring;
    double radius;
    geometry::Tag tag{geometry::Feature::Bore};

    /// A length across the joint.
    void addLength(Measures& measures, const char* id, const char* label, double value) const {
        measures.push_back(measureOf(
            id, label, ring.stage, {value, {0, radius}, {0, radius + value}, tag, tag}, ring.quietAngle, 0));
    }
    void add(Measures& measures, const char* id, const char* label, double value, const char* unit) const {
        measures.push_back(countOf(id, label, ring.stage, value, unit, {0, radius}, tag, ring.quietAngle, 0));
    }
};

void measurePress(const Joint& joint, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = joint.ring.design;
    const design::Liner& liner = *design.band.liner;
    const trade::Metal& inner = *catalogue.metal(liner.metal);
    const trade::Metal& outer = *catalogue.metal(design.band.metal);
    const Stuff inside = stuffOf(inner, design::Grain::Bent), outside = stuffOf(outer, design.band.grain);
    const double b = joint.radius, floor = thinnestOutside(design);
    if (floor <= b) return;  // a channel runs into the liner, and its floor says so
    const Tubing tube{design::boreRadius(design), b, inside.modulus};
    const auto against = [&](double outerRadius) {
        return pressFit(tube, {b, outerRadius, outside.modulus}, liner.interference);
    };
    joint.addLength(measures, "liner-fit", "Interference of the liner", liner.interference);
    joint.add(measures, "liner-stress", "Stress in the pressed liner",
              -against(design::outsideRadius(design)).liner / inside.strength, "of its yield");
    joint.add(measures, "sleeve-stress", "Stress in the band round the pressed liner",
              against(floor).sleeve / outside.strength, "of its yield");
    if (!outer.expansion) return;
    constexpr double kMillionth = 1e-6;
    joint.add(measures, "liner-heat", "Heat that opens the band for its liner",
              liner.interference / (kMillionth * outer.expansion->value * 2 * b), "degrees C");
}

}  // namespace

void measureLiner(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    if (!ring.design.band.liner) return;
    const Joint joint{ring, design::linerRadius(ring.design)};
    const double interference = ring.design.band.liner->interference;
    if (interference >= 0) {
        measurePress(joint, catalogue, measures);
    } else {
        joint.addLength(measures, "liner-gap", "Gap round the glued liner", -interference / 2);
    }
}

}  // namespace bandwright::check
