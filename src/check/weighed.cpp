#include "check/weighed.hpp"

namespace bandwright {

double density(const Part& part, const Design& design, const Catalogue& catalogue) {
    constexpr double kMm3PerCm3 = 1000;
    switch (materialKind(part.role)) {
        case MaterialKind::Filler: {
            const Fill& fill = *design.channels.at(part.source).fill;
            return (fill.packing * catalogue.filler(fill.filler)->density.value +
                    (1 - fill.packing) * catalogue.adhesive(fill.adhesive)->density.value) /
                   kMm3PerCm3;
        }
        case MaterialKind::Gem:
            return catalogue.gem(part.material)->density.value / kMm3PerCm3;
        case MaterialKind::Metal:
            break;
    }
    return catalogue.metal(part.material)->density.value / kMm3PerCm3;
}

double mass(const SolidPart& part, const Design& design, const Catalogue& catalogue) {
    return density(part.part, design, catalogue) * part.solid.volume;
}

SolidProperties weighed(const std::vector<SolidPart>& parts, const Design& design,
                        const Catalogue& catalogue) {
    SolidProperties whole;
    for (const SolidPart& part : parts)
        whole += density(part.part, design, catalogue) * part.solid;
    whole.area = 0;
    return whole;
}

}  // namespace bandwright
