#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "geometry/section.hpp"
#include "plain_ring.hpp"
#include "squeeze.hpp"

namespace bandwright::check {
namespace {

constexpr double kPi = std::numbers::pi;

/// A rectangle this wide along the axis, from one radius to the other.
geometry::Section rectangle(double width, double inner, double outer) {
    const double h = width / 2;
    const geometry::Tag tag{geometry::Feature::Outside};
    return {{geometry::line({-h, inner}, {h, inner}, tag), geometry::line({h, inner}, {h, outer}, tag),
             geometry::line({h, outer}, {-h, outer}, tag), geometry::line({-h, outer}, {-h, inner}, tag)}};
}

TEST(AreaOverRadius, OfARectangleAndOfACircleAreThoseOfTheHandbook) {
    EXPECT_NEAR(geometry::areaOverRadius(rectangle(3, 9, 11.5)), 3 * std::log(11.5 / 9), 1e-12);
    // Timoshenko, Strength of Materials, Part II, curved bars: 2 pi (R - sqrt(R R - a a)) for a circle.
    const geometry::Tag tag{geometry::Feature::Outside};
    const double a = 2, R = 7;
    const geometry::Loop circle{geometry::arcBySagitta({-a, R}, {a, R}, a, tag),
                                geometry::arcBySagitta({a, R}, {-a, R}, a, tag)};
    EXPECT_NEAR(geometry::areaOverRadius({circle}), 2 * kPi * (R - std::sqrt(R * R - a * a)), 1e-8);
}

TEST(Squeeze, OfAThinRingIsThatOfTheHandbook) {
    // Roark's Formulas for Stress and Strain, circular rings, case 1, thin: moments 0.3183 W R under the
    // force and -0.1817 W R beside it, deflection 0.1488 W R^3 / (E I).
    const double R = 1000, width = 2, thickness = 0.2, modulus = 2e5;
    const CurvedBeam ring = curvedBeam(rectangle(width, R - thickness / 2, R + thickness / 2));
    EXPECT_NEAR(underTheForce(ring).moment / R, 0.3183, 1e-4);
    EXPECT_NEAR(besideTheForce(ring).moment / R, -0.1817, 1e-4);
    const double bending = modulus * width * std::pow(thickness, 3) / 12 / std::pow(R, 3);
    EXPECT_NEAR(bending / squeezeStiffness(ring, modulus), 0.1488, 1e-4);
}

TEST(Squeeze, OfThreeJawsIsThatOfTheHandbook) {
    // Roark, circular rings, case 7, and Timoshenko, Strength of Materials, Part II: under each of three
    // loads 0.0159 W R^3 / (E I) in, between them 0.0143 out.
    const double R = 1000, width = 2, thickness = 0.2, modulus = 2e5;
    const CurvedBeam ring = curvedBeam(rectangle(width, R - thickness / 2, R + thickness / 2));
    const double bending = modulus * width * std::pow(thickness, 3) / 12 / std::pow(R, 3);
    EXPECT_NEAR(bending * lobesUnderThreeJaws(ring, modulus), 0.0159 + 0.0143, 1e-4);
}

/// The ring solved anew from the strain energy of a curved bar (Timoshenko, Strength of Materials, Part II:
/// dU = (M M / (2 A E e) + N N R / (2 A E) - M N / (A E) + F V V R / (2 A G)) d theta), with the moment that
/// no equation of equilibrium gives taken where the energy is least, by sums over a quarter.
struct BySums {
    double momentBeside = 0, deflection = 0;  ///< for 1 N

