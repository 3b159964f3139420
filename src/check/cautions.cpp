#include "check/cautions.hpp"

#include <algorithm>
#include <array>
#include <string>

#include "base/numbers.hpp"
#include "check/weighed.hpp"

namespace bandwright::check {

namespace {

/// What to heed when the ring is coloured, soldered or welded.
void addWork(const design::Design& design, std::vector<MaterialCaution>& into) {
    const auto joins = [&](design::Join join) {
        return std::ranges::any_of(design.settings, [&](const design::Setting& setting) {
            return setting.tube && setting.tube->join == join;
        });
    };
    const design::Treatment treatment = design.band.surface.treatment;
    if (treatment == design::Treatment::Anodised) {
        into.push_back(
            {"Anodising",
             {"Above 60 V direct current is dangerous to touch: a supply that limits the current, dry "
              "hands, one at a time, and never alone. The colour goes by the film, and the volts differ "
              "from bath to bath: try it on scrap of the same bar with the same finish.",
              "from memory: IEC 61140, 60 V wet and 120 V dry; table of nokit.org"}});
    }
    if (treatment == design::Treatment::Blackened) {
        into.push_back(
            {"Blackening",
             {"It is done at 600 to 900 degrees C in air, which burns fill and adhesive and cracks "
              "stones: they go in afterwards. Make every cut and bevel first, for it cannot be "
              "retouched, and an edge that is knocked to the metal shows bright.",
              "from memory; common practice, no source"}});
    }
    if (joins(design::Join::Solder)) {
        into.push_back(
            {"Solder",
             {"Only solder that is sold as free of cadmium: its fume kills, and jewellery with 0.01 % "
              "or more may not be sold in the EU and UK. Extract the fume of the flux.",
              "REACH Annex XVII entry 23, by ECHA; the fume from memory"}});
    }
    if (joins(design::Join::LaserWeld)) {
        into.push_back(
            {"Laser",
             {"A welding laser is of class 4: even a reflection blinds, and it burns skin. A closed "
              "chamber, or eyewear marked for its wavelength; extract the fume, and mask stones.",
              "OSHA STD 01-05-001; ANSI Z136.1; IEC 60825-1"}});
    }
}

/// Grams of metal above which the UK wants a hallmark.
struct Duty {
    trade::Precious metal;
    const char* name;
    double grams;
};
constexpr std::array kDuties{
    Duty{trade::Precious::Gold, "gold", 1}, Duty{trade::Precious::Silver, "silver", 7.78},
    Duty{trade::Precious::Platinum, "platinum", 0.5}, Duty{trade::Precious::Palladium, "palladium", 1}};

/// What of a ring a hallmark's sentence depends on.
struct Hallmarked {
    double grams = 0;      ///< of all its metal
    bool isMixed = false;  ///< other metals are in it
    bool hasStones = false, hasFill = false;
};

MaterialCaution hallmark(const Duty& duty, const Hallmarked& ring) {
    const std::string limit = base::shortestNumber(duty.grams) + " g";
    std::string asked = " needs a hallmark only above " + limit + ".";
    if (ring.grams > duty.grams) {
        asked = " must be hallmarked above " + limit;
        if (ring.isMixed) asked += ", counted with all other metal in it";
        asked += ": send it to an assay office";
        if (ring.hasStones || ring.hasFill)
            asked += std::string(" before ") + (!ring.hasFill    ? "the stones are in"
                                                : ring.hasStones ? "stones and fill are in"
                                                                 : "the fill is in");
        if (ring.isMixed) asked += ", and ask them how the other metals are marked";
        asked += ".";
    }
    return {
        "Hallmark",
        {"The metal of this ring weighs " + base::fixed(ring.grams, 2) + " g; in the UK what is sold as " +
             duty.name + asked + " Elsewhere ask the law of the place.",
         "Hallmarking Act 1973, by the assay offices' pages"}};
}

/// For each precious metal of the ring: where others are in it too, the weight of all metal counts.
void addHallmarks(const design::Design& design, const trade::Catalogue& catalogue,
                  std::span<const geometry::SolidPart> bodies, std::vector<MaterialCaution>& into) {
    const auto metalOf = [&](const geometry::SolidPart& body) -> const trade::Metal* {
        const bool isMetal = geometry::materialKind(body.part.role) == geometry::MaterialKind::Metal;
        return isMetal ? catalogue.metal(body.part.material) : nullptr;
    };
    Hallmarked ring;
    std::vector<trade::Precious> kinds;  // of each body of metal, one of no precious metal too
    for (const geometry::SolidPart& body : bodies) {
        const trade::Metal* metal = metalOf(body);
        ring.hasStones = ring.hasStones || body.part.role == geometry::PartRole::Stone;
        ring.hasFill = ring.hasFill || body.part.role == geometry::PartRole::Fill;
        if (metal == nullptr || metal->substance != trade::Substance::Metal) continue;
        ring.grams += mass(body, design, catalogue);
        kinds.push_back(metal->precious);
    }
    for (const Duty& duty : kDuties) {
        const auto own = static_cast<std::size_t>(std::ranges::count(kinds, duty.metal));
        if (own == 0) continue;
        ring.isMixed = own < kinds.size();
        into.push_back(hallmark(duty, ring));
    }
}

}  // namespace

std::vector<MaterialCaution> cautions(const design::Design& design, const trade::Catalogue& catalogue,
                                      std::span<const geometry::SolidPart> bodies) {
    std::vector<MaterialCaution> result;
    const auto add = [&](const auto* material) {
        if (material == nullptr) return;
        for (const trade::Caution& caution : material->cautions) {
            const bool known = std::ranges::any_of(
                result, [&](const MaterialCaution& other) { return other.caution.text == caution.text; });
            if (!known) result.push_back({material->name, caution});
        }
    };
    add(catalogue.metal(design.band.metal));
    if (design.band.liner) add(catalogue.metal(design.band.liner->metal));
    for (const design::Channel& channel : design.channels) {
        if (!channel.fill) continue;
        add(catalogue.filler(channel.fill->filler));
        add(catalogue.adhesive(channel.fill->adhesive));
    }
    for (const design::Setting& setting : design.settings) {
        if (setting.tube) add(catalogue.metal(setting.tube->metal));
        if (setting.stone) add(catalogue.gem(setting.stone->gem));
    }
    addWork(design, result);
    if (catalogue.region != trade::Region::Elsewhere) addHallmarks(design, catalogue, bodies, result);
    return result;
}

}  // namespace bandwright::check
