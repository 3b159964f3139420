#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <boost/math/quadrature/tanh_sinh.hpp>
#include <cmath>
#include <numbers>
#include <string>

#include "hole_cut.hpp"
#include "revolve.hpp"

namespace bandwright::geometry {
namespace {

/// Volume common to two round bars whose axes meet at right angles, a no wider than b: J. H. Hubbell, "Common
/// volume of two intersecting cylinders", J. Res. NBS 69C (1965). Of equal bars it is Archimedes' 16 r^3 / 3.
double commonVolume(double a, double b) {
    const double k = a / b;
    return 8.0 / 3 * b *
           ((b * b + a * a) * std::comp_ellint_2(k) - (a < b ? (b * b - a * a) * std::comp_ellint_1(k) : 0));
}

Section tube(double bore, double outside, double width) {
    const double half = width / 2;
    return {{line({-half, bore}, {half, bore}, {Feature::Bore}),
             line({half, bore}, {half, outside}, {Feature::EdgeFace, Side::Right}),
             line({half, outside}, {-half, outside}, {Feature::Outside}),
             line({-half, outside}, {-half, bore}, {Feature::EdgeFace, Side::Left})}};
}

HoleProfile straightHole(double radius, double reach) {
    return {.offset = 0, .pieces = {{0, radius, reach, radius, {Feature::Pilot, 0}}}};
}

TEST(HoleVolume, OfARoundHoleThroughATubeIsThePublishedOne) {
    EXPECT_DOUBLE_EQ(commonVolume(3, 3), 16.0 / 3 * 27);
    for (const double bore : {6.0, 8.6, 11.0}) {
        for (const double radius : {0.25, 1.0, 2.5, 5.9, 6.0}) {
            const double outside = bore + 2.2;
            // The hole goes through one wall only.
            const double wanted = (commonVolume(radius, outside) - commonVolume(radius, bore)) / 2;
            EXPECT_NEAR(-changeByHole(tube(bore, outside, 20), straightHole(radius, 20)).volume, wanted,
                        5e-9 * wanted);
        }
    }
}

TEST(HoleVolume, OfMeshesComesFourTimesNearerWithAFourthOfTheTolerance) {
    const double bore = 6;
    const double outside = 8.2;
    const double width = 16;
    for (const double radius : {1.0, 3.0, 6.0}) {
        SCOPED_TRACE(radius);
        const double removed = (commonVolume(radius, outside) - commonVolume(radius, bore)) / 2;
        const double whole = std::numbers::pi * (outside * outside - bore * bore) * width;
        const HoleRow holes{straightHole(radius, 20), {0.5}};
        std::array<double, 4> off{};
        double tolerance = 0.032;
        for (double& error : off) {
            const Mesh mesh = revolved(tube(bore, outside, width), std::array{holes}, tolerance);
            ASSERT_EQ(defects(mesh), MeshDefects{});
            error = std::abs(volume(mesh) - (whole - removed));
            EXPECT_LT(error, 2.0 / 3 * 1.01 * tolerance * area(mesh));
            tolerance /= 4;
        }
        for (std::size_t i = 0; i + 1 < off.size(); ++i)
            EXPECT_NEAR(off[i] / off[i + 1], 4, 0.6);
    }
}

double radiusAtHeight(const HoleProfile& hole, double x) {
    for (const HolePiece& p : hole.pieces) {
        if (x >= p.x0 && x < p.x1) return p.radius0 + (x - p.x0) / (p.x1 - p.x0) * (p.radius1 - p.radius0);
    }
    return 0;
}

/// A band with flat outside and bore and bevels of equal legs, as its reach across at a distance from the
/// axis.
struct BevelledBand {
    double bore, outside, width, bevel;

