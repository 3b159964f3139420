#include "shrink_fit.hpp"

namespace bandwright::check {

PressFit pressFit(const Tubing& liner, const Tubing& sleeve, double interference) {
    constexpr double kPoisson = 0.3;
    const double a2 = liner.inner * liner.inner, b = liner.outer, b2 = b * b,
                 c2 = sleeve.outer * sleeve.outer;
    const double out = (c2 + b2) / (c2 - b2), in = (b2 + a2) / (b2 - a2);
    const double yielding = (out + kPoisson) / sleeve.modulus + (in - kPoisson) / liner.modulus;
    const double pressure = interference / 2 / (b * yielding);
    return {pressure, pressure * out, -2 * pressure * b2 / (b2 - a2)};
}

}  // namespace bandwright::check
