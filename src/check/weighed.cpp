#include "check/weighed.hpp"

namespace bandwright::check {

double density(const geometry::Part& part, const design::Design& design, const trade::Catalogue& catalogue) {
    constexpr double kMm3PerCm3 = 1000;
    switch (geometry::materialKind(part.role)) {
        case geometry::MaterialKind::Filler: {
            const design::Fill& fill = *design.channels.at(part.source).fill;
            return (fill.packing * catalogue.filler(fill.filler)->density.value +
                    (1 - fill.packing) * catalogue.adhesive(fill.adhesive)->density.value) /
                   kMm3PerCm3;
        }
        case geometry::MaterialKind::Gem:
            return catalogue.gem(part.material)->density.value / kMm3PerCm3;
        case geometry::MaterialKind::Metal:
            break;
    }
    return catalogue.metal(part.material)->density.value / kMm3PerCm3;
}

double mass(const geometry::SolidPart& part, const design::Design& design,
            const trade::Catalogue& catalogue) {
    return density(part.part, design, catalogue) * part.solid.volume;
}

geometry::SolidProperties weighed(const std::vector<geometry::SolidPart>& parts, const design::Design& design,
                                  const trade::Catalogue& catalogue) {
    geometry::SolidProperties whole;
    for (const geometry::SolidPart& part : parts)
        whole += density(part.part, design, catalogue) * part.solid;
    whole.area = 0;
    return whole;
}

}  // namespace bandwright::check