    double halfWidth(double r) const {
        return r < bore || r > outside ? 0 : width / 2 - std::max(0.0, r - (outside - bevel));
    }
    Section section() const {
        const double half = width / 2;
        const double shoulder = outside - bevel;
        return {{line({-half, bore}, {half, bore}, {Feature::Bore}),
                 line({half, bore}, {half, shoulder}, {Feature::EdgeFace, Side::Right}),
                 line({half, shoulder}, {half - bevel, outside}, {Feature::Bevel, Side::Right}),
                 line({half - bevel, outside}, {bevel - half, outside}, {Feature::Outside}),
                 line({bevel - half, outside}, {-half, shoulder}, {Feature::Bevel, Side::Left}),
                 line({-half, shoulder}, {-half, bore}, {Feature::EdgeFace, Side::Left})}};
    }
};

/// The same volume added up the other way: slices across the hole's axis, in each of them chords along the
/// ring's axis, by Boost's double exponential quadrature between the places where a chord's ends change
/// surface.
double removedBySlices(const BevelledBand& band, const HoleProfile& hole) {
    boost::math::quadrature::tanh_sinh<double> rule(9);
    const double shoulder = band.outside - band.bevel;
    const auto between = [&](std::vector<double> stops, auto&& f) {
        std::sort(stops.begin(), stops.end());
        double sum = 0;
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            if (stops[i + 1] - stops[i] > 1e-12) sum += rule.integrate(f, stops[i], stops[i + 1], 1e-10);
        }
        return sum;
    };
    const auto slice = [&](double x) {
        const double radius = radiusAtHeight(hole, x);
        if (radius <= 0) return 0.0;
        std::vector<double> stops = {0, radius};
        const auto addStop = [&](double square) {
            if (square > 0 && square < radius * radius) stops.push_back(std::sqrt(square));
        };
        for (const double r : {band.bore, shoulder, band.outside})
            addStop(r * r - x * x);
        for (const double side : {-1.0, 1.0}) {
            const double reach = band.width / 2 + side * hole.offset;
            addStop(radius * radius - reach * reach);
            // Where the circle of the hole crosses the bevel, by halving.
            const auto over = [&](double y) {
                return std::sqrt(std::max(0.0, radius * radius - y * y)) - side * hole.offset -
                       band.halfWidth(std::hypot(x, y));
            };
            double low = std::sqrt(std::max(0.0, shoulder * shoulder - x * x));
            double high =
                std::min(radius, std::sqrt(std::max(0.0, band.outside * band.outside - x * x)) - 1e-13);
            if (low >= high || (over(low) > 0) == (over(high) > 0)) continue;
            const bool first = over(low) > 0;
            for (int i = 0; i < 100; ++i)
                ((over((low + high) / 2) > 0) == first ? low : high) = (low + high) / 2;
            stops.push_back(low);
        }
        return 2 * between(stops, [&](double y) {
                   const double half = band.halfWidth(std::hypot(x, y));
                   const double chord = std::sqrt(std::max(0.0, radius * radius - y * y));
                   return std::max(
                       0.0, std::min(half, hole.offset + chord) - std::max(-half, hole.offset - chord));
               });
    };
    // Steps and cones change the slice; between them it is smooth enough in short stretches.
    std::vector<double> heights;
    for (const HolePiece& p : hole.pieces) {
        heights.push_back(std::min(p.x0, band.outside));
        heights.push_back(std::min(p.x1, band.outside));
        for (const double r : {band.bore, shoulder, band.outside})
            heights.push_back(std::sqrt(std::max(0.0, r * r - p.radius1 * p.radius1)));
    }
    heights.insert(heights.end(), {band.bore, shoulder});
    std::erase_if(heights, [&](double x) { return x < hole.pieces.front().x0 || x > band.outside; });
    return between(heights, slice);
}

HoleProfile steppedHole(design::HoleBottom bottom, double offset, double outside) {
    design::Hole hole;
    hole.pilotDiameter = 1.6;
    hole.bottom = bottom;
    hole.pilotDepth = 1.7;
    hole.steps = {{2.4, 1.1}, {3, 0.8}};
    hole.countersink = 0.5;
    return holeProfile(hole, offset, outside, outside + 1, 0);
}

TEST(HoleVolume, OfSteppedAndPointedHolesIsThatOfASumOfSlices) {
    const BevelledBand band{8.6, 10.8, 7, 0.9};
    for (const design::HoleBottom bottom : {design::HoleBottom::Through, design::HoleBottom::Flat,
                                            design::HoleBottom::Drill118, design::HoleBottom::Drill135}) {
        for (const double offset : {0.0, 0.8, 1.9, 2.6, 3.4}) {
            SCOPED_TRACE(std::to_string(static_cast<int>(bottom)) + " at " + std::to_string(offset));
            const HoleProfile hole = steppedHole(bottom, offset, band.outside);
            const double wanted = removedBySlices(band, hole);
            EXPECT_NEAR(-changeByHole(band.section(), hole).volume, wanted, 3e-7 * wanted);
        }
    }
}

}  // namespace
}  // namespace bandwright::geometry
