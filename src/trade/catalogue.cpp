#include "trade/catalogue.hpp"

#include <algorithm>
#include <fstream>
#include <iterator>

#include "catalogue_reader.hpp"
#include "embedded_data.hpp"
#include "trade/input_error.hpp"

namespace bandwright {

namespace {

template <typename Material>
const Material* byId(const std::vector<Material>& materials, std::string_view id) {
    const auto found = std::find_if(materials.begin(), materials.end(),
                                    [id](const Material& material) { return material.id == id; });
    return found == materials.end() ? nullptr : &*found;
}

std::string wholeText(const std::filesystem::path& file) {
    constexpr std::uintmax_t kLargestFile = 4'000'000;
    std::error_code error;
    if (!std::filesystem::is_regular_file(file, error)) {
        throw InputError(file.string() + ": there is no such file of materials");
    }
    if (std::filesystem::file_size(file, error) > kLargestFile) {
        throw InputError(file.string() + ": the file is larger than 4 MB, which is the most that is read");
    }
    std::ifstream in(file, std::ios::binary);
    std::string text{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (!in.is_open() || in.bad()) throw InputError(file.string() + ": the file cannot be read");
    return text;
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
    addMaterials(extended, wholeText(file), file.string());
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

}  // namespace bandwright
