#include "route/quantities.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "base/numbers.hpp"
#include "check/weighed.hpp"
#include "drawer.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "inlay.hpp"
#include "places.hpp"
#include "sentences.hpp"
#include "setting_places.hpp"

namespace bandwright::route {

namespace {

constexpr double kSawCut = 0.5, kTubeFacing = 0.3;  // mm
constexpr double kPaidFor = 0.9;

std::string number(double value, int decimals = 3) {
    return base::shortestNumber(base::roundedTo(value, decimals));
}

double circleArea(double diameter) {
    return std::numbers::pi / 4 * diameter * diameter;
}

/// "0.7854 x (25.4 x 25.4 - 10 x 10) x 11 mm".
std::string tubeSum(double outer, double inner, double length) {
    const std::string square = number(outer) + " x " + number(outer);
    const std::string ring =
        inner > 0 ? "(" + square + " - " + number(inner) + " x " + number(inner) + ")" : square;
    return "0.7854 x " + ring + " x " + number(length) + " mm";
}

/// Gathers the items of one ring.
class Gathering {
  public:
    Gathering(const design::Design& design, const trade::Catalogue& catalogue,
              const trade::Workshop& workshop)
        : design_(design), catalogue_(catalogue), workshop_(workshop), bodies_(geometry::bodies(design)) {}

    Quantities all() {
        addBand();
        if (design_.band.liner) addLiner();
        addFills();
        for (std::size_t i = 0; i < design_.settings.size(); ++i) {
            if (design_.settings[i].tube) addTube(i);
            if (design_.settings[i].stone) addStones(i);
        }
        return std::move(found_);
    }

  private:
    void add(const std::string& what, const std::string& material, double amount, const char* unit,
             double needed, std::string how) {
        found_.items.push_back({what, material, amount, unit, needed, std::move(how)});
    }

    double finishedVolume(geometry::PartRole role, std::size_t source) const {
        double volume = 0;
        for (const geometry::SolidPart& body : bodies_)
            if (body.part.role == role && (role == geometry::PartRole::Band ||
                                           role == geometry::PartRole::Liner || body.part.source == source))
                volume += body.solid.volume;
        return volume;
    }

    void addBand() {
        const trade::Metal& metal = *catalogue_.metal(design_.band.metal);
        const Piece piece = pieceFor(design_, catalogue_, workshop_);
        const double gram = metal.density.value / kMm3PerCm3;  // of a mm3
        found_.blankVolume = piece.volume;
        found_.finishedVolume = finishedVolume(geometry::PartRole::Band, 0);
        found_.chipVolume = found_.blankVolume - found_.finishedVolume;
        found_.blankMass = gram * found_.blankVolume;
        found_.finishedMass = gram * found_.finishedVolume;
        found_.chipMass = gram * found_.chipVolume;
        if (metal.fineness) found_.reclaimed = found_.chipMass * metal.fineness->value * kPaidFor;
        found_.stockLength = piece.length;
        const double outer = piece.stock.diameter, inner = piece.stock.bore;
        const std::string what = metal.name + (inner > 0 ? ", tube " + inMm(outer) + " by " + inMm(inner)
                                                         : ", bar " + inMm(outer));
        add(what, metal.id, found_.blankMass, "g", found_.finishedMass,
            tubeSum(outer, inner, piece.used) + " = " + number(piece.volume, 1) + " mm3; x " +
                number(metal.density.value) + " g/cm3 / 1000 = " + inGrams(found_.blankMass));
        const double parting = design_.allowances.parting;
        add(what, metal.id, piece.used, "mm", design_.band.width,
            number(design_.band.width) + " mm wide + 2 x " + number(parting) + " for the faces + " +
                number(piece.used - design_.band.width - 2 * parting) + " for the parting blade = " +
                number(piece.used) + " mm; have " + number(piece.length) + " mm, for the grip");
    }

