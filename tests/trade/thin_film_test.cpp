#include "trade/thin_film.hpp"

#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <numbers>

#include "trade/catalogue.hpp"

namespace bandwright::trade {
namespace {

using Complex = std::complex<double>;
using Matrix = std::array<Complex, 4>;

// The characteristic matrix of a layer (Macleod, Thin-Film Optical Filters, chapter 2), another way to the
// same reflectance: with B and C from the film's matrix times (1, y of the substrate), r = (y0 B - C) / (y0 B
// + C).
double byMatrix(double cosine, double thickness, double wavelength, double oxide, Complex substrate) {
    const double sine2 = 1 - cosine * cosine;
    const auto cosineIn = [&](Complex index) { return std::sqrt(1.0 - sine2 / (index * index)); };
    double sum = 0;
    for (const bool parallel : {false, true}) {
        const auto admittance = [&](Complex index) {
            return parallel ? index / cosineIn(index) : index * cosineIn(index);
        };
        const Complex phase = 2 * std::numbers::pi * thickness / wavelength * oxide * cosineIn(oxide);
        const Complex y = admittance(oxide), ys = admittance(substrate), y0 = admittance(1.0), j(0, 1);
        // exp(-i w t) as n + ik asks for.
        const Matrix m = {std::cos(phase), -j * std::sin(phase) / y, -j * y * std::sin(phase),
                          std::cos(phase)};
        const Complex b = m[0] + m[1] * ys, c = m[2] + m[3] * ys;
        sum += std::norm((y0 * b - c) / (y0 * b + c));
    }
    return sum / 2;
}

TEST(ThinFilm, AgreesWithTheCharacteristicMatrixAtEveryAngleAndThickness) {
    for (const double cosine : {1.0, 0.8, 0.5, 0.2, 0.03}) {
        for (const double thickness : {0.0, 10.0, 57.0, 130.0, 300.0}) {
            for (const double wavelength : {420.0, 550.0, 690.0}) {
                EXPECT_NEAR(filmReflectance(cosine, thickness, wavelength, 2.4, {2.54, 3.43}),
                            byMatrix(cosine, thickness, wavelength, 2.4, {2.54, 3.43}), 1e-12)
                    << cosine << ' ' << thickness << ' ' << wavelength;
            }
        }
    }
}

TEST(ThinFilm, HalfAWaveOfOxideIsNotThereAndAQuarterOnGlassReflectsAsTheTextbookSays) {
    // Hecht, Optics, 9.7: half-wave films leave the reflectance as it is; a quarter wave gives
    // ((n0 ns - n1^2) / (n0 ns + n1^2))^2.
    EXPECT_NEAR(filmReflectance(1, 550 / (2 * 2.4), 550, 2.4, 1.5), std::pow(0.5 / 2.5, 2), 1e-12);
    const double n2 = 1.38 * 1.38;
    EXPECT_NEAR(filmReflectance(1, 550 / (4 * 1.38), 550, 1.38, 1.52), std::pow((1.52 - n2) / (1.52 + n2), 2),
                1e-12);
}

TEST(ThinFilm, ABareSurfaceIsFresnels) {
    EXPECT_NEAR(surfaceReflectance(1, 2.4175), std::pow(1.4175 / 3.4175, 2), 1e-12);
    EXPECT_NEAR(surfaceReflectance(1e-6, 1.5), 1, 1e-4);
    // Brewster's angle: only one polarisation comes back, ((n^2 - 1) / (n^2 + 1))^2 of it.
    const double n = 1.5;
    EXPECT_NEAR(surfaceReflectance(1 / std::sqrt(1 + n * n), n), std::pow((n * n - 1) / (n * n + 1), 2) / 2,
                1e-12);
}

TEST(ThinFilm, BareTitaniumHasItsPublishedColour) {
    // From the same n and k by another program (linear sRGB under D65): .618 .580 .543.
    const Anodising titanium = *builtInCatalogue().metal("titanium-grade-2")->anodising;
    const LinearRgb bare = filmColour(titanium, 0, 1);
    EXPECT_NEAR(bare[0], 0.618, 0.01);
    EXPECT_NEAR(bare[1], 0.580, 0.01);
    EXPECT_NEAR(bare[2], 0.543, 0.01);
}

TEST(ThinFilm, AnodisedTitaniumRunsThroughItsKnownColoursInTheirOrder) {
    // The bench's order as the voltage rises: straw or bronze, blue, pale blue, yellow, pink, blue-green
    // (common practice; any anodiser's chart).
    const Anodising titanium = *builtInCatalogue().metal("titanium-grade-2")->anodising;
    const auto at = [&](double nm) { return filmColour(titanium, nm, 1); };
    const LinearRgb bronze = at(30), blue = at(50), yellow = at(110), pink = at(140), teal = at(180);
    EXPECT_GT(bronze[0], 1.5 * bronze[1]);
    EXPECT_GT(bronze[1], 2 * bronze[2]);
    EXPECT_GT(blue[2], 2 * blue[1]);
    EXPECT_GT(blue[2], 4 * blue[0]);
    EXPECT_GT(yellow[0], 2 * yellow[2]);
    EXPECT_GT(yellow[1], 2 * yellow[2]);
    EXPECT_GT(pink[0], 1.5 * pink[1]);
    EXPECT_GT(pink[2], pink[1]);
    EXPECT_GT(teal[1], 2 * teal[0]);
    EXPECT_GT(teal[2], 2 * teal[0]);
}

}  // namespace
}  // namespace bandwright::trade
