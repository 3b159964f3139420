#pragma once

#include <array>

namespace bandwright {

/// Linear sRGB, 0..1.
using LinearRgb = std::array<double, 3>;

}  // namespace bandwright
