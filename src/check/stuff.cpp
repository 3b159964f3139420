#include "stuff.hpp"

namespace bandwright::check {

Stuff stuffOf(const trade::Metal& metal, design::Grain grain) {
    constexpr double kMegaPerGiga = 1000;
    const Stuff stuff{metal.yieldStrength.value, kMegaPerGiga * metal.youngsModulus.value};
    if (metal.substance != trade::Substance::Wood || grain == design::Grain::Bent) return stuff;
    // Black walnut: 6.96 MPa of 100.7 in compression across the grain (supplier's sheet). Modulus, tangential
    // over longitudinal, Wood Handbook, USDA FPL-GTR-190 and 282, table 5-1: sugar maple 0.065, and from
    // memory black walnut 0.056, white oak 0.072, black cherry 0.086. The least is taken for all woods.
    constexpr double kStrengthAcross = 6.96 / 100.7, kModulusAcross = 0.056;
    return {kStrengthAcross * stuff.strength, kModulusAcross * stuff.modulus};
}

}  // namespace bandwright::check
