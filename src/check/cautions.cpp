#include "check/cautions.hpp"

#include <algorithm>

namespace bandwright::check {

std::vector<MaterialCaution> cautions(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<MaterialCaution> result;
    const auto add = [&](const auto* material) {
        if (material == nullptr) return;
        for (const trade::Caution& caution : material->cautions) {
            const bool known = std::ranges::any_of(
                result, [&](const MaterialCaution& other) { return other.caution.text == caution.text; });
            if (!known) result.push_back({material->name, caution});
        }
    };
    add(catalogue.metal(design.band.metal));
    if (design.band.liner) add(catalogue.metal(design.band.liner->metal));
    for (const design::Channel& channel : design.channels) {
        if (!channel.fill) continue;
        add(catalogue.filler(channel.fill->filler));
        add(catalogue.adhesive(channel.fill->adhesive));
    }
    for (const design::Setting& setting : design.settings) {
        if (setting.tube) add(catalogue.metal(setting.tube->metal));
        if (setting.stone) add(catalogue.gem(setting.stone->gem));
    }
    return result;
}

}  // namespace bandwright::check
