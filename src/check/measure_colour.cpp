#include <algorithm>
#include <numbers>
#include <string>

#include "measure.hpp"

/// What later steps take off a colour that is on the ring: an etch, an anodised or a black oxide.
namespace bandwright::check {

namespace {

/// mm that a polish, or levelling a fill with the finest paper, takes of the metal: our own choice, a tenth
/// of the grain of paper P1200 (15 um by FEPA).
constexpr double kFinest = 0.0015;

double edgeCut(const design::Edge& edge) {
    return edge.shape == design::EdgeShape::Sharp ? 0 : edge.width;
}

/// mm of coloured metal that a step takes off where it takes the most; 0 for steps that leave the skin alone.
double takenOff(design::Stage step, const design::Design& design) {
    const design::Allowances& left = design.allowances;
    const bool filled =
        std::ranges::any_of(design.channels, [](const design::Channel& c) { return c.fill.has_value(); });
    const design::Bore& bore = design.band.bore;
    switch (step) {
        case design::Stage::Turned:
            return left.blankOutside;
        case design::Stage::Parted:
            return left.parting;
        case design::Stage::Trued:
            return filled ? std::max(left.truing, kFinest) : left.truing;
        case design::Stage::Bevelled:
            return std::max(edgeCut(design.band.left), edgeCut(design.band.right));
        case design::Stage::Polished:
            return kFinest;
        case design::Stage::Sized: {
            const double comfort = bore.shape == design::BoreShape::Comfort ? bore.rise : 0;
            const double opened = left.sizing + comfort;
            const double eased = bore.ease * (1 - 1 / std::numbers::sqrt2);
            return bore.ease > 0 ? std::max(opened, eased) : opened;
        }
        default:  // cuts through the skin, or adds to the ring
            return 0;
    }
}

geometry::Feature cutBy(design::Stage step) {
    switch (step) {
        case design::Stage::Sized:
            return geometry::Feature::Bore;
        default:
            return geometry::Feature::Outside;
    }
}

void measureCut(const StagedRing& ring, design::Stage step, std::string_view id, const std::string& colour,
                Measures& measures) {
    const design::Design& design = ring.design;
    const double cut = takenOff(step, design);
    const geometry::Tag tag{cutBy(step)};
    const double from = step == design::Stage::Sized ? ring.piece.bore : ring.piece.outside;
    const double out = step == design::Stage::Sized ? -1 : 1;
    measures.push_back(measureOf(std::string(id),
                                 "Cut into the " + colour + " by " + std::string(doing(step)), ring.stage,
                                 {cut, {0, from}, {0, from + out * cut}, tag, tag}, ring.quietAngle, 0));
}

bool removesSkin(design::Stage step) {
    switch (step) {
        case design::Stage::Turned:
        case design::Stage::Parted:
        case design::Stage::Trued:
        case design::Stage::Bevelled:
        case design::Stage::Polished:
        case design::Stage::Sized:
            return true;
        default:
            return false;
    }
}

}  // namespace

void measureColour(const StagedRing& ring, design::Stage step, const trade::Catalogue& catalogue,
                   Measures& measures) {
    const design::Design& design = ring.design;
    if (!removesSkin(step)) return;
    const auto isAfter = [&](design::Stage colouring) {
        return design::isBefore(design.route, colouring, step);
    };
    const bool treated = design.band.surface.treatment != design::Treatment::None;
    if (treated && isAfter(design::Stage::Polished)) {
        const bool black = design.band.surface.treatment == design::Treatment::Blackened;
        measureCut(ring, step, "colour-cut", black ? "black oxide" : "anodised colour", measures);
    }
    if (trade::isPatternWelded(*catalogue.metal(design.band.metal)) && isAfter(design::Stage::Etched))
        measureCut(ring, step, "etch-cut", "etch", measures);
}

}  // namespace bandwright::check
