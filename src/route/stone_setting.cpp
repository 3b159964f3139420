#include <algorithm>
#include <array>
#include <cmath>

#include "base/numbers.hpp"
#include "cutting.hpp"
#include "drawer.hpp"
#include "geometry/stone.hpp"
#include "geometry/tolerance.hpp"
#include "lathe.hpp"
#include "sentences.hpp"
#include "setting_places.hpp"

/// Tubes, stones and lips.
namespace bandwright::route {

namespace {

/// A setting at the job's step, in the plane through its hole's middle.
struct Seen {
    const Job& job;
    std::size_t number;
    const design::Setting& setting;
    Outlines outlines;

    Seen(const Job& job_, std::size_t number_)
        : job(job_),
          number(number_),
          setting(job_.design.settings[number_]),
          outlines(outlinesThrough(job_, number_)) {}

    double middle() const { return setting.placement.offset; }
    int side() const { return sideInwards(setting); }
    std::string of() const { return ofSetting(job.design, number); }
    std::string field(const std::string& rest) const { return settingField(number, rest); }
    double tolerance(const std::string& rest) const { return toleranceOf(job, field(rest)); }

    std::optional<Place> end(geometry::Feature feature, bool farthest) const {
        return end(feature, side(), farthest);
    }
    std::optional<Place> end(geometry::Feature feature, int on, bool farthest) const {
        return endWhere(outlines, middle(), on, farthest,
                        [=](geometry::Tag tag) { return tag.feature == feature; });
    }

    /// Across something round, at the ends of its outline on both sides.
    void addAcross(Operation& op, const std::string& what, Instrument instrument, geometry::Feature feature,
                   const std::string& rest) const {
        const auto left = end(feature, -1, true), right = end(feature, 1, true);
        if (left && right)
            op.readings.push_back(
                acrossReading(what, instrument, *left, *right, tolerance(rest), field(rest)));
    }

    void addUpright(Operation& op, const std::string& what, Instrument instrument,
                    const std::optional<Place>& low, const std::optional<Place>& high, double plusMinus,
                    const std::string& rest) const {
        if (!low || !high || high->at.r < low->at.r) return;
        op.readings.push_back(radialReading(what, instrument, *low, *high, plusMinus));
        op.readings.back().least = std::max(0.0, op.readings.back().least);
        op.readings.back().field = field(rest);
    }