    void addLiner() {
        const design::Liner& liner = *design_.band.liner;
        const trade::Metal& metal = *catalogue_.metal(liner.metal);
        const LinerPiece piece = linerPieceFor(design_, workshop_);
        const double outer = piece.stock.diameter, inner = piece.stock.bore, length = piece.used;
        const double volume = (circleArea(outer) - circleArea(inner)) * length;
        const double gram = metal.density.value / kMm3PerCm3;
        add(metal.name + ", " + linerStockText(piece.stock), metal.id, gram * volume, "g",
            gram * finishedVolume(geometry::PartRole::Liner, 0),
            tubeSum(outer, inner, length) + " = " + number(volume, 1) + " mm3; x " +
                number(metal.density.value) + " g/cm3 / 1000 = " + inGrams(gram * volume));
    }

    void addFills() {
        for (const geometry::SolidPart& body : geometry::bodies(design_, design::Stage::Filled))
            if (body.part.role == geometry::PartRole::Fill) addFill(body.part.source, body.solid.volume);
    }

    /// From the volume as it is packed, standing over the outside.
    void addFill(std::size_t channel, double packed) {
        const design::Fill& fill = *design_.channels[channel].fill;
        const trade::Filler& filler = *catalogue_.filler(fill.filler);
        const trade::Adhesive& adhesive = *catalogue_.adhesive(fill.adhesive);
        const double finished = finishedVolume(geometry::PartRole::Fill, channel);
        const std::string in =
            design_.channels.size() > 1 ? " for channel " + std::to_string(channel + 1) : std::string();
        const std::string volume = number(packed, 1) + " mm3 as packed x ";
        const double gram = filler.density.value / kMm3PerCm3 * fill.packing;
        add(filler.name + in, filler.id, packed * gram * kGrainLoss, "g", finished * gram,
            volume + number(fill.packing) + " of it grains x " + number(filler.density.value) +
                " g/cm3 / 1000 x 1.15 for loss = " + inGrams(packed * gram * kGrainLoss));
        const double rest = 1 - fill.packing;
        const double ml = packed * rest * kAdhesiveLoss / kMm3PerCm3,
                     finishedMl = finished * rest / kMm3PerCm3;
        const std::string what = adhesive.name + in;
        const std::string sum = volume + number(rest) + " of it adhesive / 1000 x 1.3 for loss";
        const double dense = adhesive.density.value;
        add(what, adhesive.id, ml * dense, "g", finishedMl * dense,
            sum + " x " + number(dense) + " g/cm3 = " + inGrams(ml * dense));
        add(what, adhesive.id, ml, "ml", finishedMl, sum + " = " + number(ml) + " ml");
        if (!adhesive.drop) return;
        const double drop = adhesive.drop->value;
        add(what, adhesive.id, std::ceil(ml * dense / drop - 1e-9), "drops", finishedMl * dense / drop,
            inGrams(ml * dense) + " / " + number(drop) + " g a drop, up to the next whole one");
    }

    void addTube(std::size_t setting) {
        const design::Tube& tube = *design_.settings[setting].tube;
        const trade::Metal& metal = *catalogue_.metal(tube.metal);
        const int count = placesOf(design_.settings[setting]);
        const double each = tube.height + kTubeFacing + kSawCut, length = count * each;
        const double volume = (circleArea(tube.outerDiameter) - circleArea(tube.innerDiameter)) * length;
        const double gram = metal.density.value / kMm3PerCm3;
        const std::string what = metal.name + ", tube " + inMm(tube.outerDiameter) + " by " +
                                 inMm(tube.innerDiameter) + ofSetting(design_, setting);
        add(what, metal.id, gram * volume, "g", gram * finishedVolume(geometry::PartRole::Tube, setting),
            tubeSum(tube.outerDiameter, tube.innerDiameter, length) + " = " + number(volume, 2) + " mm3; x " +
                number(metal.density.value) + " g/cm3 / 1000 = " + inGrams(gram * volume));
        add(what, metal.id, length, "mm", count * tube.height,
            std::to_string(count) + " x (" + number(tube.height) +
                " high + 0.3 to face + 0.5 for the saw) = " + number(length) + " mm");
        add(what, metal.id, count, "pieces", count, "one for each hole");
        addJoint(setting);
    }

