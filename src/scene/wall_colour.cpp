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

// Seven steps from blue over grey to red, which are told apart with and without red-green colour blindness,
// as are blue and red in Brewer, "Color Use Guidelines for Data Representation", Proceedings of the Section
// on Statistical Graphics, American Statistical Association, 1999. The middle is darker, so that light and
// shade show on it.
constexpr std::array<std::array<double, 3>, 7> kBlueToRed = {{{24, 84, 158},
                                                              {84, 146, 190},
                                                              {156, 186, 202},
                                                              {192, 192, 188},
                                                              {212, 172, 150},
                                                              {214, 110, 76},
                                                              {166, 22, 40}}};

template <std::size_t count>
trade::LinearRgb between(const std::array<std::array<double, 3>, count>& steps, double share) {
    const double place = std::clamp(share, 0.0, 1.0) * (count - 1);
    const auto below = std::min(static_cast<std::size_t>(place), count - 2);
    const double part = place - static_cast<double>(below);
    trade::LinearRgb colour{};
    for (std::size_t i = 0; i < 3; ++i)
        colour[i] = trade::srgbDecoded(std::lerp(steps[below][i], steps[below + 1][i], part) / 255);
    return colour;
}

}  // namespace

trade::LinearRgb wallColour(double share) {
    return between(kDarkToBright, 1 - std::clamp(share, 0.0, 1.0));
}

trade::LinearRgb deviationColour(double share) {
    return between(kBlueToRed, share);
}

trade::LinearRgb scaleColour(const WallScale& scale, double share) {
    return scale.twoSided ? deviationColour(share) : wallColour(share);
}

}  // namespace bandwright::scene
