#pragma once

#include <complex>
#include <string>
#include <vector>

#include "trade/linear_rgb.hpp"

/// The colours that a clear oxide gives to a metal by interference.
namespace bandwright::trade {

/// What light of one wavelength meets: the metal's n and k, and the index of the clear oxide that grows on
/// it.
struct OpticalConstants {
    double wavelength = 0;  ///< nm
    double n = 1, k = 0;
    double oxide = 1;

    bool operator==(const OpticalConstants&) const = default;
};

/// A metal that can be anodised. Wavelengths rise.
struct Anodising {
    std::vector<OpticalConstants> constants;
    std::string source;
    double perVolt = 0;  ///< nm of oxide that a volt grows; 0 = not told

    bool operator==(const Anodising&) const = default;
};

/// Share of unpolarised light that a film of index `oxide` and `thickness` nm on a substrate of index n + ik
/// reflects in air, at the cosine to the normal (0 < cosine <= 1) and the wavelength in nm: the sum over all
/// bounces in the film (Airy; Born and Wolf, Principles of Optics, 7.6).
double filmReflectance(double cosine, double thickness, double wavelength, double oxide,
                       std::complex<double> substrate);

/// The same over the visible under daylight D65, as linear sRGB cut to 0..1. The observer is the CIE 1931 one
/// in the fit of Wyman, Sloan and Shirley (JCGT 2(2), 2013), the illuminant that of CIE 15, from memory.
LinearRgb filmColour(const Anodising& metal, double thickness, double cosine);

/// What the surface of a clear or black body of this index reflects in air (Fresnel).
double surfaceReflectance(double cosine, double index);

}  // namespace bandwright::trade
