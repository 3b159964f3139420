#include "formats/model.hpp"

#include <array>
#include <cctype>
#include <cmath>
#include <string>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "model_source.hpp"

namespace bandwright::formats {

namespace {

using WriteModel = Written (*)(const ModelSource&, const std::filesystem::path&);

struct Row {
    ModelFormat format;
    WriteModel write;
};

constexpr std::array kRows{
    Row{{".obj", "Wavefront OBJ", "triangles in groups, materials in an .mtl beside it", true}, writeObj},
    Row{{".stl", "STL", "triangles of one body in mm, for casters and printers; a file for each part", true},
        writeStl},
    Row{{".3mf", "3MF", "triangles, parts with names and colours, in mm, for printers"}, writeThreeMf},
    Row{{".ply", "PLY", "triangles with the wall of metal under each point, for measuring"}, writePly},
    Row{{".glb", "glTF", "triangles with the look of metals and stones, for web pages and pictures"},
        writeGlb},
    Row{{".step", "STEP", "exact planes, cylinders, cones and tori, an assembly with names, for machinists"},
        writeStep},
};

constexpr auto kFormats = [] {
    std::array<ModelFormat, kRows.size()> formats;
    for (std::size_t i = 0; i < kRows.size(); ++i)
        formats[i] = kRows[i].format;
    return formats;
}();

const Row& rowOf(const std::filesystem::path& file) {
    std::string ending = file.extension().string();
    for (char& c : ending)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    std::string known;
    for (const Row& row : kRows) {
        if (row.format.ending == ending) return row;
        known += (known.empty() ? "" : ", ") + std::string(row.format.ending);
    }
    throw base::InputError("-o " + file.string() + ": the ending says the format; known is " + known + ".");
}

/// Whether a part is meant by a word such as "stone" or "stone-2".
bool isMeant(const std::string& name, const std::string& word) {
    if (name == word) return true;
    const std::size_t dash = name.rfind('-');
    return dash != std::string::npos && name.substr(0, dash) == word;
}

const geometry::Part& partIn(const geometry::Part& part) {
    return part;
}
const geometry::Part& partIn(const geometry::Boundary& body) {
    return body.part;
}

/// Those that are chosen, in their order. Throws InputError for a word that means none.
template <class Bodies>
Bodies chosen(Bodies all, const std::vector<std::string>& words) {
    if (words.empty()) return all;
    std::vector<std::string> names;
    names.reserve(all.size());
    for (const auto& body : all)
        names.push_back(geometry::name(partIn(body)));
    for (const std::string& word : words) {
        if (std::ranges::any_of(names, [&](const std::string& name) { return isMeant(name, word); }))
            continue;
        throw base::InputError("--parts: this ring has no " + base::inQuotes(word) +
                               " at this stage; it has " +
                               base::inWords({names.begin(), names.end()}, "and") + ".");
    }
    std::erase_if(all, [&](const auto& body) {
        const std::string name = geometry::name(partIn(body));
        return std::ranges::none_of(words, [&](const std::string& word) { return isMeant(name, word); });
    });
    return all;
}

template <class Entry>
const Entry& found(const Entry* entry, const geometry::Part& part) {
    if (entry == nullptr) {
        throw base::InputError("The " + geometry::name(part) + " is of " + base::inQuotes(part.material) +
                               ", which is not among the materials of its kind in the catalogue.");
    }
    return *entry;
}

}  // namespace

std::span<const ModelFormat> modelFormats() {
    return kFormats;
}

const ModelFormat& modelFormat(const std::filesystem::path& file) {
    return rowOf(file).format;
}

std::vector<std::filesystem::path> writeModel(const design::Design& design, const trade::Catalogue& catalogue,
                                              const ModelOptions& options,
                                              const std::filesystem::path& file) {
    const Row& row = rowOf(file);
    if (options.oneBody && !row.format.oneBody)
        throw base::InputError("--one-body: " + std::string(row.format.name) +
                               " keeps the parts apart; allowed with .obj and .stl.");
    return row.write({design, catalogue, options}, file);
}

std::vector<geometry::Part> chosenParts(const design::Design& design, const ModelOptions& options) {
    std::vector<geometry::Part> parts =
        chosen(geometry::buildParts(design, options.stage, options.build), options.parts);
    if (options.factor != 1) {
        for (geometry::Part& part : parts)
            for (geometry::Vec3& p : part.mesh.points)
                p = options.factor * p;
    }
    return parts;
}

std::vector<geometry::Boundary> chosenBoundaries(const design::Design& design, const ModelOptions& options) {
    return chosen(geometry::boundaries(design, options.stage), options.parts);
}

std::vector<geometry::Part> ModelSource::parts() const {
    return chosenParts(design, options);
}

std::vector<geometry::Boundary> ModelSource::boundaries() const {
    return chosenBoundaries(design, options);
}

std::size_t trianglesOf(const std::vector<geometry::Part>& parts) {
    std::size_t count = 0;
    for (const geometry::Part& part : parts)
        count += part.mesh.triangles.size();
    return count;
}

std::string materialId(const geometry::Part& part) {
    switch (geometry::materialKind(part.role)) {
        case geometry::MaterialKind::Metal:
            return "metal-" + part.material;
        case geometry::MaterialKind::Filler:
            return "filler-" + part.material;
        case geometry::MaterialKind::Gem:
            return "gem-" + part.material;
    }
    return {};
}

PartMaterial materialOf(const geometry::Part& part, const trade::Catalogue& catalogue) {
    PartMaterial result;
    result.id = materialId(part);
    switch (geometry::materialKind(part.role)) {
        case geometry::MaterialKind::Metal: {
            const trade::Metal& metal = found(catalogue.metal(part.material), part);
            result.metal = &metal;
            result.name = metal.name;
            result.colour = metal.reflectance;
            result.density = metal.density.value;
            break;
        }
        case geometry::MaterialKind::Filler: {
            const trade::Filler& filler = found(catalogue.filler(part.material), part);
            result.filler = &filler;
            result.name = filler.name;
            result.colour = filler.colour;
            result.density = filler.density.value;
            break;
        }
        case geometry::MaterialKind::Gem: {
            const trade::Gem& gem = found(catalogue.gem(part.material), part);
            result.gem = &gem;
            result.name = gem.name;
            result.colour = gem.transmission;
            result.density = gem.density.value;
            break;
        }
    }
    return result;
}

std::array<unsigned char, 3> bytesOf(const trade::LinearRgb& colour) {
    std::array<unsigned char, 3> bytes{};
    for (std::size_t i = 0; i < bytes.size(); ++i)
        bytes[i] = static_cast<unsigned char>(
            std::lround(255 * trade::srgbEncoded(std::clamp(colour[i], 0.0, 1.0))));
    return bytes;
}

CastingShrink castingShrink(const trade::Metal& metal) {
    constexpr double kRoom = 20;  // degrees C
    if (!metal.melting || !metal.expansion)
        throw base::InputError("--shrink: the catalogue does not tell " + metal.name +
                               "'s expansion and where it melts; give the percentage your caster names.");
    const double heated = (metal.melting->value - kRoom) * metal.expansion->value / 1e6;
    return {1 + heated, "expansion: " + metal.expansion->source + "; melting: " + metal.melting->source};
}

}  // namespace bandwright::formats
