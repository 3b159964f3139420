#pragma once

#include <imgui.h>

#include "trade/catalogue.hpp"

/// A material in a box the size of a letter, worked out from its colours in the catalogue.
namespace bandwright::app {

struct Swatch {
    enum class Kind : unsigned char { Rod, Layers, Stone, Grains };
    Kind kind = Kind::Rod;
    trade::LinearRgb first{};   ///< reflectance; of a stone, what 1 mm leaves of light
    trade::LinearRgb second{};  ///< of the layers or grains between; of a stone, what 1 mm scatters
    trade::LinearRgb edge{};    ///< reflectance at a grazing angle
};

Swatch swatchOf(const trade::Metal& metal);
Swatch swatchOf(const trade::Gem& gem);
Swatch swatchOf(const trade::Filler& filler);

void drawSwatch(ImDrawList& draw, ImVec2 least, ImVec2 most, const Swatch& swatch);

}  // namespace bandwright::app
