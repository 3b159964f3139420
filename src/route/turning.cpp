#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "cutting.hpp"
#include "drawer.hpp"
#include "job.hpp"
#include "lathe.hpp"
#include "places.hpp"

namespace bandwright::route {

namespace {

std::string stockName(const Job& job, const Piece& piece) {
    const trade::Metal& metal = bandMetal(job);
    const bool tube = piece.stock.bore > 0;
    return metal.name + (tube ? ", tube " : ", bar ") + inMm(piece.stock.diameter) +
           (tube ? " outside, " + inMm(piece.stock.bore) + " inside" : "");
}

Operation saw(const Job& job, const Piece& piece) {
    Operation op = operationFor(job, "Take the stock and face its end");
    op.hold = "In the chuck, standing out " + inMm(piece.standsOut) + ".";
    op.tool = "facing tool, " + turningSpeed(bandMetal(job), job.workshop.turningTools).tool;
    op.cut = turningCut(job, piece.stock.diameter);
    op.cut->feed = kFinishFeed;
    op.doing = {stockName(job, piece) + ", at least " + inMm(piece.length) + " long: " + inMm(piece.used) +
                    " for the ring, its faces and the parting blade, the rest for the grip.",
                "Face the end until it is just clean all over. It is the ring's right-hand side, towards the "
                "tailstock."};
    if (!piece.suffices) {
        op.missing.push_back("stock of " + inMm(piece.stock.diameter) +
                             " or more: none that is known suffices");
    } else if (piece.toOrder) {
        op.missing.push_back("stock of " + bandMetal(job).name +
                             " at hand: a tube or a cast ring of that size is to be ordered");
    } else if (!piece.atHand) {
        op.missing.push_back("stock of " + bandMetal(job).name +
                             " at hand: the next size that is sold is taken");
    }
    op.cautions = metalCautions(job, job.design.band.metal);
    op.cautions.push_back(
        "At a lathe no gloves, rings, loose sleeves or loose hair; the chuck's key never stays in it; "
        "eye protection.");
    op.minutes = 10;
    return op;
}

/// Rising: one of about half the size first, so that the last does not cut with its chisel edge.
std::vector<double> drillsUpTo(const trade::Workshop& workshop, double last) {
    constexpr double kBegin = 6;
    std::vector<double> drills;
    if (last > kBegin) {
        if (const auto first = largestUpTo(drillsOf(workshop), last / 2)) drills.push_back(*first);
    }
    drills.push_back(last);
    return drills;
}

std::string drillStep(const Job& job, double drill) {
    const Cut cut = cutAt(drillingSpeed(bandMetal(job)), drill, job.workshop.lathe);
    return "Drill " + inMm(drill) + " at " + base::fixed(cut.spindle, 0) + " rev/min, " +
           base::fixed(drillFeed(drill), 2) + " mm a turn.";
}

Operation drillBlank(const Job& job, const Piece& piece) {
    const double hole = 2 * job.after.bore;
    Operation op = operationFor(job, "Drill to " + inMm(hole));
    op.hold = "As before.";
    op.tool = "centre drill, then drills in the tailstock";
    op.cut = cutAt(drillingSpeed(bandMetal(job)), hole, job.workshop.lathe);
    noteSpeed(job, op);
    op.cut->feed = drillFeed(hole);
    const double point = drillPoint(hole, 118);
    op.cut->dial = {piece.used + point};
    op.cut->along = "along the axis";
    op.doing = {"Centre-drill, so that the drill does not walk."};
    for (const double drill : drillsUpTo(job.workshop, hole))
        op.doing.push_back(drillStep(job, drill));
    op.doing.push_back("To the tip it goes " + inMm(op.cut->dial.back(), 1) + " deep: " + inMm(piece.used) +
                       " for the ring and the point of " + inMm(point, 1) +
                       ". Out every half diameter to clear the chips, and never let it rub.");
    if (job.workshop.drills.empty())
        op.missing.push_back("drills: 1 to 13 mm in steps of 0.5 mm are taken as there");
    op.minutes = 10;
    return op;
}

void noteBar(const ChosenBar& bar, Operation& op) {
    op.tool = "boring bar " + inMm(bar.bar.diameter) + (bar.bar.carbide ? ", carbide" : ", steel");
    if (!bar.told) op.missing.push_back("boring bars: steel ones of 4, 6 and 8 mm are taken as there");
    if (bar.reaches) return;
    op.cautions.push_back("The bar stands out " + base::fixed(bar.slender, 1) + " times its diameter (" +
                          base::fixed(bar.most, 0) +
                          " is what such a bar stands, and it must reach): it chatters. Take half the depth "
                          "and repeat the last pass without moving the dial.");
}

/// From the hole there is to the stage's bore, in the chuck.
Operation boring(const Job& job, const std::string& name, double to) {
    constexpr double kPast = 2, kSlender = 0.9, kSlow = 0.8;
    Operation op = operationFor(job, name);
    const double on =
        isOffTheBar(job) ? job.before.band.width : pieceFor(job.design, job.catalogue, job.workshop).used;
    const double depth = on + kPast;
    const ChosenBar bar = boringBarFor(job.workshop, 2 * job.before.bore, depth);
    Speed speed = turningSpeed(bandMetal(job), job.workshop.turningTools);
    if (bar.slender > kSlender * bar.most) speed.value *= kSlow;
    op.cut = cutAt(speed, 2 * to, job.workshop.lathe);
    noteSpeed(job, op);
    op.cut->feed = kFinishFeed;
    op.cut->along = "on the radius";
    const Bite bite = biteOf(bandMetal(job));
    op.cut->dial =
        dialOf(to - job.before.bore, bar.reaches ? bite.roughing : bite.roughing / 2, bite.finishing);
    noteBar(bar, op);
    op.doing = {"Touch off in the hole and set the dial to zero. Each pass goes " + inMm(depth, 1) +
                    " in and comes out without moving the dial.",
                "Measure before the last pass: it takes what is then left."};
    op.minutes = minutesOf(*op.cut, depth);
    return op;
}

/// How much of the bar is turned, or the ring's width when it is off it.
double turnedLength(const Job& job) {
    return isOffTheBar(job) ? job.before.band.width : pieceFor(job.design, job.catalogue, job.workshop).used;
}

Operation turnCylinder(const Job& job) {
    Operation op = onTheOutside(job, "Turn", "turning tool, ", kRoughFeed);
    const Bite bite = biteOf(bandMetal(job));
    op.cut->dial = dialOf(job.before.outside - job.after.outside, bite.roughing, bite.finishing);
    op.doing = {
        "Touch off on the outside and set the dial to zero; turn " + inMm(turnedLength(job)) + " along.",
        "Measure before the last pass, which takes what is then left, with a feed of " +
            base::fixed(kFinishFeed, 2) + " mm a turn."};
    op.minutes = minutesOf(*op.cut, turnedLength(job));
    return op;
}

Operation partFromBar(const Job& job) {
    const trade::Blade blade = partingBladeOf(job.workshop);
    Operation op = operationFor(job, "Part the ring off");
    op.hold = "In the chuck, on its bar.";
    op.tool = "parting blade " + inMm(blade.width);
    if (!job.workshop.partingBlade) op.missing.push_back("parting blade: one of 2 mm is taken as there");
    op.cut = turningCut(job, 2 * job.before.outside);
    noteSpeed(job, op);
    op.cut->feed = kBladeFeed;
    op.cut->along = "on the radius";
    op.cut->dial = {job.before.outside - job.before.bore};
    const double parting = job.design.allowances.parting;
    const double ring = job.design.band.width + parting;
    op.doing = {
        "Face the right-hand side, so that it is clean and true to the bore; " + inMm(parting) +
            " were left for that. Mark it with a pen inside the bore: it stays the right-hand side.",
        "Touch the blade's right-hand corner off on that face, and go " + inMm(ring + blade.width) +
            " towards the chuck: the ring is then " + inMm(ring) + " wide, " + inMm(parting) +
            " of it for the other face.",
        "Feed in without a stop, and catch the ring on a rod in its bore. Keep the hands away from it."};
    op.cautions = {
        "A blade that jams throws the ring: stand aside of the work, and keep the blade sharp, square and at "
        "centre height."};
    op.minutes = 10;
    return op;
}

Operation faceToWidth(const Job& job) {
    const double parting = job.design.allowances.parting;
    Operation op = operationFor(job, "Face to " + inMm(job.after.band.width) + " wide");
    op.hold =
        mandrelFor(job, op) +
        ", or in soft jaws bored to the outside; the faced side against a shoulder, so that both faces lie "
        "square to the bore.";
    op.tool = "facing tool, " + turningSpeed(bandMetal(job), job.workshop.turningTools).tool;
    op.cut = turningCut(job, 2 * job.before.outside);
    noteSpeed(job, op);
    op.cut->feed = kFinishFeed;
    op.cut->along = "along the axis";
    const Bite bite = biteOf(bandMetal(job));
    op.cut->dial = dialOf(parting, bite.roughing, bite.finishing);
    op.doing = {
        "The left-hand side now faces the tailstock. Touch off where the blade left it highest and set the "
        "dial "
        "to zero; measure the width before the last pass."};
    op.minutes = minutesOf(*op.cut, job.before.outside - job.before.bore);
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    const auto left = edgeFace(plain.band, geometry::Side::Left);
    const auto right = edgeFace(plain.band, geometry::Side::Right);
    if (left && right) {
        const double plusMinus = toleranceOf(job, "band.width");
        Reading reading = alongReading("Width", outsideInstrument(job.workshop), *left, *right, plusMinus);
        reading.least = reading.value - withinWalls(job, plusMinus, [](geometry::Tag tag) {
                            return tag.feature == geometry::Feature::EdgeFace;
                        });
        reading.field = "band.width";
        op.readings.push_back(std::move(reading));
    }
    return op;
}

}  // namespace

std::vector<Operation> cutBlank(const Job& job) {
    const Piece piece = pieceFor(job.design, job.catalogue, job.workshop);
    std::vector<Operation> operations{saw(job, piece)};
    if (piece.stock.bore == 0) operations.push_back(drillBlank(job, piece));
    return operations;
}

std::vector<Operation> bore(const Job& job) {
    const geometry::RingSections plain = geometry::sections(job.design, job.after);
    const double hole = 2 * job.after.bore;
    Operation op = boring(job, "Bore to " + inMm(hole), job.after.bore);
    op.hold = isOffTheBar(job) ? "In soft jaws bored to the outside, lightly." : "In the chuck, as before.";
    const bool lined = job.design.band.liner.has_value();
    const double plusMinus =
        lined ? trade::fitTolerance(hole) : passingTolerance(job, hole, 2 * job.design.allowances.sizing);
    if (const auto place = borePlace(plain)) {
        op.readings.push_back(diameterReading("Bore", Instrument::BoreGauge, *place, plusMinus));
        if (!lined) op.readings.back().size = sizeOf(job.design, hole);
    }
    op.doing.push_back(lined ? "The liner goes in here: bore it true and smooth, without taper."
                             : "It stays " + inMm(2 * job.design.allowances.sizing) +
                                   " under size until it is sized.");
    return {op};
}

std::vector<Operation> turnOutside(const Job& job) {
    std::vector<Operation> operations{turnCylinder(job)};
    const bool shaped = isOffTheBar(job) && job.after.band.outside.shape != design::OutsideShape::Flat;
    if (shaped) {
        appendShaping(job, operations);
        return operations;
    }
    const geometry::Section band = geometry::sections(job.design, job.after).band;
    if (const auto place = outsidePlace(band, 0)) {
        operations.back().readings.push_back(
            diameterReading("Outside", outsideInstrument(job.workshop), *place,
                            passingTolerance(job, 2 * place->at.r, 2 * job.design.allowances.truing)));
    }
    return operations;
}

std::vector<Operation> partOff(const Job& job) {
    std::vector<Operation> operations{partFromBar(job), faceToWidth(job)};
    if (design::isBefore(job.design.route, design::Stage::Turned, job.stage)) appendShaping(job, operations);
    return operations;
}

}  // namespace bandwright::route
