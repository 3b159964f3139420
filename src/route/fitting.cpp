#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "check/tolerance_stack.hpp"
#include "cutting.hpp"
#include "drawer.hpp"
#include "job.hpp"
#include "lathe.hpp"
#include "places.hpp"
#include "trade/tolerance.hpp"

namespace bandwright::route {

namespace {

const trade::Metal& linerMetal(const Job& job) {
    return *job.catalogue.metal(job.design.band.liner->metal);
}

std::optional<Place> jointOf(const geometry::Section& liner) {
    const auto joints = geometry::segmentsWhere(
        liner, [](geometry::Tag tag) { return tag.feature == geometry::Feature::LinerJoint; });
    if (joints.empty()) return std::nullopt;
    return Place{joints.front().tag, geometry::pointAt(joints.front(), 0.5)};
}

Operation turnSleeve(const Job& job) {
    const design::Liner& liner = *job.design.band.liner;
    const double outside = 2 * job.after.joint + liner.interference;
    Operation op = operationFor(job, "Turn the liner of " + linerMetal(job).name);
    const LinerPiece piece = linerPieceFor(job.design, job.workshop);
    op.hold = "In the chuck or in soft jaws, " + linerStockText(piece.stock) +
              (piece.atHand ? ", which is at hand." : ".");
    op.tool = "turning tool and boring bar, " + turningSpeed(linerMetal(job), job.workshop.turningTools).tool;
    op.cut = cutAt(turningSpeed(linerMetal(job), job.workshop.turningTools), outside, job.workshop.lathe);
    noteSpeed(job, op);
    op.cut->feed = kFinishFeed;
    op.cut->along = "on the radius";
    op.doing = {"Measure the bore of the band first: the liner is made " +
                    inMm(std::abs(liner.interference), 3) +
                    (liner.interference >= 0 ? " larger" : " smaller") + " than that, on the diameter.",
                "Break its leading edge, so that it starts straight."};
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    if (const auto joint = jointOf(plain.liner)) {
        Reading reading = diameterReading("Outside of the liner by itself", outsideInstrument(job.workshop),
                                          *joint, trade::fitTolerance(outside));
        reading.loose = liner.interference;
        reading.value += reading.loose;
        reading.least += reading.loose;
        reading.most += reading.loose;
        reading.field = "band.liner.interference";
        op.readings.push_back(std::move(reading));
    }
    if (const auto place = borePlace(plain)) {
        const double left = 2 * job.design.allowances.sizing;
        op.readings.push_back(diameterReading("Bore of the liner", Instrument::BoreGauge, *place,
                                              passingTolerance(job, 2 * place->at.r, left)));
        op.readings.back().size = sizeOf(job.design, 2 * place->at.r);
    }
    const auto left = edgeFace(plain.liner, geometry::Side::Left);
    const auto right = edgeFace(plain.liner, geometry::Side::Right);
    if (left && right) {
        op.readings.push_back(alongReading("Length of the liner", Instrument::Caliper, *left, *right,
                                           toleranceOf(job, "band.width")));
    }
    op.cautions = metalCautions(job, liner.metal);
    op.minutes = 30;
    return op;
}

/// With two hundredths more than the interference it slides in.
std::string heatText(const Job& job) {
    constexpr double kToSlide = 0.02, kIndoors = 20, kHot = 300, kMillion = 1e6;
    const trade::Metal& sleeve = bandMetal(job);
    if (!sleeve.expansion) return "Press it in cold, squarely.";
    const double bore = 2 * job.after.joint;
    const double warmer =
        (job.design.band.liner->interference + kToSlide) * kMillion / (sleeve.expansion->value * bore);
    if (warmer > kHot)
        return "Press it in cold, squarely: to slide in, the band would have to be " +
               base::fixed(warmer, 0) + " degrees warmer than the liner, which is too much.";
    return "Press it in cold, squarely; or warm the band to " + base::fixed(kIndoors + warmer, 0) +
           " degrees C (" + base::fixed(warmer, 0) +
           " warmer than the liner) and it slides in: its bore is then " + inMm(kToSlide) + " larger.";
}

Operation pressIn(const Job& job) {
    const design::Liner& liner = *job.design.band.liner;
    const bool glued = liner.interference < 0;
    Operation op = operationFor(job, glued ? "Glue the liner in" : "Press the liner in");
    op.hold = "Between flat plates in the arbor press or the vice.";
    op.tool = glued ? "adhesive for a gap of " + inMm(-liner.interference / 2, 3) : "press";
    op.doing = glued ? std::vector<std::string>{"Clean both with solvent, roughen, spread thinly, turn it while it "
                                                "goes in, and let it cure before it is cut."}
                     : std::vector<std::string>{heatText(job), "Its faces come level with the band's, or stand over "
                                                               "them and are faced."};
    if (!glued)
        op.cautions.push_back(
            "Hot metal looks cold: tongs and gloves at the oven, none at the lathe. Never warm a "
            "ring that has its fill or its stones.");
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    if (const auto place = borePlace(plain)) {
        const double left = 2 * job.design.allowances.sizing;
        op.readings.push_back(diameterReading("Bore", Instrument::BoreGauge, *place,
                                              passingTolerance(job, 2 * place->at.r, left)));
        op.readings.back().size = sizeOf(job.design, 2 * place->at.r);
    }
    op.minutes = 15;
    return op;
}

/// The metal that is sized.
const trade::Metal& innerMetal(const Job& job) {
    return job.after.lined ? linerMetal(job) : bandMetal(job);
}

Operation openBore(const Job& job) {
    constexpr double kAbrasive = 0.03;
    const double hole = 2 * job.after.bore;
    Operation op = operationFor(job, "Open the bore to " + inMm(hole));
    op.hold = isOffTheBar(job)
                  ? "In soft jaws or a ring collet, on its outside of " + inMm(2 * job.before.outside) +
                        ", lightly: what is squeezed comes out three-cornered."
                  : "In the chuck, on its bar.";
    op.tool = "boring bar, then emery on a split mandrel";
    op.cut = cutAt(turningSpeed(innerMetal(job), job.workshop.turningTools), hole, job.workshop.lathe);
    noteSpeed(job, op);
    op.cut->feed = kFinishFeed;
    op.cut->along = "on the radius";
    op.cut->dial = dialOf(job.after.bore - job.before.bore, biteOf(innerMetal(job)).finishing, kAbrasive);
    const std::string from = sizeOf(job.design, 2 * job.before.bore), to = sizeOf(job.design, hole);
    const double correction = job.design.finger.widthCorrection;
    if (correction != 0)
        op.doing.push_back("The finger is " + trade::formatRingSize(job.design.finger.size) +
                           "; for the width of the "
                           "band the bore is " +
                           inMm(std::abs(correction)) + (correction > 0 ? " larger." : " smaller."));
    op.doing.insert(
        op.doing.begin(),
        {"From " + inMm(2 * job.before.bore) + (from.empty() ? "" : " (" + from + ")") + " to " + inMm(hole) +
             (to.empty() ? "" : " (" + to + ")") + " on the diameter, at the narrowest place.",
         "The last " + inMm(kAbrasive) +
             " on the radius with emery, finer and finer; try the ring mandrel "
             "from both sides."});
    op.cautions.push_back(
        "Emery is wound on a split mandrel, never on the finger, and the ring is never held in "
        "the hand while the spindle turns.");
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    if (const auto place = borePlace(plain)) {
        const double plusMinus = toleranceOf(job, check::kBore);
        Reading reading = diameterReading("Bore at its narrowest", Instrument::BoreGauge, *place, plusMinus);
        reading.most = reading.value + 2 * withinWalls(job, plusMinus / 2, geometry::isInside);
        op.readings.push_back(std::move(reading));
        op.readings.back().field = check::kBore;
        op.readings.back().size = to;
    }
    op.minutes = minutesOf(*op.cut, job.after.band.width) + 10;
    return op;
}

/// Where the rounded corner of the bore begins, on a side.
std::optional<Place> easeStart(const geometry::Section& inner, geometry::Side side) {
    std::optional<Place> best;
    for (const geometry::Segment& s : geometry::segmentsWhere(
             inner, [&](geometry::Tag tag) { return tag == geometry::Tag(geometry::Feature::Ease, side); })) {
        for (const geometry::Vec2 at : {s.from, s.to})
            if (!best || at.r < best->at.r) best = Place{s.tag, at};
    }
    return best;
}

geometry::Tag boreTag(const geometry::RingSections& plain, double z) {
    const geometry::Section& inner = plain.liner.empty() ? plain.band : plain.liner;
    for (const geometry::Segment& s :
         geometry::segmentsWhere(inner, [](geometry::Tag tag) { return geometry::isBore(tag); }))
        if (radiusAt(s, z)) return s.tag;
    return {geometry::Feature::Bore};
}

/// Diameters of the comfort curve at a few depths from an edge: what a plug of that diameter enters to.
void addCurve(const Job& job, const geometry::RingSections& plain, Operation& op) {
    const design::Band& band = job.after.band;
    const double half = band.width / 2, flat = std::min(band.bore.flat, band.width) / 2;
    const double to = half - flat;
    for (const double deep : {0.25, 0.5, 1.0, 1.5, 2.0, 3.0, 4.0}) {
        const auto r = geometry::boreAt(plain, half - deep);
        if (!r || deep <= band.bore.ease || deep >= to) continue;
        op.readings.push_back(diameterReading(
            "Bore " + inMm(deep) + " in from either face", Instrument::BoreGauge,
            {boreTag(plain, half - deep), {half - deep, *r}}, 2 * toleranceOf(job, "band.bore.rise")));
        op.readings.back().field = "band.bore.rise";
    }
}

std::optional<Operation> comfort(const Job& job) {
    const design::Bore& bore = job.after.band.bore;
    const bool curved = bore.shape == design::BoreShape::Comfort && bore.rise > 0;
    if (!curved && bore.ease == 0) return std::nullopt;
    Operation op = operationFor(
        job, curved ? "Round the bore for comfort and ease its edges" : "Ease the edges of the bore");
    op.hold = "As before, and turned round for the other side.";
    op.tool = curved ? "boring tool or half-round scraper, then emery on a rubber-backed mandrel"
                     : "emery on a rubber-backed mandrel, or a form tool";
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    const double half = job.after.band.width / 2;
    if (curved) {
        const double reach = half - std::min(bore.flat, job.after.band.width) / 2;
        const double radius = (reach * reach + bore.rise * bore.rise) / (2 * bore.rise);
        op.doing.push_back("The bore opens by " + inMm(bore.rise) + " on the radius over the last " +
                           inMm(reach) + " to each face, on a curve of " + inMm(radius) + " radius" +
                           (bore.flat > 0 ? "; the middle " + inMm(bore.flat) + " stay straight." : "."));
        addCurve(job, plain, op);
    }
    const geometry::Section& inner = plain.liner.empty() ? plain.band : plain.liner;
    for (const auto side : {geometry::Side::Left, geometry::Side::Right}) {
        const auto start = easeStart(inner, side);
        const auto face = edgeFace(inner, side);
        if (!start || !face) continue;
        op.readings.push_back(alongReading(
            std::string("Ease from the ") + (side == geometry::Side::Left ? "left" : "right") + "-hand face",
            Instrument::Caliper, *face, *start, toleranceOf(job, "band.bore.ease")));
        op.readings.back().field = "band.bore.ease";
    }
    if (bore.ease > 0)
        op.doing.push_back("Round the corner to each face with " + inMm(bore.ease) +
                           " radius: no nail may catch on it.");
    op.minutes = 15;
    return op;
}

}  // namespace

std::vector<Operation> pressLiner(const Job& job) {
    return {turnSleeve(job), pressIn(job)};
}

std::vector<Operation> sizeBore(const Job& job) {
    std::vector<Operation> operations{openBore(job)};
    if (const auto rounding = comfort(job)) operations.push_back(*rounding);
    return operations;
}

}  // namespace bandwright::route
