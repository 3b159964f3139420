#pragma once

#include <cstdint>
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "trade/catalogue.hpp"
#include "trade/tolerance.hpp"
#include "trade/tools.hpp"

/// What stands in the maker's workshop and what its work costs: a file of the maker's own.
namespace bandwright::trade {

/// Speeds a spindle can turn at, rev/min.
struct Spindle {
    double least = 0, most = 0;
    std::vector<double> steps;  ///< the speeds of its pulleys or gears, rising; empty = any between the two

    bool operator==(const Spindle&) const = default;

    /// The fastest it can turn that is no faster than asked; its slowest where all are faster.
    double nearest(double asked) const;
};

struct BoringBar {
    double diameter = 0, reach = 0;  ///< mm; reach 0 = not told
    bool carbide = false;            ///< of carbide, not of steel

    bool operator==(const BoringBar&) const = default;
};

/// A blade for channels or for parting off.
struct Blade {
    double width = 0;  ///< mm
    double nose = 0;   ///< mm, radius of its corners

    bool operator==(const Blade&) const = default;
};

enum class ToolMaterial : std::uint8_t { HighSpeedSteel, Carbide };

enum class DividerKind : std::uint8_t {
    Head,     ///< a worm: turns of a crank, and holes in a circle of a plate
    Degrees,  ///< an indexer set to whole degrees
    Plate,    ///< the work turns with a plate of holes
};

/// How the round is divided.
struct Divider {
    DividerKind kind = DividerKind::Head;
    double ratio = 40;         ///< turns of the crank for one of the work; 1 but for a head
    std::vector<int> circles;  ///< holes in each circle; 360 for whole degrees

    bool operator==(const Divider&) const = default;
};

/// Metal to turn rings from.
struct Stock {
    std::string metal;  ///< id in the catalogue; empty = a size that any metal is sold in
    double diameter = 0;
    double bore = 0;    ///< of a tube; 0 = a bar
    double length = 0;  ///< mm at hand; 0 = a size that is sold

    bool operator==(const Stock&) const = default;
};

enum class PriceUnit : std::uint8_t { Gram, Carat, Piece, Millimetre };

/// What the price of solder stands under, which is no material of the catalogue.
inline constexpr std::string_view kSilverSolder = "silver-solder";

/// What the maker pays for a material, by its id in the catalogue, or for kSilverSolder.
struct Price {
    std::string material;
    double price = 0;  ///< in the workshop's currency
    PriceUnit unit = PriceUnit::Gram;

    bool operator==(const Price&) const = default;
};

enum class Paper : std::uint8_t { A4, A5, Letter };

/// What has no value was not told. Lengths in mm.
struct Workshop {
    std::string name;     ///< as it stands on papers
    std::string address;  ///< one line, for papers
    std::optional<Region> region;
    Paper paper = Paper::A4;
    std::optional<Spindle> lathe, mill;
    ToolMaterial turningTools = ToolMaterial::Carbide;
    std::vector<BoringBar> boringBars;
    std::vector<Blade> groovingBlades;
    std::optional<Blade> partingBlade;
    std::vector<double> drills, burs, reamers;  ///< diameters
    std::vector<double> mandrels;               ///< diameters; of an expanding one its least
    std::optional<Divider> divider;
    std::optional<double> micrometer, caliper;     ///< the least they show
    std::optional<ToleranceClass> toleranceClass;  ///< of ISO 2768-1, kept where nothing else is said
    std::vector<OwnLimit> limits;                  ///< in place of those of the checks
    std::vector<Stock> stock;
    std::string currency;  ///< as it stands before or after a sum: "EUR"
    std::vector<Price> prices;
    std::optional<double> hourlyRate;
    double waste = 0, margin = 0, tax = 0;  ///< percent: of material, on the cost, on the price
    double reclaim = 0;                   ///< percent of its price that chips of a precious metal bring back
    std::optional<int> quoteDays;         ///< how long a quote stands
    std::map<std::string, double> hours;  ///< the maker's own for a step of the route, by its name: "bored"
    std::string schema;                   ///< as the file names it

    bool operator==(const Workshop&) const = default;
};

/// Reads the maker's file. The format is models/workshop.schema.json, with models/my-workshop.json as an
/// example. Materials are held against the catalogue. Throws InputError naming the file, the place in it,
/// what was found and what is allowed.
Workshop readWorkshop(const std::filesystem::path& file, const Catalogue& catalogue);

/// The catalogue with the tools, the limits and the region of a workshop, where it names them: the checks
/// then judge by them.
Catalogue withWorkshop(const Catalogue& base, const Workshop& workshop);

}  // namespace bandwright::trade
