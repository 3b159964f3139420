#include "trade/catalogue.hpp"

#include <algorithm>

#include "base/whole_text.hpp"
#include "catalogue_reader.hpp"
#include "embedded_data.hpp"

namespace bandwright::trade {

namespace {

template <typename Material>
const Material* byId(const std::vector<Material>& materials, std::string_view id) {
    const auto found = std::find_if(materials.begin(), materials.end(),
                                    [id](const Material& material) { return material.id == id; });
    return found == materials.end() ? nullptr : &*found;
}

Catalogue readBuiltIn() {
    Catalogue catalogue;
    addBuiltIn(catalogue, embedded::kMetals, "metals.json");
    addBuiltIn(catalogue, embedded::kGems, "gems.json");
    addBuiltIn(catalogue, embedded::kFillers, "fillers.json");
    addBuiltIn(catalogue, embedded::kAdhesives, "adhesives.json");
    return catalogue;
}

}  // namespace

bool isPatternWelded(const Metal& metal) {
    return metal.substance == Substance::Metal && metal.layerReflectance.has_value();
}

const Metal* Catalogue::metal(std::string_view id) const {
    return byId(metals, id);
}
const Gem* Catalogue::gem(std::string_view id) const {
    return byId(gems, id);
}
const Filler* Catalogue::filler(std::string_view id) const {
    return byId(fillers, id);
}
const Adhesive* Catalogue::adhesive(std::string_view id) const {
    return byId(adhesives, id);
}

const Catalogue& builtInCatalogue() {
    static const Catalogue catalogue = readBuiltIn();
    return catalogue;
}

Catalogue extendedCatalogue(const Catalogue& base, const std::filesystem::path& file) {
    Catalogue extended = base;
    addMaterials(extended, base::wholeText(file, "materials"), file.string());
    return extended;
}

double alloyDensity(const std::vector<AlloyPart>& parts) {
    double mass = 0;
    double volume = 0;
    for (const AlloyPart& part : parts) {
        mass += part.share;
        volume += part.share / part.density;
    }
    return mass / volume;
}

}  // namespace bandwright::trade
