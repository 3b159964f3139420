#include <gtest/gtest.h>

#include <cmath>
#include <numbers>

#include "trade/catalogue.hpp"
#include "trade/thin_film.hpp"

/// The colours of metals as the catalogue holds them, against the published optical constants they come from.
namespace bandwright::trade {
namespace {

struct Measured {
    const char* metal;
    const char* source;
    std::vector<OpticalConstants> constants;  ///< nm, n, k; from refractiveindex.info (CC0)
};

std::vector<Measured> measured() {
    return {
        {"steel-304l",
         "Karlsson and Ribbing 1982, an austenitic steel close to 316",
         {
             {400, 1.5249, 2.7925},
             {420, 1.5762, 2.924},
             {440, 1.6386, 3.0555},
             {460, 1.7169, 3.1785},
             {480, 1.7921, 3.2933},
             {500, 1.8636, 3.401},
             {520, 1.9349, 3.5072},
             {540, 2.0072, 3.6166},
             {560, 2.0807, 3.7298},
             {580, 2.1557, 3.8451},
             {600, 2.2325, 3.9594},
             {620, 2.3122, 4.0504},
             {640, 2.3962, 4.1378},
             {660, 2.4839, 4.2261},
             {680, 2.5731, 4.3155},
             {700, 2.6617, 4.4066},
         }},
        {"zirconium",
         "Querry 1987",
         {
             {400, 1.734, 2.579},
             {420, 1.836, 2.708},
             {440, 1.935, 2.817},
             {460, 2.034, 2.926},
             {480, 2.134, 3.033},
             {500, 2.245, 3.138},
             {520, 2.356, 3.228},
             {540, 2.47, 3.319},
             {560, 2.593, 3.401},
             {580, 2.731, 3.466},
             {600, 2.857, 3.503},
             {620, 2.968, 3.537},
             {640, 3.078, 3.566},
             {660, 3.179, 3.586},
             {680, 3.274, 3.603},
             {700, 3.364, 3.616},
         }},
        {"copper",
         "Johnson and Christy 1972",
         {
             {397.4, 1.32, 2.116},
             {413.3, 1.28, 2.207},
             {430.5, 1.25, 2.305},
             {450.9, 1.24, 2.397},
             {471.4, 1.25, 2.483},
             {495.9, 1.22, 2.564},
             {520.9, 1.18, 2.608},
             {548.6, 1.02, 2.577},
             {582.1, 0.7, 2.704},
             {616.8, 0.3, 3.205},
             {659.5, 0.22, 3.747},
             {704.5, 0.21, 4.205},
         }},
        {"brass",
         "Querry 1985, 70 copper and 30 zinc",
         {
             {400, 1.445, 1.805},
             {420, 1.35, 1.786},
             {440, 1.191, 1.797},
             {460, 0.994, 1.883},
             {480, 0.816, 2.046},
             {500, 0.686, 2.25},
             {520, 0.602, 2.464},
             {540, 0.549, 2.668},
             {560, 0.505, 2.86},
             {580, 0.468, 3.059},
             {600, 0.45, 3.253},
             {620, 0.449, 3.434},
             {640, 0.444, 3.609},
             {660, 0.445, 3.778},
             {680, 0.444, 3.943},
             {700, 0.446, 4.106},
         }},
        {"palladium-950",
         "Johnson and Christy 1974",
         {
             {397, 1.3, 2.93},
             {413, 1.33, 3.03},
             {431, 1.37, 3.14},
             {451, 1.41, 3.26},
             {471, 1.46, 3.39},
             {496, 1.52, 3.54},
             {521, 1.57, 3.68},
             {549, 1.64, 3.84},
             {582, 1.68, 4.02},
             {617, 1.75, 4.21},
             {659, 1.8, 4.42},
             {704, 1.86, 4.65},
         }},
        {"silver-fine",
         "Johnson and Christy 1972",
         {
             {397.4, 0.05, 2.07},
             {413.3, 0.05, 2.275},
             {430.5, 0.04, 2.462},
             {450.9, 0.04, 2.657},
             {471.4, 0.05, 2.869},
             {495.9, 0.05, 3.093},
             {520.9, 0.05, 3.324},
             {548.6, 0.06, 3.586},
             {582.1, 0.05, 3.858},
             {616.8, 0.06, 4.152},
             {659.5, 0.05, 4.483},
             {704.5, 0.04, 4.838},
         }},
    };
}

TEST(MetalColour, IsThatOfThePublishedOpticalConstantsStraightOnAndNearTheEdge) {
    const double grazing = std::cos(82 * std::numbers::pi / 180);
    for (const Measured& m : measured()) {
        const Metal& metal = *builtInCatalogue().metal(m.metal);
        const Anodising bare{m.constants, m.source};
        const LinearRgb straight = filmColour(bare, 0, 1), edge = filmColour(bare, 0, grazing);
        for (std::size_t i = 0; i < 3; ++i) {
            EXPECT_NEAR(metal.reflectance[i], straight[i], 0.006) << m.metal << ", " << m.source;
            EXPECT_NEAR(metal.reflectance82[i], edge[i], 0.015) << m.metal << ", " << m.source;
        }
    }
}

}  // namespace
}  // namespace bandwright::trade
