#include <algorithm>
#include <cmath>
#include <optional>

#include "measure.hpp"
#include "squeeze.hpp"
#include "stuff.hpp"

namespace bandwright::check {

namespace {

/// Which is stressed most for 1 N of squeeze, and how much.
struct Weakest {
    double stress = 0;  ///< MPa
    CurvedBeam beam;
    double angle = 0;
    std::size_t setting = 0;
    bool atHole = false;
};

/// What the hole does at the innermost and the outermost fibre.
struct HoleFactors {
    Concentration inside, outside;
};

/// The force may come from any side; the worst one is taken.
double worstStress(const CurvedBeam& ring, const CurvedBeam& section, const HoleFactors& hole) {
    double worst = 0;
    for (const SectionLoad& load : {underTheForce(ring), besideTheForce(ring)}) {
        worst = std::max({worst, std::abs(stressAt(section, section.innermost.r, load, hole.inside)),
                          std::abs(stressAt(section, section.outermost.r, load, hole.outside))});
    }
    return worst;
}

HoleFactors factorsOf(const design::Hole& hole, double width, const CurvedBeam& ring) {
    const double thickness = ring.outermost.r - ring.innermost.r;
    HoleFactors factors;
    if (hole.bottom == design::HoleBottom::Through)
        factors.inside = besideHole(hole.pilotDiameter, width, thickness);
    factors.outside = besideHole(geometry::seatOf(hole, 0).mouth, width, thickness);
    return factors;
}

/// The floor of the deepest channel, or the outside.
geometry::Tag weakening(const design::Design& design) {
    if (design.channels.empty()) return {geometry::Feature::Outside};
    const auto deepest = std::max_element(
        design.channels.begin(), design.channels.end(),
        [](const design::Channel& a, const design::Channel& b) { return a.depth < b.depth; });
    return {geometry::Feature::ChannelFloor, static_cast<std::size_t>(deepest - design.channels.begin())};
}

bool hasArea(const geometry::Section& section) {
    constexpr double kLeastArea = 1e-6;  // mm2
    return geometry::properties(section).area > kLeastArea;
}

/// A liner that carries its share: band and liner give way by the same, each with its own stiffness. A
/// pierced one is taken to carry nothing.
struct Sleeve {
    double stiffness = 0, yield = 0;  ///< N/mm, N
};

Sleeve sleeveOf(const geometry::Section& liner, const trade::Metal& metal) {
    const CurvedBeam beam = curvedBeam(liner);
    constexpr double kMegaPerGiga = 1000;
    return {squeezeStiffness(beam, kMegaPerGiga * metal.youngsModulus.value),
            metal.yieldStrength.value / worstStress(beam, beam, {})};
}

}  // namespace

void measureStrength(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    if (!hasArea(ring.plain.band)) return;
    constexpr double kMicrometres = 1000;  // in a mm
    constexpr double kJaw = 100;           // N at each, closed lightly by hand
    const Stuff stuff = stuffOf(*catalogue.metal(design.band.metal), design.band.grain);
    const CurvedBeam plain = curvedBeam(ring.plain.band);
    const double stiffness = squeezeStiffness(plain, stuff.modulus);
    Weakest weakest{worstStress(plain, plain, {}), plain, ring.quietAngle};
    for (std::size_t i = 0; i < ring.drilled.size(); ++i) {
        if (!hasArea(ring.drilled[i])) continue;  // the hole takes all, and its own rules say so
        const CurvedBeam net = curvedBeam(ring.drilled[i]);
        const double stress =
            worstStress(plain, net, factorsOf(design.settings[i].hole, ring.piece.band.width, plain));
        if (stress > weakest.stress) weakest = {stress, net, holeAngle(design, i), i, true};
    }
    const geometry::Tag inside{weakest.atHole ? geometry::Feature::Pilot : geometry::Feature::Bore,
                               weakest.setting};
    const auto add = [&](const char* id, const char* label, double value, const char* unit,
                         const CurvedBeam& beam, double angle, geometry::Tag from) {
        Measure m =
            measureOf(id, label, ring.stage, {value, beam.innermost, beam.outermost, from, weakening(design)},
                      angle, weakest.setting);
        m.unit = unit;
        measures.push_back(std::move(m));
    };
    Sleeve liner;
    if (design.settings.empty() && hasArea(ring.plain.liner))
        liner = sleeveOf(ring.plain.liner, *catalogue.metal(design.band.liner->metal));
    const double both = stiffness + liner.stiffness;
    double yield = stuff.strength / weakest.stress * both / stiffness;
    if (liner.stiffness > 0) yield = std::min(yield, liner.yield * both / liner.stiffness);
    add("first-yield", "Squeeze at which the band first yields", yield, "N", weakest.beam, weakest.angle,
        inside);
    const geometry::Tag bore{geometry::Feature::Bore};
    add("stiffness", "Stiffness of the band when squeezed", both, "N/mm", plain, ring.quietAngle, bore);
    add("chuck-spring", "Out of round after boring in three jaws",
        kMicrometres * kJaw * lobesUnderThreeJaws(plain, stuff.modulus), "um", plain, ring.quietAngle, bore);
}

}  // namespace bandwright::check
