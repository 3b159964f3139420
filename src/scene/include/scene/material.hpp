#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

#include "trade/catalogue.hpp"

/// What a surface looks like, as plain numbers taken from the catalogue and the design. Colours are linear
/// sRGB.
namespace bandwright {

/// How the last tool left the metal.
enum class Finish : std::uint8_t {
    Polished,
    Turned,   ///< polished over fine turning marks that run round the ring
    Satin,    ///< fine lines round the ring, from a pad
    Brushed,  ///< coarser lines across the ring
    Blasted,  ///< matt, without direction
};

struct MetalLook {
    LinearRgb reflectance{};    ///< at normal incidence
    LinearRgb reflectance82{};  ///< at 82 degrees
    Finish finish = Finish::Turned;
    std::optional<LinearRgb>
        darkLayers{};  ///< reflectance of the second steel where two are forged in layers

    bool operator==(const MetalLook&) const = default;
};

/// Grains packed in clear adhesive, flush with the metal and polished.
struct FillLook {
    LinearRgb colour{}, colour2{};
    double grainLeast = 0.2, grainMost = 0.4;  ///< mm
    double packing = 0.6;                      ///< share of the volume that is grain, 0..1
    bool opalescent = false;  ///< the hue of a grain changes with the direction it is seen from
    bool glows = false;       ///< with the lights out
    LinearRgb glow{};         ///< the colour of that light

    bool operator==(const FillLook&) const = default;
};

/// Points p with dot(normal, p) <= offset are on the stone's side. Ring frame, mm.
struct FacetPlane {
    std::array<float, 3> normal{};
    float offset = 0;

    bool operator==(const FacetPlane&) const = default;
};

/// A clear convex stone: light is traced inside it from facet to facet.
struct GemLook {
    double refractiveIndex = 1.5;     ///< at 589 nm
    double dispersion = 0;            ///< n(430.8 nm) - n(686.7 nm)
    LinearRgb transmission{1, 1, 1};  ///< share of light left after 1 mm
    std::vector<FacetPlane> facets;
    LinearRgb seat{};  ///< reflectance of the metal the stone sits in, seen through the stone

    bool operator==(const GemLook&) const = default;
};

using Material = std::variant<MetalLook, FillLook, GemLook>;

}  // namespace bandwright
