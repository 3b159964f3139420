#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "trade/linear_rgb.hpp"
#include "trade/own_limits.hpp"
#include "trade/thin_film.hpp"
#include "trade/tolerance.hpp"
#include "trade/tools.hpp"

namespace bandwright::trade {

/// A figure together with where it comes from: a published source, "common practice, no source", or "from
/// memory".
struct Sourced {
    double value = 0;
    std::string source;

    bool operator==(const Sourced&) const = default;
};

/// A sentence the maker should read before work, and where it comes from.
struct Caution {
    std::string text;
    std::string source;

    bool operator==(const Caution&) const = default;
};

/// How a solid takes up light.
enum class Substance : std::uint8_t {
    Metal,
    CarbonFibre,  ///< twill cloth in resin
    Wood,
};

/// The metals whose articles some laws want hallmarked.
enum class Precious : std::uint8_t { None, Gold, Silver, Platinum, Palladium };

// What stands a bath of iron chloride with hydrochloric acid, which brings out the layers of pattern-welded
// steel, or years of water or daylight: 0 is dissolved or fades, 1 is attacked, stained or yellows, 2 stands
// it.

/// A metal (or other solid) a band, liner or tube is made of.
struct Metal {
    std::string id;                    ///< key in design files, e.g. "titanium-grade-5"
    std::string name;                  ///< as a maker writes it, e.g. "Titanium grade 5"
    Sourced density;                   ///< g/cm3
    Sourced leastFloor;                ///< mm of metal under a channel or a seat
    Sourced leastRim;                  ///< mm of metal beside a channel
    Sourced leastWall;                 ///< mm, anywhere in the band
    Sourced leastHoleToEdge;           ///< mm between a hole and the band's edge
    Sourced youngsModulus;             ///< GPa
    Sourced yieldStrength;             ///< MPa, 0.2 % proof stress in the softest state a maker works it in
    std::optional<Sourced> expansion;  ///< by heat, millionths per degree; nothing = not told
    Sourced hardness;                  ///< HV, as a maker works it
    Sourced anodicIndex;               ///< V below gold in salt water, after MIL-STD-1250A
    bool passive = false;              ///< a skin of oxide keeps it from being eaten beside a nobler metal
    /// ug/cm2 in a week, as EN 1811 measures it; 0 = holds none; nothing = alloys of this name differ, and
    /// only the supplier's certificate tells.
    std::optional<Sourced> nickelRelease;
    std::optional<Sourced> lead, cadmium;  ///< percent by mass, the most; nothing = holds none that is known
    bool stainsSkin = false;               ///< its salts colour the skin in wear
    Precious precious = Precious::None;    ///< what it is an alloy of, as far as hallmarks go
    std::optional<Sourced> fineness;       ///< share by mass of that metal, 0..1; nothing = not told
    Sourced soldering;  ///< under a torch in air: 0 is spoilt, 1 needs its own flux and care, 2 takes it
    std::optional<Sourced> melting;  ///< degrees C at which it begins to melt
    Sourced etchResistance;          ///< see below
    Sourced turningSpeed;            ///< m/min, carbide, roughing; a place to begin
    /// The same with high-speed steel; 0 = not with it; nothing = half of the speed for carbide.
    std::optional<Sourced> turningSpeedSteel;
    Sourced drillingSpeed;  ///< m/min, high-speed steel (cobalt for hard metals); a place to begin
    Substance substance = Substance::Metal;
    LinearRgb reflectance{};    ///< at normal incidence; of cloth or wood: the colour of its lighter part
    LinearRgb reflectance82{};  ///< at 82 degrees, for the edge colour
    /// Of the darker layers, when the metal is pattern-welded; of cloth or wood: the colour of its darker
    /// part.
    std::optional<LinearRgb> layerReflectance;
    std::string reflectanceSource;       ///< of the three above
    std::optional<Anodising> anodising;  ///< when it takes colours from a clear oxide
    std::optional<Sourced> blackOxide;  ///< index of the black oxide that heat grows on it, when there is one
    std::vector<Caution> cautions;

    bool operator==(const Metal&) const = default;
};

/// Whether an etch brings out layers in it.
bool isPatternWelded(const Metal& metal);

/// A cut or natural stone, faceted or polished.
struct Gem {
    std::string id;
    std::string name;
    Sourced density;          ///< g/cm3
    Sourced refractiveIndex;  ///< at 589 nm, the mean of the range
    Sourced dispersion;       ///< n(430.8 nm) - n(686.7 nm); 0 when none is published
    Sourced mohs;             ///< the least of the range
    Sourced etchResistance;   ///< as of a metal
    Sourced heatResistance;   ///< degrees C it stands when warmed and cooled slowly
    Sourced toughness;  ///< against chipping and breaking: 0 poor, 1 fair, 2 good, 3 excellent; of a range
                        ///< the middle
    bool perfectCleavage = false;  ///< a blow along the wrong plane splits it
    LinearRgb transmission{};      ///< share of light left after 1 mm
    LinearRgb cloud{};             ///< share of light that 1 mm scatters; none in a clear stone
    bool opalescent = false;       ///< shows flashes of colour that change with the direction
    std::string transmissionSource;
    std::vector<Caution> cautions;

