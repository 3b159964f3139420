#include "drawer.hpp"

#include <algorithm>
#include <numbers>

#include "geometry/workpiece.hpp"
#include "places.hpp"

namespace bandwright::route {

namespace {

constexpr double kToTurnOff = 0.25;  // mm on the radius
constexpr double kGripLength = 15, kRoomToJaws = 3;

/// The bore at which the boring bar leaves off: for a liner the joint.
double boredRadius(const design::Design& design) {
    return geometry::workpiece(design, design::Stage::Bored).bore;
}

double turnedRadius(const design::Design& design) {
    return design::outsideRadius(design) + design.allowances.truing;
}

bool suffices(const trade::Stock& stock, const design::Design& design) {
    return stock.diameter / 2 >= turnedRadius(design) + kToTurnOff &&
           stock.bore / 2 <= boredRadius(design) - kToTurnOff;
}

/// Sizes that bars are sold in, inch and mm: common practice, no source.
std::vector<trade::Stock> soldBars() {
    std::vector<trade::Stock> bars;
    for (const double diameter : {18.0, 19.05, 20.0, 22.0, 22.2, 23.8, 25.0, 25.4, 28.0, 28.6, 30.0, 31.75,
                                  35.0, 38.1, 40.0, 45.0, 50.0})
        bars.push_back({"", diameter, 0, 0});
    return bars;
}

const trade::Stock* smallest(const std::vector<trade::Stock>& rack, auto&& fits) {
    const trade::Stock* best = nullptr;
    for (const trade::Stock& stock : rack) {
        if (!fits(stock)) continue;
        // Of two alike the tube, which leaves less to drill.
        if (best == nullptr || stock.diameter < best->diameter ||
            (stock.diameter == best->diameter && stock.bore > best->bore))
            best = &stock;
    }
    return best;
}

}  // namespace

Piece pieceFor(const design::Design& design, const trade::Catalogue& catalogue,
               const trade::Workshop& workshop) {
    const double blade = partingBladeOf(workshop).width;
    Piece piece;
    piece.used = design.band.width + 2 * design.allowances.parting + blade;
    piece.standsOut = piece.used + kRoomToJaws;
    piece.length = piece.used + kGripLength;
    const auto own = [&](const trade::Stock& s) {
        return suffices(s, design) && s.metal == design.band.metal &&
               (s.length == 0 || s.length >= piece.length);
    };
    const auto sold = [&](const trade::Stock& s) { return suffices(s, design) && s.metal.empty(); };
    const std::vector<trade::Stock> usual = soldBars();
    const trade::Stock* found = smallest(workshop.stock, own);
    piece.atHand = found != nullptr && found->length > 0;
    const trade::Metal* metal = catalogue.metal(design.band.metal);
    piece.toOrder = found == nullptr && metal != nullptr && metal->precious != trade::Precious::None;
    if (found == nullptr && !piece.toOrder) found = smallest(workshop.stock, sold);
    if (found == nullptr && !piece.toOrder) found = smallest(usual, sold);
    piece.suffices = found != nullptr || piece.toOrder;
    const geometry::Workpiece blank = geometry::workpiece(design, design::Stage::Blank);
    piece.stock = found != nullptr
                      ? *found
                      : trade::Stock{"", 2 * blank.outside, piece.toOrder ? 2 * blank.bore : 0, 0};
    const double outer = piece.stock.diameter / 2, inner = piece.stock.bore / 2;
    piece.volume = std::numbers::pi * (outer * outer - inner * inner) * piece.used;
    return piece;
}

LinerPiece linerPieceFor(const design::Design& design, const trade::Workshop& workshop) {
    const design::Liner& liner = *design.band.liner;
    LinerPiece piece;
    piece.used = design.band.width + 2 * design.allowances.parting;
    const double outer = 2 * (design::linerRadius(design) + kToTurnOff) + std::max(0.0, liner.interference);
    const double inner =
        std::max(0.0, 2 * (design::boreRadius(design) - design.allowances.sizing - kToTurnOff));
    const trade::Stock* found = smallest(workshop.stock, [&](const trade::Stock& stock) {
        return stock.metal == liner.metal && stock.diameter >= outer && stock.bore <= inner &&
               (stock.length == 0 || stock.length >= piece.used);
    });
    piece.atHand = found != nullptr && found->length > 0;
    piece.stock = found != nullptr ? *found : trade::Stock{liner.metal, outer, inner, 0};
    return piece;
}

std::string linerStockText(const trade::Stock& stock) {
    return stock.bore > 0 ? "tube for the liner, " + inMm(stock.diameter) + " by " + inMm(stock.bore)
                          : "bar for the liner, " + inMm(stock.diameter);
}

std::vector<double> drillsOf(const trade::Workshop& workshop) {
    if (!workshop.drills.empty()) return workshop.drills;
    std::vector<double> drills;
    for (int halves = 2; halves <= 26; ++halves)
        drills.push_back(halves / 2.0);
    return drills;
}

std::optional<double> largestUpTo(const std::vector<double>& sizes, double most) {
    std::optional<double> best;
    for (const double size : sizes)
        if (size <= most && (!best || size > *best)) best = size;
    return best;
}

double blankHole(const design::Design& design, const trade::Catalogue& catalogue,
                 const trade::Workshop& workshop) {
    const double tube = pieceFor(design, catalogue, workshop).stock.bore;
    if (tube > 0) return tube;
    const std::vector<double> drills = drillsOf(workshop);
    const double most = 2 * (boredRadius(design) - kToTurnOff);
    return largestUpTo(drills, most).value_or(std::min(drills.front(), most));
}

ChosenBar boringBarFor(const trade::Workshop& workshop, double hole, double depth) {
    constexpr double kShare = 0.7, kSteel = 4, kCarbide = 6;
    std::vector<trade::BoringBar> bars = workshop.boringBars;
    const bool told = !bars.empty();
    if (!told) bars = {{4, 0, false}, {6, 0, false}, {8, 0, false}};
    const auto judged = [&](const trade::BoringBar& bar) {
        const double most = bar.carbide ? kCarbide : kSteel, slender = depth / bar.diameter;
        return ChosenBar{bar, told, slender <= most && (bar.reach == 0 || bar.reach >= depth), slender, most};
    };
    std::optional<ChosenBar> best;
    for (const trade::BoringBar& bar : bars) {
        if (bar.diameter > kShare * hole) continue;
        const ChosenBar chosen = judged(bar);
        const bool better = !best || chosen.reaches > best->reaches ||
                            (chosen.reaches == best->reaches && bar.diameter > best->bar.diameter);
        if (better) best = chosen;
    }
    if (best) return *best;
    ChosenBar ground = judged(*std::ranges::min_element(bars, {}, &trade::BoringBar::diameter));
    ground.reaches = false;
    return ground;
}

ChosenBlade groovingBladeFor(const trade::Workshop& workshop, double width, double noseRadius) {
    std::vector<trade::Blade> blades = workshop.groovingBlades;
    const bool told = !blades.empty();
    if (!told) blades = {{0.4, 0}, {0.5, 0}, {0.8, 0}, {1, 0}, {1.5, 0}, {2, 0}};
    std::optional<trade::Blade> best;
    for (const trade::Blade& blade : blades) {
        if (blade.width > width || blade.nose > noseRadius) continue;
        if (!best || blade.width > best->width) best = blade;
    }
    if (best) return {*best, told, true};
    return {*std::ranges::min_element(blades, {}, &trade::Blade::width), told, false};
}

trade::Blade partingBladeOf(const trade::Workshop& workshop) {
    return workshop.partingBlade.value_or(trade::Blade{2, 0});
}

Instrument outsideInstrument(const trade::Workshop& workshop) {
    return workshop.micrometer ? Instrument::Micrometer : Instrument::Caliper;
}

}  // namespace bandwright::route