    /// The surface beside the hole, from which heights are read.
    std::optional<Place> beside() const { return besideHole(outlines, setting, number); }
};

std::string onEach(const design::Setting& setting) {
    const int count = placesOf(setting);
    return count == 1 ? std::string() : ", at each of the " + std::to_string(count);
}

constexpr double kFacing = 0.3;  // mm on a sawn tube for its two ends; our own choice

Operation makeTubes(const Seen& seen) {
    const design::Tube& tube = *seen.setting.tube;
    const trade::Metal& metal = *seen.job.catalogue.metal(tube.metal);
    const int count = placesOf(seen.setting);
    Operation op = operationFor(seen.job, "Make " + counted(count, "tube") + seen.of());
    op.hold = "In a collet for " + inMm(tube.outerDiameter) + ".";
    op.tool = toolOf("flat-ended drill or end mill", tube.seatDiameter, seen.job.workshop.burs, op);
    const Speed drill = drillingSpeed(metal);
    op.cut = cutAt(
        {drill.value / 2, drill.tool, "half of a drill's, our own choice; of the drill: " + drill.source},
        tube.seatDiameter, seen.job.workshop.lathe);
    op.cut->feed = 0.01;  // from memory
    op.cut->dial = dialOf(tube.seatDepth, 0.4, 0.1);
    op.cut->along = "into the tube";
    op.doing = {"From tube of " + metal.name + ", " + inMm(tube.outerDiameter) + " outside and " +
                    inMm(tube.innerDiameter) + " inside, saw " + counted(count, "piece") + " of " +
                    inMm(tube.height + kFacing) + " and face both ends to " + inMm(tube.height) + " high.",
                "Open the upper end to " + inMm(tube.seatDiameter) + ", " + inMm(tube.seatDepth) +
                    " deep: that leaves a lip of " + inMm((tube.outerDiameter - tube.seatDiameter) / 2) +
                    " and a ledge of " + inMm((tube.seatDiameter - tube.innerDiameter) / 2) + ".",
                "Try a stone in the first before the next is cut."};
    seen.addAcross(op, "Tube", Instrument::Micrometer, geometry::Feature::TubeOutside, "tube.outer-diameter");
    seen.addAcross(op, "Seat in the tube", Instrument::PinGauge, geometry::Feature::TubeSeat,
                   "tube.seat-diameter");
    const auto top = seen.end(geometry::Feature::TubeLip, true);
    seen.addUpright(op, "Height of the tube", Instrument::Caliper,
                    seen.end(geometry::Feature::TubeEnd, false), top, seen.tolerance("tube.height"),
                    "tube.height");
    seen.addUpright(op, "Depth of the seat in the tube", Instrument::DepthGauge,
                    seen.end(geometry::Feature::TubeLedge, false), top, seen.tolerance("tube.seat-depth"),
                    "tube.seat-depth");
    op.minutes = 10 + 15 * count;
    return op;
}

/// mm between tube and hole, on the radius.
double gapOf(const design::Setting& setting) {
    return (geometry::seatOf(setting.hole, 0).diameter - setting.tube->outerDiameter) / 2;
}

/// By the gap it still fills: Handbook of Adhesive Technology.
std::string gradeFor(double gap) {
    if (gap <= 0.05) return "thin cyanoacrylate, run in from the top when the tube stands";
    if (gap <= 0.25) return "medium cyanoacrylate, or slow epoxy";
    return "thick cyanoacrylate, or slow epoxy";
}

void glue(const Seen& seen, Operation& op) {
    op.tool = gradeFor(gapOf(seen.setting));
    op.doing = {"Roughen the tube's outside with P400 and clean both with acetone; dry.",
                "The gap is " + inMm(gapOf(seen.setting)) + " on the radius: take " + op.tool + "."};
    op.doing.push_back(
        "Wet the hole sparingly, press the tube down until it stands on the floor, turn it once, and wipe "
        "what comes out before it sets" +
        onEach(seen.setting) + ".");
    op.doing.push_back("Leave it for 24 hours before a stone is set in it.");
    op.cautions.push_back(
        "Cyanoacrylate bonds skin in seconds and its vapour irritates nose and eyes; epoxy that is not "
        "cured sensitises the skin: gloves, and air the place.");
}

struct Flow {
    design::Solder solder;
    const char* name;
    const char* degrees;
};
constexpr std::array<Flow, 4> kFlows{{{design::Solder::ExtraEasy, "extra-easy", "618"},
                                      {design::Solder::Easy, "easy", "718"},
                                      {design::Solder::Medium, "medium", "740 to 760"},
                                      {design::Solder::Hard, "hard", "770 to 790"}}};

void solder(const Seen& seen, Operation& op) {
    const Flow& flow = *std::ranges::find(kFlows, seen.setting.tube->solder, &Flow::solder);
    op.tool = std::string("torch, flux, ") + flow.name + " silver solder";
    op.doing = {"Clean both bright. The gap is " + inMm(gapOf(seen.setting)) +
                    " on the radius; solder runs into 0.025 to 0.125 mm, best 0.04.",
                "Flux both, stand the tube in its hole" + onEach(seen.setting) +
                    ", and lay two snippets of solder against it.",
                "Warm the whole ring evenly until the solder flows, at " + std::string(flow.degrees) +
                    " degrees C; take the flame away as soon as it has run round.",
                "Let it cool until it is black, quench, pickle, rinse, and boil in soda water."};
    addWorkCautions(seen.job, "Solder", op);
}

void weld(const Seen& seen, Operation& op) {
    op.tool = "laser welder, argon";
    op.doing = {
        "Clean both with acetone. The gap is " + inMm(gapOf(seen.setting)) + " on the radius.",
        "Begin with a spot of 0.4 to 0.6 mm, 2 to 4 ms and 200 to 280 V under argon, from memory: find what "
        "melts both and throws nothing out, on scrap of the same metals.",
        "Tack at four places a quarter apart, check that the tube stands square, then go round with each "
        "spot "
        "half over the one before" +
            onEach(seen.setting) + ".",
        "Held in the fingers it stays cool enough for stones and fills beside it."};
    addWorkCautions(seen.job, "Laser", op);
}

void press(const Seen& seen, Operation& op) {
    op.doing = {"Ease the tube's lower edge, and take the burr off the hole's mouth.",
                "Press it straight down on its ledge with a flat punch, slowly and without a blow" +
                    onEach(seen.setting) + ": it is " + inMm(-2 * gapOf(seen.setting)) +
                    " larger than its hole on the diameter.",
                "Try the stone in its seat: what is pressed grows narrower."};
}

Operation join(const Seen& seen) {
    Operation op = operationFor(seen.job, "");
    op.hold = "Upright in a ring clamp or on a rod, the hole on top.";
    const std::string tubes = placesOf(seen.setting) == 1 ? "tube" : "tubes";
    switch (seen.setting.tube->join) {
        case design::Join::Adhesive:
            op.name = "Glue in the " + tubes + seen.of();
            glue(seen, op);
            break;
        case design::Join::Solder:
            op.name = "Solder in the " + tubes + seen.of();
            solder(seen, op);
            break;
        case design::Join::LaserWeld:
            op.name = "Weld in the " + tubes + seen.of();
            weld(seen, op);
            break;
        case design::Join::Press:
            op.name = "Press in the " + tubes + seen.of();
            press(seen, op);
            break;
    }
    seen.addUpright(op, "Tube above the surface beside it", Instrument::DepthGauge, seen.beside(),
                    seen.end(geometry::Feature::TubeLip, true), seen.tolerance("tube.height"), "tube.height");
    op.minutes = 15 + 6 * placesOf(seen.setting);
    return op;
}

}  // namespace

std::vector<Operation> joinTubes(const Job& job) {
    std::vector<Operation> operations;
    for (std::size_t i = 0; i < job.design.settings.size(); ++i) {
        if (!job.design.settings[i].tube) continue;
        const Seen seen(job, i);
        operations.push_back(makeTubes(seen));
        operations.push_back(join(seen));
    }
    return operations;
}

namespace {

/// The widest or the farthest place of a stone's outline.
bool isStone(geometry::Tag tag) {
    return geometry::regionOf(tag.feature) == geometry::Region::Stone;
}

std::optional<Place> widest(const Seen& seen, int on) {
    std::optional<Place> best;
    for (const geometry::Segment& s : seen.outlines) {
        if (!isStone(s.tag)) continue;
        for (const geometry::Vec2 p : {s.from, s.to})
            if (!best || on * (p.z - best->at.z) > 0) best = Place{s.tag, p};
    }
    return best;
}

std::optional<Place> topOfStone(const Seen& seen) {
    std::optional<Place> best;
    for (const geometry::Segment& s : seen.outlines) {
        if (!isStone(s.tag)) continue;
        for (const geometry::Vec2 p : {s.from, s.to})
            if (!best || p.r > best->at.r) best = Place{s.tag, p};
    }
    return best;
}

/// The upper edge of the girdle, where the stone is widest.
std::optional<Place> girdleTop(const Seen& seen) {
    const auto wide = widest(seen, seen.side());
    if (!wide) return std::nullopt;
    Place best = *wide;
    for (const geometry::Segment& s : seen.outlines) {
        if (!isStone(s.tag)) continue;
        for (const geometry::Vec2 p : {s.from, s.to})
            if (std::abs(p.z - wide->at.z) < geometry::kSamePoint && p.r > best.at.r) best = Place{s.tag, p};
    }
    return best;
}

std::string stoneText(const Seen& seen) {
    const design::Stone& stone = *seen.setting.stone;
    const double length = geometry::girdleLength(stone);
    const std::string size =
        length > stone.diameter ? inMm(length) + " by " + inMm(stone.diameter) : inMm(stone.diameter);
    return counted(placesOf(seen.setting), "stone") + ", " + seen.job.catalogue.gem(stone.gem)->name + " " +
           size + ", " + inMm(geometry::heights(stone).total()) + " high";
}

/// The seat's diameter, in the tube or in the metal.
double seatDiameter(const design::Setting& setting) {
    return setting.tube ? setting.tube->seatDiameter : geometry::seatOf(setting.hole, 0).diameter;
}

Operation set(const Seen& seen) {
    const design::Stone& stone = *seen.setting.stone;
    const double play = (seatDiameter(seen.setting) - geometry::girdleLength(stone)) / 2;
    Operation op = operationFor(
        seen.job,
        std::string(placesOf(seen.setting) == 1 ? "Lay in the stone" : "Lay in the stones") + seen.of());
    op.hold =
        "In a ring clamp, or on a stick in setter's wax, which is warmed no more than stone and fill bear.";
    op.tool = "loupe, wax stick, bur for the seat";
    op.doing = {stoneText(seen) + ". Measure each: sold by the millimetre, they differ by 0.1 mm.",
                "Try each in its seat: it drops in without force, lies level, does not rock, and shows " +
                    inMm(std::max(0.0, play)) +
                    " of gap all round. Where it sits high on one side, take the seat down there.",
                "Mark which stone belongs where."};
    if (const auto left = widest(seen, -1), right = widest(seen, 1); left && right) {
        op.readings.push_back(acrossReading("Stone across its girdle", Instrument::Micrometer, *left, *right,
                                            seen.tolerance("stone.diameter"), seen.field("stone.diameter")));
        Reading& reading = op.readings.back();
        reading.most = std::max(reading.value, std::min(reading.most, seatDiameter(seen.setting)));
    }
    const auto top = topOfStone(seen);
    const double plusMinus = seen.tolerance("hole.steps[0].depth") + seen.tolerance("tube.height");
    const auto beside = seen.beside();
    const bool sunk = top && beside && top->at.r < beside->at.r;
    seen.addUpright(op, sunk ? "Stone below the surface beside it" : "Stone above the surface beside it",
                    Instrument::DepthGauge, sunk ? top : beside, sunk ? beside : top, plusMinus,
                    "stone.diameter");
    if (seen.setting.tube)
        seen.addUpright(op, "Lip above the girdle, all round", Instrument::DepthGauge, girdleTop(seen),
                        seen.end(geometry::Feature::TubeLip, true), seen.tolerance("tube.seat-depth"),
                        "tube.seat-depth");
    op.minutes = 5 + 10 * placesOf(seen.setting);
    return op;
}

}  // namespace

std::vector<Operation> setStones(const Job& job) {
    std::vector<Operation> operations;
    for (std::size_t i = 0; i < job.design.settings.size(); ++i)
        if (job.design.settings[i].stone) operations.push_back(set(Seen(job, i)));
    if (!operations.empty() && !job.before.filled) addHallmark(job, operations.front());
    return operations;
}

namespace {

/// The inner end of a closed lip on a side.
std::optional<Place> lipEnd(const Seen& seen, int on) {
    std::optional<Place> best;
    for (const geometry::Segment& s : seen.outlines) {
        if (s.tag.feature != geometry::Feature::TubeLip) continue;
        for (const geometry::Vec2 p : {s.from, s.to}) {
            const double out = on * (p.z - seen.middle());
            if (out > 0 && (!best || out < on * (best->at.z - seen.middle()))) best = Place{s.tag, p};
        }
    }
    return best;
}

/// A measure of the report about a setting, by its id without number.
const check::Measure* measured(const Seen& seen, const std::string& id) {
    const std::string numbered = seen.number == 0 ? id : id + "@" + std::to_string(seen.number + 1);
    const auto found = std::ranges::find(seen.job.report.measures, numbered, &check::Measure::id);
    return found == seen.job.report.measures.end() ? nullptr : &*found;
}

void sayClosing(const Seen& seen, Operation& op) {
    const bool burnished = seen.setting.closing == design::Closing::Burnished;
    const std::string what = seen.setting.tube ? "lip" : "edge";
    op.tool = burnished ? "pusher, then a polished burnisher"
                        : "hammer handpiece or a punch with a polished, flat end";
    op.doing.push_back("Press the " + what +
                       " down at four places a quarter apart, then between them, until the stone "
                       "is held and cannot turn.");
    op.doing.push_back(
        burnished ? "Rub it down all round with the burnisher, a drop of oil on it, from the outside "
                    "towards the stone and never on to it."
                  : "Go round with light blows along the " + what +
                        ", the tool leaning outwards so that it never meets the stone; the last round "
                        "with a burnisher.");
    op.doing.push_back(
        "Look for gaps under the loupe, and tap the stone with a brass rod: what is loose clicks.");
}

Operation close(const Seen& seen) {
    Operation op =
        operationFor(seen.job, std::string(seen.setting.tube ? "Close the lip" : "Close the edge") +
                                   (placesOf(seen.setting) == 1 ? "" : "s") + seen.of());
    op.hold = "In setter's wax on a stick, or in a ring clamp on leather.";
    sayClosing(seen, op);
    if (seen.setting.tube) {
        if (const auto left = lipEnd(seen, -1), right = lipEnd(seen, 1); left && right)
            op.readings.push_back(acrossReading("Opening of the closed lip", Instrument::Caliper, *left,
                                                *right, 2 * seen.tolerance("tube.seat-depth"),
                                                seen.field("tube.seat-depth")));
        seen.addUpright(op, "Lip above the surface beside it", Instrument::DepthGauge, seen.beside(),
                        seen.end(geometry::Feature::TubeLip, true), seen.tolerance("tube.height"),
                        "tube.height");
    } else if (const check::Measure* cover = measured(seen, "edge-cover")) {
        op.doing.insert(op.doing.begin(), "Leaned in to 45 degrees the metal's edge reaches " +
                                              inMm(cover->value) + " over the girdle.");
    }
    addCautions(op, seen.job.catalogue.gem(seen.setting.stone->gem)->cautions);
    op.cautions.push_back("Eye protection: a stone that breaks throws splinters.");
    op.minutes = 5 + 15 * placesOf(seen.setting);
    return op;
}

}  // namespace

std::vector<Operation> closeLips(const Job& job) {
    std::vector<Operation> operations;
    for (std::size_t i = 0; i < job.design.settings.size(); ++i)
        if (job.design.settings[i].stone) operations.push_back(close(Seen(job, i)));
    return operations;
}

}  // namespace bandwright::route
