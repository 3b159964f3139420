#include "obj_materials.hpp"

#include <algorithm>
#include <cstdio>
#include <set>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "trade/linear_rgb.hpp"

namespace bandwright::formats {

namespace {

/// Colours as programs that read MTL files expect them.
double encoded(double linear) {
    return trade::srgbEncoded(std::clamp(linear, 0.0, 1.0));
}

/// "Kd 0.5 0.5 0.5": a key and numbers of four decimals.
std::string entry(const char* key, const std::vector<double>& values) {
    std::string line = key;
    for (const double value : values) {
        std::array<char, 32> text{};
        const int size = std::snprintf(text.data(), text.size(), " %.4f", value);
        line.append(text.data(), static_cast<std::size_t>(size));
    }
    return line + "\n";
}

std::string colour(const char* key, const trade::LinearRgb& rgb) {
    return entry(key, {encoded(rgb[0]), encoded(rgb[1]), encoded(rgb[2])});
}

/// Highlights of a polished metal or stone, or of the adhesive over a fill.
constexpr double kPolished = 400;
constexpr double kCoated = 100;
/// How much of a stone a program without refraction should let through.
constexpr double kGemOpacity = 0.5;

std::string metalText(const trade::Metal& metal) {
    return colour("Kd", metal.reflectance) + colour("Ks", metal.reflectance) + entry("Ns", {kPolished}) +
           "illum 3\n";
}

std::string fillerText(const trade::Filler& filler) {
    return colour("Kd", filler.colour) + entry("Ks", {0.2, 0.2, 0.2}) + entry("Ns", {kCoated}) + "illum 2\n";
}

std::string gemText(const trade::Gem& gem) {
    return colour("Kd", gem.transmission) + entry("Ks", {1, 1, 1}) + entry("Ns", {kPolished}) +
           entry("d", {kGemOpacity}) + entry("Ni", {gem.refractiveIndex.value}) +
           entry("Tf", {gem.transmission[0], gem.transmission[1], gem.transmission[2]}) + "illum 7\n";
}

template <typename Material, typename Text>
std::string textOf(const Material* material, const geometry::Part& part, Text text) {
    if (material == nullptr) {
        throw base::InputError("The " + geometry::name(part) + " is of " + base::inQuotes(part.material) +
                               ", which is not among the materials of its kind in the catalogue.");
    }
    return "\n# " + material->name + "\nnewmtl " + objMaterial(part) + "\n" + text(*material);
}

}  // namespace

std::string objMaterial(const geometry::Part& part) {
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

std::string mtlText(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue) {
    std::string result = "# Bandwright: materials of the OBJ file that names this one\n";
    std::set<std::string> known;
    for (const geometry::Part& part : parts) {
        if (!known.insert(objMaterial(part)).second) continue;
        switch (geometry::materialKind(part.role)) {
            case geometry::MaterialKind::Metal:
                result += textOf(catalogue.metal(part.material), part, metalText);
                break;
            case geometry::MaterialKind::Filler:
                result += textOf(catalogue.filler(part.material), part, fillerText);
                break;
            case geometry::MaterialKind::Gem:
                result += textOf(catalogue.gem(part.material), part, gemText);
                break;
        }
    }
    return result;
}

}  // namespace bandwright::formats
