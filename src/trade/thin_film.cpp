#include "trade/thin_film.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace bandwright::trade {

namespace {

using Complex = std::complex<double>;

constexpr double kFirst = 400, kStep = 10;  // nm
// Relative power of CIE D65 from 400 to 700 nm.
constexpr std::array<double, 31> kDaylight = {82.75,  91.49,  93.43,  86.68,  104.86, 117.01, 117.81, 114.86,
                                              115.92, 108.81, 109.35, 107.80, 104.79, 107.69, 104.41, 104.05,
                                              100.00, 96.33,  95.79,  88.69,  90.01,  89.60,  87.70,  83.29,
                                              83.70,  80.03,  80.21,  82.28,  78.28,  69.72,  71.61};

double bell(double wavelength, double height, double middle, double below, double above) {
    const double t = (wavelength - middle) / (wavelength < middle ? below : above);
    return height * std::exp(-0.5 * t * t);
}

std::array<double, 3> observer(double w) {
    return {bell(w, 1.056, 599.8, 37.9, 31.0) + bell(w, 0.362, 442.0, 16.0, 26.7) +
                bell(w, -0.065, 501.1, 20.4, 26.2),
            bell(w, 0.821, 568.8, 46.9, 40.5) + bell(w, 0.286, 530.9, 16.3, 31.1),
            bell(w, 1.217, 437.0, 11.8, 36.0) + bell(w, 0.681, 459.0, 26.0, 13.8)};
}

// IEC 61966-2-1.
std::array<double, 3> rgbOf(const std::array<double, 3>& xyz) {
    const auto& [x, y, z] = xyz;
    return {3.2406 * x - 1.5372 * y - 0.4986 * z, -0.9689 * x + 1.8758 * y + 0.0415 * z,
            0.0557 * x - 0.2040 * y + 1.0570 * z};
}

OpticalConstants at(const std::vector<OpticalConstants>& constants, double wavelength) {
    const auto above = std::ranges::lower_bound(constants, wavelength, {}, &OpticalConstants::wavelength);
    if (above == constants.begin()) return constants.front();
    if (above == constants.end()) return constants.back();
    const OpticalConstants &a = *std::prev(above), &b = *above;
    const double t = (wavelength - a.wavelength) / (b.wavelength - a.wavelength);
    return {wavelength, std::lerp(a.n, b.n, t), std::lerp(a.k, b.k, t), std::lerp(a.oxide, b.oxide, t)};
}

// The amplitude reflected at a boundary; each side has its own index and cosine.
struct Side {
    Complex index, cosine;
};
Complex returned(const Side& from, const Side& to, bool parallel) {
    const Complex a = parallel ? to.index * from.cosine : from.index * from.cosine;
    const Complex b = parallel ? from.index * to.cosine : to.index * to.cosine;
    return (a - b) / (a + b);
}

}  // namespace

double filmReflectance(double cosine, double thickness, double wavelength, double oxide,
                       std::complex<double> substrate) {
    const double sine2 = 1 - cosine * cosine;
    const auto inside = [&](Complex index) { return Side{index, std::sqrt(1.0 - sine2 / (index * index))}; };
    const Side air{1, cosine}, film = inside(oxide), metal = inside(substrate);
    const Complex turn =
        std::exp(Complex(0, 4 * std::numbers::pi * thickness / wavelength) * film.index * film.cosine);
    double sum = 0;
    for (const bool parallel : {false, true}) {
        const Complex first = returned(air, film, parallel), second = returned(film, metal, parallel);
        sum += std::norm((first + second * turn) / (1.0 + first * second * turn));
    }
    return sum / 2;
}

LinearRgb filmColour(const Anodising& metal, double thickness, double cosine) {
    std::array<double, 3> seen{}, white{};
    for (std::size_t i = 0; i < kDaylight.size(); ++i) {
        const double wavelength = kFirst + kStep * static_cast<double>(i);
        const OpticalConstants c = at(metal.constants, wavelength);
        const double reflectance = filmReflectance(cosine, thickness, wavelength, c.oxide, {c.n, c.k});
        const auto eye = observer(wavelength);
        for (std::size_t j = 0; j < 3; ++j) {
            white[j] += kDaylight[i] * eye[j];
            seen[j] += kDaylight[i] * eye[j] * reflectance;
        }
    }
    // Divided by what a perfect mirror gives, so that a mirror is white whatever the fit and the step.
    const auto rgb = rgbOf(seen), whole = rgbOf(white);
    LinearRgb colour{};
    for (std::size_t j = 0; j < 3; ++j)
        colour[j] = std::clamp(rgb[j] / whole[j], 0.0, 1.0);
    return colour;
}

double surfaceReflectance(double cosine, double index) {
    return filmReflectance(cosine, 0, 1, index, index);
}

}  // namespace bandwright::trade
