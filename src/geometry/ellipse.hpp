#pragma once

#include <cmath>

#include "arithmetic.hpp"

namespace bandwright::geometry {

/// The complete elliptic integral of the second kind, E(k), of the modulus k = sqrt(1 - complement^2), for a
/// complement from 0 to 1; good to 1e-15 of it from 1e-6 on, below to 1e-13. By the arithmetic-geometric
/// mean, whose steps double the right digits (Abramowitz & Stegun 17.6). Not every standard library has
/// std::comp_ellint_2.
inline double completeEllipticE(double complement) {
    if (complement <= 0) return 1;
    double a = 1, b = complement, power = 0.5;
    double c2 = (1 - b) * (1 + b), sum = power * c2;
    // The next step's term is about the square of this one's: past the last place of the sum.
    while (c2 > 1e-20 * square(a)) {
        const double mean = (a + b) / 2, half = (a - b) / 2;
        b = std::sqrt(a * b);
        a = mean;
        c2 = square(half);
        power *= 2;
        sum += power * c2;
    }
    return kPi / (2 * a) * (1 - sum);
}

/// The way round an ellipse with these half-axes.
inline double roundEllipse(double a, double b) {
    const double longer = std::fmax(a, b), shorter = std::fmin(a, b);
    return 4 * longer * completeEllipticE(shorter / longer);
}

}  // namespace bandwright::geometry