    /// What runs between tube and hole.
    void addJoint(std::size_t setting) {
        constexpr double kSolderDensity = 9.5;  // g/cm3, silver solder, from memory
        const design::Setting& s = design_.settings[setting];
        const geometry::HoleSeat seat = geometry::seatOf(s.hole, setting);
        const int count = placesOf(s);
        const double gap = (circleArea(seat.diameter) - circleArea(s.tube->outerDiameter)) * seat.depth;
        const std::string sum = "0.7854 x (" + number(seat.diameter) + " x " + number(seat.diameter) + " - " +
                                number(s.tube->outerDiameter) + " x " + number(s.tube->outerDiameter) +
                                ") x " + number(seat.depth) + " mm of gap";
        const double most = std::max(0.0, gap) * count;
        switch (s.tube->join) {
            case design::Join::Solder: {
                const double grams = 2 * most * kSolderDensity / kMm3PerCm3;
                add("Silver solder" + ofSetting(design_, setting), std::string(trade::kSilverSolder), grams,
                    "g", grams / 2,
                    sum + " x " + std::to_string(count) + " x 9.5 g/cm3 / 1000 x 2 for what stays outside");
                break;
            }
            case design::Join::Adhesive:
                addJointAdhesive(setting, most);
                break;
            case design::Join::LaserWeld:
            case design::Join::Press:
                break;
        }
    }

    /// One drop for each hole; the thinnest of the catalogue that fills the gap.
    void addJointAdhesive(std::size_t setting, double gapVolume) {
        const design::Setting& s = design_.settings[setting];
        const double gap = (geometry::seatOf(s.hole, setting).diameter - s.tube->outerDiameter) / 2;
        const trade::Adhesive* best = nullptr;
        for (const trade::Adhesive& adhesive : catalogue_.adhesives)
            if (adhesive.drop && adhesive.layer.value >= gap &&
                (best == nullptr || adhesive.layer.value < best->layer.value))
                best = &adhesive;
        if (best == nullptr) {
            add("Adhesive for the tubes" + ofSetting(design_, setting), "", placesOf(s), "drops", 0,
                "one drop for each hole, of which most is wiped off");
            return;
        }
        const double drop = best->drop->value;
        const double needed = gapVolume / kMm3PerCm3 * best->density.value;
        const std::string what = best->name + " for the tubes" + ofSetting(design_, setting);
        add(what, best->id, placesOf(s) * drop, "g", needed,
            std::to_string(placesOf(s)) + " x " + number(drop) + " g, one drop for each hole");
        add(what, best->id, placesOf(s), "drops", needed / drop,
            "one drop for each hole, of which most is wiped off");
    }

    void addStones(std::size_t setting) {
        const design::Stone& stone = *design_.settings[setting].stone;
        const trade::Gem& gem = *catalogue_.gem(stone.gem);
        const int count = placesOf(design_.settings[setting]);
        const double length = geometry::girdleLength(stone);
        const double each = geometry::carats(stone, gem.density.value);
        const std::string size =
            length > stone.diameter ? inMm(length) + " by " + inMm(stone.diameter) : inMm(stone.diameter);
        const std::string what = gem.name + " " + size + ofSetting(design_, setting);
        add(what, gem.id, count * each, "ct", count * each,
            std::to_string(count) + " x " + number(geometry::volume(stone)) + " mm3 x " +
                number(gem.density.value) + " g/cm3 / 1000 / 0.2 g a carat = " + number(count * each) +
                " ct");
        add(what, gem.id, count, "pieces", count, "one for each hole");
    }

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    const trade::Workshop& workshop_;
    std::vector<geometry::SolidPart> bodies_;
    Quantities found_;
};

}  // namespace

Quantities quantitiesOf(const design::Design& design, const trade::Catalogue& catalogue,
                        const trade::Workshop& workshop) {
    return Gathering(design, catalogue, workshop).all();
}

}  // namespace bandwright::route
