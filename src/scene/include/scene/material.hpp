#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <variant>
#include <vector>

#include "design/design.hpp"
#include "geometry/feature.hpp"
#include "geometry/part.hpp"
#include "geometry/vector.hpp"
#include "trade/catalogue.hpp"

/// What a surface looks like, as plain numbers taken from the catalogue and the design. Colours are linear
/// sRGB.
namespace bandwright::scene {

/// The surfaces of a part that a maker finishes separately. Cuts are channels, holes and the faces where a
/// view cuts it open.
enum class Zone : std::uint8_t { Outside, Edges, Bore, Cuts };
inline constexpr std::size_t kZones = 4;
Zone zoneOf(geometry::Feature feature);

using ZoneFinishes = std::array<design::Finish, kZones>;
constexpr ZoneFinishes allOver(design::Finish finish) {
    return {finish, finish, finish, finish};
}

/// An oxide grown on the metal: its reflectance at cosines from 0 to 1, at the middles of even steps.
using Skin = std::array<trade::LinearRgb, 32>;

struct LayersLook {
    trade::LinearRgb dark{};  ///< reflectance of the second steel
    design::Layers billet;

    bool operator==(const LayersLook&) const = default;
};

struct MetalLook {
    trade::LinearRgb reflectance{};    ///< at normal incidence
    trade::LinearRgb reflectance82{};  ///< at 82 degrees
    ZoneFinishes finish = allOver(design::Finish::Turned);
    std::optional<LayersLook> layers{};  ///< where two steels are forged in layers
    std::optional<Skin> skin{};          ///< on all but the cuts

    bool operator==(const MetalLook&) const = default;
};

/// Cloth in resin, or wood, under a clear coat.
struct FibreLook {
    bool wood = false;  ///< false = carbon fibre
    trade::LinearRgb light{}, dark{};
    ZoneFinishes finish = allOver(design::Finish::Polished);

    bool operator==(const FibreLook&) const = default;
};

/// Grains packed in clear adhesive, flush with the metal and polished.
struct FillLook {
    trade::LinearRgb colour{}, colour2{};
    double grainLeast = 0.2, grainMost = 0.4;  ///< mm
    double packing = 0.6;                      ///< share of the volume that is grain, 0..1
    bool opalescent = false;  ///< the hue of a grain changes with the direction it is seen from
    bool glows = false;       ///< with the lights out
    trade::LinearRgb glow{};  ///< the colour of that light

    bool operator==(const FillLook&) const = default;
};

/// The most facets of a stone that are traced; of more, those that lean nearly alike count as one.
inline constexpr std::size_t kMostFacets = 96;

/// Points p with dot(normal, p) <= offset are on the stone's side. Ring frame, mm.
struct FacetPlane {
    std::array<float, 3> normal{};
    float offset = 0;

    bool operator==(const FacetPlane&) const = default;
};

/// The inside of a cabochon: half an ellipsoid over a flat base. Ring frame, mm.
struct Dome {
    geometry::Vec3 centre;  ///< of the ellipsoid
    std::array<geometry::Vec3, 3>
        inverse;        ///< rows of the matrix that takes the ellipsoid to the unit sphere
    geometry::Vec3 up;  ///< unit, away from the base
    double base = 0;    ///< dot(up, p) on the base

    bool operator==(const Dome&) const = default;
};

/// A convex stone: light is traced inside it from facet to facet, or under its dome.
struct GemLook {
    double refractiveIndex = 1.5;            ///< at 589 nm
    double dispersion = 0;                   ///< n(430.8 nm) - n(686.7 nm)
    trade::LinearRgb transmission{1, 1, 1};  ///< share of light left after 1 mm
    std::vector<FacetPlane> facets;
    trade::LinearRgb seat{};     ///< reflectance of the metal the stone sits in, seen through the stone
    trade::LinearRgb cloud{};    ///< share of light that 1 mm scatters
    bool opalescent = false;     ///< patches flash in colours that change with the direction
    std::optional<Dome> dome{};  ///< of a cabochon, which has no facets

    bool operator==(const GemLook&) const = default;
};

using Material = std::variant<MetalLook, FillLook, GemLook, FibreLook>;

/// What a part of the design looks like. Throws InputError when its material is not in the catalogue.
Material materialOf(const design::Design& design, const trade::Catalogue& catalogue,
                    const geometry::Part& part);

/// Of a finish's microscopic slopes, 0..1, whose square is the alpha of the GGX distribution.
double roughness(design::Finish finish);

}  // namespace bandwright::scene
