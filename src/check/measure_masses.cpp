#include <utility>

#include "check/weighed.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

Measure mass(const StagedRing& ring, std::string_view id, std::string label, double value, const char* unit,
             std::size_t number) {
    Measure result;
    result.id = numbered(id, number);
    result.label = std::move(label);
    result.stage = ring.stage;
    result.value = value;
    result.unit = unit;
    result.number = static_cast<std::uint16_t>(number);
    result.hasPlace = false;
    return result;
}

bool isFirstOfItsSetting(const std::vector<geometry::SolidPart>& bodies, std::size_t i) {
    if (i == 0) return true;
    const geometry::Part& part = bodies[i].part;
    const geometry::Part& before = bodies[i - 1].part;
    return part.role != before.role || part.source != before.source;
}

}  // namespace

void measureMasses(const StagedRing& ring, const std::vector<geometry::SolidPart>& bodies,
                   const trade::Catalogue& catalogue, Measures& measures) {
    const design::Design& design = ring.design;
    double whole = 0;
    const auto add = [&](const char* id, std::string label, double value, std::size_t number,
                         const char* unit = "g") {
        measures.push_back(mass(ring, id, std::move(label), value, unit, number));
    };
    for (std::size_t i = 0; i < bodies.size(); ++i) {
        const std::size_t source = bodies[i].part.source;
        const double own = mass(bodies[i], design, catalogue);
        whole += own;
        switch (bodies[i].part.role) {
            case geometry::PartRole::Band:
                add("band-mass", "Mass of the band", own, 0);
                break;
            case geometry::PartRole::Liner:
                add("liner-mass", "Mass of the liner", own, 0);
                break;
            case geometry::PartRole::Fill: {
                const design::Fill& fill = *design.channels[source].fill;
                const std::string place = " in " + channelName(design, source);
                constexpr double kMm3PerCm3 = 1000;
                const double filler = fill.packing * bodies[i].solid.volume / kMm3PerCm3 *
                                      catalogue.filler(fill.filler)->density.value;
                add("filler-mass", "Filler" + place, filler, source);
                add("adhesive-mass", "Adhesive" + place, own - filler, source);
                break;
            }
            case geometry::PartRole::Tube:
                if (isFirstOfItsSetting(bodies, i))
                    add("tube-mass", "Each tube" + ofSetting(design, source), own, source);
                break;
            case geometry::PartRole::Stone:
                constexpr double kCarat = 0.2;  // g; CGPM 1907
                if (isFirstOfItsSetting(bodies, i))
                    add("stone-weight", "Each stone" + ofSetting(design, source), own / kCarat, source, "ct");
                break;
        }
    }
    add("ring-mass", "Mass of the whole ring", whole, 0);
}

}  // namespace bandwright::check
