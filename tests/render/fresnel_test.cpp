#include "fresnel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

namespace bandwright::render {
namespace {

double curve(double reflectance, double dip, double cosine) {
    return reflectance + (1 - reflectance) * std::pow(1 - cosine, 5) - dip * cosine * std::pow(1 - cosine, 6);
}

TEST(EdgeDip, MakesTheCurvePassThroughTheReflectanceAt82Degrees) {
    // Titanium from measured n and k (Johnson and Christy 1974): .618 .580 .543 straight on, .61 .62 .62 at
    // 82 degrees, where Schlick's curve is .80 .78 .76.
    const trade::LinearRgb f0 = {.618, .580, .543}, f82 = {.61, .62, .62}, dip = edgeDip(f0, f82);
    const double cosine = std::cos(82 * std::numbers::pi / 180);
    for (std::size_t i = 0; i < 3; ++i) {
        EXPECT_NEAR(curve(f0[i], dip[i], cosine), f82[i], 1e-12);
        EXPECT_NEAR(curve(f0[i], dip[i], 1), f0[i], 1e-12);
        EXPECT_NEAR(curve(f0[i], dip[i], 0), 1, 1e-12);
    }
    EXPECT_NEAR(curve(f0[0], 0, cosine), .80, .01);
}

// Chance that light leaves a rough white surface at the first bounce, by summing the reflected lobe over the
// directions of light: D G2 / (4 cos cos) with Smith's height-correlated masking (Heitz, JCGT 3(2), 2014).
double firstBounce(double cosEye, double alpha) {
    constexpr int kSteps = 1500;
    const double a2 = alpha * alpha, sinEye = std::sqrt(1 - cosEye * cosEye);
    const auto lambda = [&](double c) { return (std::sqrt(1 + a2 * (1 - c * c) / (c * c)) - 1) / 2; };
    double sum = 0;
    for (int i = 0; i < kSteps; ++i) {
        const double c = (i + 0.5) / kSteps, s = std::sqrt(1 - c * c);
        for (int j = 0; j < kSteps; ++j) {
            const double turn = (j + 0.5) / kSteps * 2 * std::numbers::pi;
            const double x = sinEye + s * std::cos(turn), y = s * std::sin(turn), z = cosEye + c;
            const double facet = z / std::sqrt(x * x + y * y + z * z), spread = facet * facet * (a2 - 1) + 1;
            const double d = a2 / (std::numbers::pi * spread * spread);
            sum += d / (1 + lambda(cosEye) + lambda(c)) / (4 * cosEye * c) * c;
        }
    }
    return sum * 2 * std::numbers::pi / kSteps / kSteps;
}

TEST(ReflectanceTable, HoldsWhatARoughWhiteSurfaceReturnsAtTheFirstBounce) {
    constexpr int kSide = 16;
    const ReflectanceTable table = reflectanceTable(kSide, 1024);
    for (const int row : {8, 11, 15}) {
        for (const int column : {3, 8, 15}) {
            const double roughness = (row + 0.5) / kSide, cosine = (column + 0.5) / kSide;
            const auto& shares = table.rows[static_cast<std::size_t>(row * kSide + column)];
            EXPECT_NEAR(static_cast<double>(shares[0] + shares[1]),
                        firstBounce(cosine, roughness * roughness), 0.01)
                << "roughness " << roughness << ", cosine " << cosine;
        }
    }
}

TEST(ReflectanceTable, OfASmoothSurfaceIsFresnelsCurveItself) {
    constexpr int kSide = 16;
    const ReflectanceTable table = reflectanceTable(kSide, 1024);
    for (const int column : {4, 8, 15}) {
        const double cosine = (column + 0.5) / kSide;
        const auto& shares = table.rows[static_cast<std::size_t>(column)];
        EXPECT_NEAR(static_cast<double>(shares[1]), std::pow(1 - cosine, 5), 2e-3);
        EXPECT_NEAR(static_cast<double>(shares[2]), cosine * std::pow(1 - cosine, 6), 2e-3);
    }
}

}  // namespace
}  // namespace bandwright::render
