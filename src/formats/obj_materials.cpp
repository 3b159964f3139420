#include "obj_materials.hpp"

#include <algorithm>
#include <array>
#include <cstdio>
#include <set>

#include "model_source.hpp"
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

/// Roughness and metalness by the lines that several programs have added to MTL for physically based shading;
/// others pass over them.
std::string physical(double roughness, double metalness) {
    return entry("Pr", {roughness}) + entry("Pm", {metalness});
}

/// As of a ring left from fine turning.
constexpr double kTurnedRoughness = 0.16;

std::string metalText(const PartMaterial& material) {
    const bool isMetal = material.metal->substance == trade::Substance::Metal;
    return colour("Kd", material.colour) + colour("Ks", material.colour) + entry("Ns", {kPolished}) +
           physical(kTurnedRoughness, isMetal ? 1 : 0) + "illum 3\n";
}

std::string fillerText(const PartMaterial& material) {
    return colour("Kd", material.colour) + entry("Ks", {0.2, 0.2, 0.2}) + entry("Ns", {kCoated}) +
           physical(kTurnedRoughness, 0) + entry("Pc", {1}) + entry("Pcr", {0}) + "illum 2\n";
}

std::string gemText(const PartMaterial& material) {
    const trade::Gem& gem = *material.gem;
    return colour("Kd", gem.transmission) + entry("Ks", {1, 1, 1}) + entry("Ns", {kPolished}) +
           entry("d", {kGemOpacity}) + entry("Ni", {gem.refractiveIndex.value}) +
           entry("Tf", {gem.transmission[0], gem.transmission[1], gem.transmission[2]}) + physical(0, 0) +
           "illum 7\n";
}

std::string textOf(const PartMaterial& material) {
    if (material.metal != nullptr) return metalText(material);
    return material.filler != nullptr ? fillerText(material) : gemText(material);
}

}  // namespace

std::string mtlText(const std::vector<geometry::Part>& parts, const trade::Catalogue& catalogue) {
    std::string result = "# Bandwright: materials of the OBJ file that names this one\n";
    std::set<std::string> known;
    for (const geometry::Part& part : parts) {
        const PartMaterial material = materialOf(part, catalogue);
        if (!known.insert(material.id).second) continue;
        result += "\n# " + material.name + "\nnewmtl " + material.id + "\n" + textOf(material);
    }
    return result;
}

}  // namespace bandwright::formats