    bool operator==(const Gem&) const = default;
};

/// What a channel is packed with, before the adhesive: crushed stone, pigment, glow powder.
struct Filler {
    std::string id;
    std::string name;
    Sourced density;         ///< g/cm3 of the solid
    Sourced mohs;            ///< the least of the range
    Sourced etchResistance;  ///< as of a metal
    Sourced waterResistance, lightResistance;
    std::optional<Sourced> lead;    ///< as of a metal
    std::optional<Sourced> grains;  ///< mm, the largest as it is usually bought or sieved
    LinearRgb colour{};
    LinearRgb colour2{};  ///< the second colour of its grains
    std::string colourSource;
    bool opalescent = false;
    bool glows = false;
    LinearRgb glowColour{};  ///< of its light in the dark; black when it does not glow
    std::vector<Caution> cautions;

    bool operator==(const Filler&) const = default;
};

struct Adhesive {
    std::string id;
    std::string name;
    Sourced density;              ///< g/cm3, cured
    Sourced serviceTemperature;   ///< degrees C, the most it stands in use
    Sourced layer;                ///< mm, the thickest layer that cures at once; of one that wicks, how deep
    Sourced shrinkage;            ///< share of the volume lost in curing, 0..1
    std::optional<Sourced> drop;  ///< g of a drop out of its bottle; nothing = it is weighed out
    std::optional<Sourced> layerMinutes;  ///< until the next layer can follow; nothing = not told
    std::optional<Sourced> curedHours;    ///< until it can be turned; nothing = not told
    Sourced etchResistance;               ///< as of a metal
    Sourced waterResistance, lightResistance;
    std::vector<Caution> cautions;

    bool operator==(const Adhesive&) const = default;
};

/// Where the maker's rings are sold. Unsaid is judged as the strictest.
enum class Region : std::uint8_t { Unsaid, EuUk, Elsewhere };

/// All materials known, and what the maker decided otherwise: the built-in ones, and those of the maker's own
/// files.
struct Catalogue {
    std::vector<Metal> metals;
    std::vector<Gem> gems;
    std::vector<Filler> fillers;
    std::vector<Adhesive> adhesives;
    std::vector<OwnLimit> limits;  ///< the maker's own, which stand in for those of the checks
    Region region = Region::Unsaid;
    ToleranceClass toleranceClass =
        ToleranceClass::Medium;            ///< of ISO 2768-1, kept where nothing else is said
    std::vector<OwnTolerance> tolerances;  ///< the maker's own
    Tools tools = usualTools();

    /// By id; nullptr when there is none.
    const Metal* metal(std::string_view id) const;
    const Gem* gem(std::string_view id) const;
    const Filler* filler(std::string_view id) const;
    const Adhesive* adhesive(std::string_view id) const;

    bool operator==(const Catalogue&) const = default;
};

/// The materials that come with the program; read once, on the first call.
const Catalogue& builtInCatalogue();

/// Adds the materials of the maker's own JSON file to `base`. An entry whose id is already there replaces the
/// older one and keeps each field it leaves out; so does a new entry that names another of its kind in
/// "like". Any other entry must have every field but cautions. The format is models/catalogue.schema.json,
/// with models/my-materials.json as an example. Throws InputError naming the file, the place in it, what was
/// found and what is allowed.
Catalogue extendedCatalogue(const Catalogue& base, const std::filesystem::path& file);

/// Adds the limits, tolerances, the region and the tools of the maker's own JSON file to `base`; a later one
/// for the same rule and metal, or the same field, stands in for an earlier one. The format is
/// models/limits.schema.json, with models/my-limits.json as an example. The names of rules and fields are for
/// requireLimits. Throws InputError as extendedCatalogue does.
Catalogue withLimits(const Catalogue& base, const std::filesystem::path& file);

/// The density in g/cm3 of an alloy from the mass share and density of each part, their volumes added up; a
/// part is {share, g/cm3} and the shares add up to anything but zero.
struct AlloyPart {
    double share = 0;
    double density = 0;
};
double alloyDensity(const std::vector<AlloyPart>& parts);

}  // namespace bandwright::trade
