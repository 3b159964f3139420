#include <algorithm>
#include <array>
#include <cmath>

#include "scene/scene.hpp"
#include "trade/linear_rgb.hpp"

namespace bandwright::scene {

namespace {

// Ten steps of the cividis scale, sRGB 0..255: even steps of lightness, which look the same with and without
// red-green colour blindness. Nunez, Anderton and Renslow, "Optimizing colormaps with consideration for color
// vision deficiency", PLoS ONE 13(7), 2018; the steps from memory.
constexpr std::array<std::array<double, 3>, 10> kDarkToBright = {{{0, 34, 78},
                                                                  {18, 53, 112},
                                                                  {59, 73, 108},
                                                                  {87, 93, 109},
                                                                  {112, 113, 115},
                                                                  {138, 134, 120},
                                                                  {165, 156, 116},
                                                                  {195, 179, 105},
                                                                  {225, 204, 85},
                                                                  {254, 232, 56}}};

}  // namespace

trade::LinearRgb wallColour(double share) {
    const double place = (1 - std::clamp(share, 0.0, 1.0)) * (kDarkToBright.size() - 1);
    const auto below = std::min(static_cast<std::size_t>(place), kDarkToBright.size() - 2);
    const double part = place - static_cast<double>(below);
    trade::LinearRgb colour{};
    for (std::size_t i = 0; i < 3; ++i) {
        colour[i] =
            trade::srgbDecoded(std::lerp(kDarkToBright[below][i], kDarkToBright[below + 1][i], part) / 255);
    }
    return colour;
}

}  // namespace bandwright::scene
