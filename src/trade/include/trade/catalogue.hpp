#pragma once

#include <array>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace bandwright {

/// A figure together with where it comes from: a published source, "common practice, no source", or "from memory".
struct Sourced {
    double value = 0;
    std::string source;
};

/// Linear sRGB, 0..1.
using LinearRgb = std::array<double, 3>;

/// A metal (or other solid) a band, liner or tube is made of.
struct Metal {
    std::string id;    ///< key in design files, e.g. "titanium-grade-5"
    std::string name;  ///< as a maker writes it, e.g. "Titanium grade 5"
    Sourced density;   ///< g/cm3
    Sourced leastFloor;      ///< mm of metal under a channel or a seat
    Sourced leastRim;        ///< mm of metal beside a channel
    Sourced leastWall;       ///< mm, anywhere in the band
    Sourced leastHoleToEdge; ///< mm between a hole and the band's edge
    LinearRgb reflectance{}; ///< at normal incidence
    LinearRgb reflectance82{}; ///< at 82 degrees, for the edge colour
    std::string reflectanceSource;
};

/// A cut or natural stone, faceted or polished.
struct Gem {
    std::string id;
    std::string name;
    Sourced density;          ///< g/cm3
    Sourced refractiveIndex;  ///< at 589 nm, the mean of the range
    Sourced dispersion;       ///< n(430.8 nm) - n(686.7 nm)
    Sourced mohs;
    LinearRgb transmission{}; ///< share of light left after 1 mm
};

/// What a channel is packed with, before the adhesive: crushed stone, pigment, glow powder.
struct Filler {
    std::string id;
    std::string name;
    Sourced density;  ///< g/cm3 of the solid
    LinearRgb colour{};
    LinearRgb colour2{};  ///< the second colour of its grains
    bool opalescent = false;
    bool glows = false;
};

struct Adhesive {
    std::string id;
    std::string name;
    Sourced density;  ///< g/cm3, cured
    Sourced serviceTemperature; ///< degrees C, the most it stands in use
};

/// All materials known: the built-in ones, and those of the maker's own file.
struct Catalogue {
    std::vector<Metal> metals;
    std::vector<Gem> gems;
    std::vector<Filler> fillers;
    std::vector<Adhesive> adhesives;

    /// By id; nullptr when there is none.
    const Metal* metal(std::string_view id) const;
    const Gem* gem(std::string_view id) const;
    const Filler* filler(std::string_view id) const;
    const Adhesive* adhesive(std::string_view id) const;
};

/// The materials that come with the program.
const Catalogue& builtInCatalogue();

/// Adds the materials of the maker's own JSON file to `base`; an id already there replaces the older entry, and a field
/// left out of a replacing entry keeps its value. Throws InputError.
Catalogue extendedCatalogue(const Catalogue& base, const std::filesystem::path& file);

}  // namespace bandwright
