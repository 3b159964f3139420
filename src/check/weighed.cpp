#include "check/weighed.hpp"

namespace bandwright {

double density(const Part& part, const Design& design, const Catalogue& catalogue) {
    constexpr double kMm3PerCm3 = 1000;
    switch (part.role) {
        case PartRole::Fill: {
            const Fill& fill = *design.channels.at(part.source).fill;
            return (fill.packing * catalogue.filler(fill.filler)->density.value +
                    (1 - fill.packing) * catalogue.adhesive(fill.adhesive)->density.value) /
                   kMm3PerCm3;
        }
        case PartRole::Stone:
            return catalogue.gem(part.material)->density.value / kMm3PerCm3;
        case PartRole::Band:
        case PartRole::Liner:
        case PartRole::Tube:
            return catalogue.metal(part.material)->density.value / kMm3PerCm3;
    }
    return 0;
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
