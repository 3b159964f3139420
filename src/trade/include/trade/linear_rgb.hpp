#pragma once

#include <array>

namespace bandwright::trade {

/// Linear sRGB, 0..1.
using LinearRgb = std::array<double, 3>;

/// Between linear light and the encoding of sRGB (IEC 61966-2-1), both 0..1.
double srgbEncoded(double linear);
double srgbDecoded(double encoded);

}  // namespace bandwright::trade
