#pragma once

#include <array>

#include "scene/material.hpp"

namespace bandwright::render {

/// A finish as the numbers that metal.frag takes.
struct FinishLook {
    float level = 0;          ///< of the studio's blur, light.glsl
    float roughness = 0.08F;  ///< perceptual: the square root of the facets' width
    float spread = 0;         ///< radians
    float relief = 0;         ///< radians
    bool roundRing = true;
    bool hammered = false;
};
FinishLook finishLook(design::Finish finish);

/// Refractive index at the wavelengths that stand for red, green and blue, by Cauchy's n = A + B /
/// wavelength^2 through the stone's index at 589.3 nm and its dispersion from B (686.7 nm) to G (430.8 nm).
/// `hue` shifts the wavelengths.
std::array<float, 3> refractiveIndices(const scene::GemLook& gem, double hue);

/// Absorption per mm from the share that 1 mm lets through.
std::array<float, 3> absorbance(const trade::LinearRgb& transmission);

}  // namespace bandwright::render
