#pragma once

namespace bandwright::check {

/// A ring of one metal: radii in mm, Young's modulus in MPa.
struct Tubing {
    double inner = 0, outer = 0, modulus = 0;
};

/// What an interference does to two rings, one pressed into the other.
struct PressFit {
    double pressure = 0;  ///< MPa between them
    double sleeve = 0;    ///< MPa, the hoop stress at the inside of the outer ring; tension
    double liner = 0;     ///< MPa, that at the inside of the inner ring; compression, negative
};

/// By Lame's equations for thick cylinders, of any handbook of strength of materials. They meet at the inner
/// ring's outside, which is larger than the hole by `interference` mm on the diameter; Poisson's ratio 0.3.
PressFit pressFit(const Tubing& liner, const Tubing& sleeve, double interference);

}  // namespace bandwright::check
