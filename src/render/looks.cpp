#include "looks.hpp"

#include <algorithm>
#include <cmath>

namespace bandwright::render {

namespace {

constexpr double kSodium = 589.3, kLineB = 686.7, kLineG = 430.8;  // nm, Fraunhofer
constexpr std::array<double, 3> kWavelengths = {611, 549, 464};    // nm, about the hues of the sRGB primaries
constexpr double kHueStep = 60;                                    // nm between them, roughly
constexpr double kLeastTransmission = 1e-3;

double perSquare(double wavelength) {
    return 1 / (wavelength * wavelength);
}

}  // namespace

FinishLook finishLook(design::Finish finish) {
    const auto roughness = static_cast<float>(scene::roughness(finish));
    switch (finish) {
        case design::Finish::Polished:
            return {0, roughness, 0, 0, true};
        case design::Finish::Turned:
            return {1, roughness, 0.09F, 0.035F, true};
        case design::Finish::Satin:
            return {2, roughness, 0.17F, 0.07F, true};
        case design::Finish::Brushed:
            return {2, roughness, 0.17F, 0.09F, false};
        case design::Finish::Blasted:
            return {3, roughness, 0, 0, true};
        case design::Finish::Hammered:
            return {0, roughness, 0, 0, true, true};
    }
    return {};
}

std::array<float, 3> refractiveIndices(const scene::GemLook& gem, double hue) {
    const double slope = gem.dispersion / (perSquare(kLineG) - perSquare(kLineB));
    std::array<float, 3> indices{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double wavelength = kWavelengths[i] + hue * kHueStep;
        indices[i] =
            static_cast<float>(gem.refractiveIndex + slope * (perSquare(wavelength) - perSquare(kSodium)));
    }
    return indices;
}

std::array<float, 3> absorbance(const trade::LinearRgb& transmission) {
    std::array<float, 3> perMm{};
    for (std::size_t i = 0; i < 3; ++i) {
        perMm[i] = static_cast<float>(-std::log(std::clamp(transmission[i], kLeastTransmission, 1.0)));
    }
    return perMm;
}

}  // namespace bandwright::render
