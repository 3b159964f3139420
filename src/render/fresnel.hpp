#pragma once

#include <array>
#include <vector>

#include "trade/catalogue.hpp"

namespace bandwright::render {

/// How far a metal's reflectance falls below Schlick's curve towards the edge: F(c) = F0 + (1 - F0)(1 - c)^5
/// - dip c (1 - c)^6, with `dip` such that F is the metal's own at 82 degrees (c = cos of the angle of
/// incidence). After Hoffman, "Fresnel equations considered harmful", 2019, and the Adobe Standard Material;
/// from memory.
trade::LinearRgb edgeDip(const trade::LinearRgb& reflectance, const trade::LinearRgb& reflectance82);

/// How much of F reaches the eye from a rough surface lit evenly from everywhere, as weights of F's three
/// terms: [0] of (1 - (1 - c)^5) (times F0), [1] of (1 - c)^5, [2] of c (1 - c)^6. [0] + [1] is what a white
/// surface returns at the first bounce. Trowbridge-Reitz (GGX) facets, Smith's height-correlated masking.
struct ReflectanceTable {
    int side = 0;
    std::vector<std::array<float, 4>>
        rows;  ///< [roughness][cosine], both at the middles of their steps over 0..1
};
ReflectanceTable reflectanceTable(int side, int samples);

}  // namespace bandwright::render
