#include <algorithm>
#include <cmath>
#include <optional>

#include "measure.hpp"
#include "squeeze.hpp"

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

}  // namespace

void measureStrength(const StagedRing& ring, const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    if (!hasArea(ring.plain.band)) return;
    const trade::Metal& metal = *catalogue.metal(design.band.metal);
    const CurvedBeam plain = curvedBeam(ring.plain.band);
    Weakest weakest{worstStress(plain, plain, {}), plain, ring.quietAngle};
    for (std::size_t i = 0; i < ring.drilled.size(); ++i) {
        if (!hasArea(ring.drilled[i])) continue;  // the hole takes all, and its own rules say so
        const CurvedBeam net = curvedBeam(ring.drilled[i]);
        const double stress =
            worstStress(plain, net, factorsOf(design.settings[i].hole, ring.piece.band.width, plain));
        if (stress > weakest.stress) weakest = {stress, net, holeAngle(design, i), i, true};
    }
    constexpr double kMegaPerGiga = 1000;
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
    add("first-yield", "Squeeze at which the band first yields", metal.yieldStrength.value / weakest.stress,
        "N", weakest.beam, weakest.angle, inside);
    add("stiffness", "Stiffness of the band when squeezed",
        squeezeStiffness(plain, kMegaPerGiga * metal.youngsModulus.value), "N/mm", plain, ring.quietAngle,
        {geometry::Feature::Bore});
}

}  // namespace bandwright::check