    BySums(double width, double inner, double outer, double modulus) {
        const double A = width * (outer - inner), R = (inner + outer) / 2;
        const double e = R - (outer - inner) / std::log(outer / inner);
        const double shear = modulus / (2 * (1 + 0.3));
        const auto energy = [&](double moment) {
            constexpr int kSteps = 20000;
            double sum = 0;
            for (int i = 0; i < kSteps; ++i) {
                const double theta = (i + 0.5) * kPi / 2 / kSteps;
                const double N = -std::cos(theta) / 2, V = std::sin(theta) / 2;
                const double M = moment + R / 2 * (1 - std::cos(theta));
                sum += M * M / (2 * A * modulus * e) + N * N * R / (2 * A * modulus) - M * N / (A * modulus) +
                       1.2 * V * V * R / (2 * A * shear);
            }
            return 4 * sum * kPi / 2 / kSteps;
        };
        // The energy is a parabola in the moment.
        const double low = energy(-R), middle = energy(0), high = energy(R);
        momentBeside = R * (low - high) / (2 * (low + high - 2 * middle));
        deflection = 2 * energy(momentBeside);  // Clapeyron: the work of 1 N is half the deflection
    }
};

TEST(Squeeze, OfAThickRingIsThatOfLeastEnergy) {
    for (const double outer : {10.5, 12.0, 15.0}) {
        const CurvedBeam ring = curvedBeam(rectangle(6, 9, outer));
        const BySums sums(6, 9, outer, 1e5);
        EXPECT_NEAR(besideTheForce(ring).moment, sums.momentBeside, 1e-6 * ring.centroid) << outer;
        EXPECT_NEAR(1 / squeezeStiffness(ring, 1e5), sums.deflection, 1e-6 * sums.deflection) << outer;
    }
}

TEST(Squeeze, StressesAreThoseOfTheCurvedBarsTable) {
    // Factors on M c / I at the inside and the outside of a rectangle (Wilson and Quereau 1927, reprinted in
    // handbooks; from memory): R/c 2: 1.52, 0.73; 4: 1.20, 0.85.
    struct Row {
        double ratio, inside, outside;
    };
    for (const Row& row : {Row{2, 1.52, 0.73}, Row{4, 1.20, 0.85}}) {
        const double c = 1, R = row.ratio * c;
        const CurvedBeam beam = curvedBeam(rectangle(3, R - c, R + c));
        const double straight = c / (3 * std::pow(2 * c, 3) / 12);
        EXPECT_NEAR(stressAt(beam, R - c, {1, 0}, {}) / straight, row.inside, 0.01);
        EXPECT_NEAR(-stressAt(beam, R + c, {1, 0}, {}) / straight, row.outside, 0.01);
    }
}

TEST(Squeeze, HolesConcentrateStressAsTheTheoriesSay) {
    // Howland 1930, tension, on the whole section, by the hole's diameter over the width.
    struct Row {
        double share, factor;
    };
    for (const Row& row : {Row{0.1, 3.03}, Row{0.2, 3.14}, Row{0.3, 3.36}, Row{0.4, 3.74}, Row{0.5, 4.32}})
        EXPECT_NEAR(besideHole(row.share, 1, 1).tension / (1 - row.share), row.factor, 0.01 * row.factor);
    // Bending, in a wide plate: (5 + 3 nu) / (3 + nu) when it is thin (Goodier 1936), 3 when it is thick.
    EXPECT_NEAR(besideHole(1, 1e4, 1e-3).bending, (5 + 3 * 0.3) / (3 + 0.3), 0.01);
    EXPECT_NEAR(besideHole(1e-3, 1e4, 1).bending, 3, 0.03);
}

double yieldOf(const design::Design& design) {
    return valueOf(checked(design), "first-yield");
}

TEST(Strength, OfAPlainBandIsThatOfItsRectangle) {
    const design::Design design = plainRing();  // 10 to 12.4 mm, 8 mm wide
    const double t = 2.4, neutral = t / std::log(12.4 / 10), R = 11.2, e = R - neutral;
    const double moment = (R - e) / kPi;
    const double stress = moment * (neutral - 10) / (8 * t * e * 10);
    const trade::Metal& metal = *trade::builtInCatalogue().metal(design.band.metal);
    EXPECT_NEAR(yieldOf(design), metal.yieldStrength.value / stress, 1e-6);
}

TEST(Strength, FallsWithEveryChannelAndHole) {
    design::Design design = plainRing();
    const double plain = yieldOf(design);
    design.channels = {channel(0, 4, 1)};
    const double channelled = yieldOf(design);
    EXPECT_LT(channelled, plain);
    EXPECT_NEAR(valueOf(checked(design), "stiffness") / valueOf(checked(plainRing()), "stiffness"),
                channelled / plain, 0.35);
    design.settings = {bareHole(0, 2, 4.5, 1.4)};
    EXPECT_LT(yieldOf(design), channelled);
    // A small hole brings the stress factor beside it but takes hardly any section.
    design = plainRing();
    design.settings = {bareHole(0, 0.4, 0.41, 1)};
    EXPECT_NEAR(yieldOf(design) * besideHole(0.4, 8, 2.4).bending / plain, 1, 0.06);
}

// Black walnut: 6.96 MPa across the grain, 100.7 along it (suppliers' sheets and the Wood Handbook).
TEST(Strength, OfWoodFromAPlankIsThatAcrossTheGrain) {
    design::Design design = plainRing();
    design.band.metal = "walnut";
    const double plank = yieldOf(design);
    design.band.grain = design::Grain::Bent;
    EXPECT_NEAR(plank / yieldOf(design), 6.96 / 100.7, 1e-9);
    design.band.metal = "titanium-grade-5";
    const double metal = yieldOf(design);
    design.band.grain = design::Grain::Plank;
    EXPECT_EQ(yieldOf(design), metal);
}

TEST(Strength, OfALinerAddsToThatOfTheBandUnlessItIsPierced) {
    design::Design design = plainRing();
    const double whole = valueOf(checked(design), "stiffness");
    design.band.liner = design::Liner{"titanium-grade-5", 1.2};
    // Two rings of half the thickness side by side: a quarter of the one, about.
    const double two = valueOf(checked(design), "stiffness");
    EXPECT_NEAR(two / whole, 0.25, 0.02);
    const CurvedBeam inner = curvedBeam(rectangle(8, 10, 11.2)), outer = curvedBeam(rectangle(8, 11.2, 12.4));
    EXPECT_NEAR(two, squeezeStiffness(inner, 114e3) + squeezeStiffness(outer, 114e3), 1e-6);
    design.settings = {bareHole(0, 0.4, 0.41, 1)};
    EXPECT_NEAR(valueOf(checked(design), "stiffness"), squeezeStiffness(outer, 114e3), 1e-6);
}

}  // namespace
}  // namespace bandwright::check
