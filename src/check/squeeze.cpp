#include "squeeze.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::check {

namespace {

constexpr double kPi = std::numbers::pi;

/// Roark's k2 of a thick ring: 1 - e/R.
double k2(const CurvedBeam& beam) {
    return 1 - beam.eccentricity() / beam.centroid;
}

}  // namespace

CurvedBeam curvedBeam(const geometry::Section& section) {
    CurvedBeam beam;
    const geometry::SectionProperties whole = geometry::properties(section);
    beam.area = whole.area;
    beam.centroid = whole.centroid.r;
    beam.neutral = whole.area / geometry::areaOverRadius(section);
    bool first = true;
    for (const geometry::Loop& loop : section) {
        for (const geometry::Segment& s : loop) {
            // An arc's own lowest and highest place, where it has them.
            for (const double side : {-2.0, 2.0}) {
                const geometry::Vec2 p =
                    s.isArc() ? geometry::nearestOn(s, s.centre + geometry::Vec2{0, side * s.radius})
                              : s.from;
                if (first || p.r < beam.innermost.r) beam.innermost = p;
                if (first || p.r > beam.outermost.r) beam.outermost = p;
                first = false;
            }
        }
    }
    return beam;
}

double squeezeStiffness(const CurvedBeam& beam, double modulus) {
    constexpr double kShearFactor = 6.0 / 5, kPoisson = 0.3;
    const double alpha = beam.eccentricity() / beam.centroid;
    const double beta = 2 * kShearFactor * (1 + kPoisson) * alpha;
    const double k1 = 1 - alpha + beta;
    // In a thick ring A e R stands for the second moment of area.
    const double secondMoment = beam.area * beam.eccentricity() * beam.centroid;
    const double cube = beam.centroid * beam.centroid * beam.centroid;
    return modulus * secondMoment / cube / (kPi * k1 / 4 - 2 * k2(beam) * k2(beam) / kPi);
}

double lobesUnderThreeJaws(const CurvedBeam& beam, double modulus) {
    constexpr double kHalf = kPi / 3;  // half the angle between two jaws
    const double s = std::sin(kHalf), c = std::cos(kHalf);
    const double under = ((kHalf + s * c) / (2 * s * s) - 1 / kHalf) / 2;
    const double between = (1 / kHalf - 1 / (2 * s) - kHalf * c / (2 * s * s)) / 2;
    const double secondMoment = beam.area * beam.eccentricity() * beam.centroid;
    const double cube = beam.centroid * beam.centroid * beam.centroid;
    return (under + between) * cube / (modulus * secondMoment);
}

SectionLoad underTheForce(const CurvedBeam& ring) {
    return {ring.centroid * k2(ring) / kPi, 0};
}

SectionLoad besideTheForce(const CurvedBeam& ring) {
    return {ring.centroid * (k2(ring) / kPi - 0.5), -0.5};
}

Concentration besideHole(double diameter, double width, double thickness) {
    const double x = std::min(diameter / width, 1.0);
    const double y = diameter / thickness;
    const double narrow = std::min(x, 0.3);
    const double wide = 1.79 + 0.25 / (0.39 + y) + 0.81 / (1 + y * y) - 0.26 / (1 + y * y * y);
    return {wide * (1 - 1.04 * narrow + 1.22 * narrow * narrow),
            3 - 3.13 * x + 3.66 * x * x - 1.53 * x * x * x};
}

double stressAt(const CurvedBeam& beam, double radius, const SectionLoad& load, const Concentration& hole) {
    const double bending = load.moment * (beam.neutral - radius) / (beam.area * beam.eccentricity() * radius);
    return hole.bending * bending + hole.tension * load.tension / beam.area;
}

}  // namespace bandwright::check
