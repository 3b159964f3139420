#include "fresnel.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::render {

namespace {

const double kCosine82 = std::cos(82 * std::numbers::pi / 180);

// The i-th of the base-2 van der Corput sequence, in [0, 1).
double bitReversed(unsigned i) {
    double value = 0, share = 0.5;
    for (; i != 0; i >>= 1U, share /= 2) {
        if ((i & 1U) != 0) value += share;
    }
    return value;
}

// Share of facets seen by the light and the eye over those seen by the eye alone, times 4 cosines (Heitz
// 2014).
double visibility(double cosEye, double cosLight, double alpha) {
    const double a2 = alpha * alpha;
    const double eye = cosLight * std::sqrt(a2 + (1 - a2) * cosEye * cosEye);
    const double light = cosEye * std::sqrt(a2 + (1 - a2) * cosLight * cosLight);
    return 0.5 / (eye + light);
}

std::array<float, 4> shares(double cosEye, double roughness, int samples) {
    const double alpha = roughness * roughness, sinEye = std::sqrt(1 - cosEye * cosEye);
    std::array<double, 3> sum{};
    for (int i = 0; i < samples; ++i) {
        const double u = (i + 0.5) / samples,
                     azimuth = 2 * std::numbers::pi * bitReversed(static_cast<unsigned>(i));
        const double cosFacet = std::sqrt((1 - u) / (1 + (alpha * alpha - 1) * u));
        const double sinFacet = std::sqrt(std::max(0.0, 1 - cosFacet * cosFacet));
        const double toEye = sinEye * sinFacet * std::cos(azimuth) + cosEye * cosFacet;
        const double cosLight = 2 * toEye * cosFacet - cosEye;
        if (cosLight <= 0 || toEye <= 0) continue;
        const double weight = 4 * visibility(cosEye, cosLight, alpha) * cosLight * toEye / cosFacet;
        const double edge = std::pow(1 - toEye, 5);
        sum[0] += weight * (1 - edge);
        sum[1] += weight * edge;
        sum[2] += weight * toEye * edge * (1 - toEye);
    }
    const auto mean = [&](double value) { return static_cast<float>(value / samples); };
    return {mean(sum[0]), mean(sum[1]), mean(sum[2]), 0};
}

}  // namespace

trade::LinearRgb edgeDip(const trade::LinearRgb& reflectance, const trade::LinearRgb& reflectance82) {
    const double c = kCosine82, away = 1 - c;
    trade::LinearRgb dip{};
    for (std::size_t i = 0; i < 3; ++i) {
        const double schlick = reflectance[i] + (1 - reflectance[i]) * std::pow(away, 5);
        dip[i] = (schlick - reflectance82[i]) / (c * std::pow(away, 6));
    }
    return dip;
}

ReflectanceTable reflectanceTable(int side, int samples) {
    ReflectanceTable table{side, {}};
    table.rows.reserve(static_cast<std::size_t>(side) * static_cast<std::size_t>(side));
    for (int row = 0; row < side; ++row) {
        for (int column = 0; column < side; ++column) {
            table.rows.push_back(shares((column + 0.5) / side, std::max((row + 0.5) / side, 0.04), samples));
        }
    }
    return table;
}

}  // namespace bandwright::render
