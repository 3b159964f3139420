#include <algorithm>
#include <type_traits>
#include <vector>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "design/design_file.hpp"
#include "field_rules.hpp"

namespace bandwright::design {

namespace {

template <class Item>
std::vector<std::string_view> ids(const std::vector<Item>& items) {
    std::vector<std::string_view> found;
    found.reserve(items.size());
    for (const Item& item : items)
        found.push_back(item.id);
    return found;
}

std::vector<std::string_view> ids(const trade::Catalogue& catalogue, MaterialField kind) {
    switch (kind) {
        case MaterialField::Metal:
            return ids(catalogue.metals);
        case MaterialField::Gem:
            return ids(catalogue.gems);
        case MaterialField::Filler:
            return ids(catalogue.fillers);
        case MaterialField::Adhesive:
            return ids(catalogue.adhesives);
    }
    return {};
}

std::string_view kindName(MaterialField kind) {
    switch (kind) {
        case MaterialField::Metal:
            return "metal";
        case MaterialField::Gem:
            return "gem";
        case MaterialField::Filler:
            return "filler";
        case MaterialField::Adhesive:
            return "adhesive";
    }
    return "";
}

void requireKnown(const WalkPlace& place, const std::string& id, MaterialField kind,
                  const trade::Catalogue& catalogue) {
    const std::vector<std::string_view> known = ids(catalogue, kind);
    if (std::find(known.begin(), known.end(), id) != known.end()) return;
    constexpr std::size_t kMostSuggestions = 3;
    const std::vector<std::string_view> close = base::nearestNames(id, known, kMostSuggestions);
    throw base::InputError(place.path() + " is " + base::inQuotes(id) + ", which is no known " +
                           std::string(kindName(kind)) +
                           (close.empty() ? "; known: " + base::inWords(known, "and")
                                          : "; nearest known: " + base::inWords(close, "and")));
}

void requireTreatable(const Band& band, const trade::Catalogue& catalogue) {
    const Treatment treatment = band.surface.treatment;
    const trade::Metal* metal = catalogue.metal(band.metal);
    if (metal == nullptr || takes(*metal, treatment)) return;
    std::vector<std::string_view> others;
    for (const trade::Metal& other : catalogue.metals)
        if (takes(other, treatment)) others.push_back(other.id);
    throw base::InputError("band.finish.treatment is " + base::inQuotes(kTreatments[treatment].id) +
                           ", which " + base::inQuotes(band.metal) + " does not take; it is for " +
                           base::inWords(others, "and"));
}

}  // namespace

bool takes(const trade::Metal& metal, Treatment treatment) {
    switch (treatment) {
        case Treatment::None:
            return true;
        case Treatment::Anodised:
            return metal.anodising.has_value();
        case Treatment::Blackened:
            return metal.blackOxide.has_value();
    }
    return false;
}

void requireMaterials(const Design& design, const trade::Catalogue& catalogue) {
    auto leaf = [&](const WalkPlace& place, const auto& value, const auto& field) {
        if constexpr (std::is_same_v<std::decay_t<decltype(field)>, MaterialField>)
            requireKnown(place, value, field, catalogue);
    };
    FieldWalk walk(leaf);
    visitFields(walk, design);
    requireTreatable(design.band, catalogue);
}

}  // namespace bandwright::design
