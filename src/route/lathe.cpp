#include "lathe.hpp"

#include <algorithm>
#include <cmath>

#include "base/numbers.hpp"
#include "cutting.hpp"
#include "drawer.hpp"
#include "places.hpp"

namespace bandwright::route {

Operation operationFor(const Job& job, std::string name) {
    Operation operation;
    operation.stage = job.stage;
    operation.name = std::move(name);
    return operation;
}

const trade::Metal& bandMetal(const Job& job) {
    return *job.catalogue.metal(job.design.band.metal);
}

Cut turningCut(const Job& job, double diameter) {
    return cutAt(turningSpeed(bandMetal(job), job.workshop.turningTools), diameter, job.workshop.lathe);
}

void noteSpeed(const Job& job, Operation& operation) {
    constexpr double kMuchFaster = 1.25;
    if (!job.workshop.lathe) operation.missing.push_back("lathe: its speeds; any speed is taken as there");
    const Cut& cut = *operation.cut;
    const double wanted = spindleSpeed(cut.speed, cut.diameter);
    if (cut.spindle > kMuchFaster * wanted) {
        operation.cautions.push_back(
            "The slowest speed of the lathe is faster than the " + base::fixed(wanted, 0) +
            " rev/min this metal wants: the tool wears and the work burns. Take half the "
            "depth, with coolant.");
    }
}

Operation onTheOutside(const Job& job, const std::string& verb, const std::string& tool, double feed) {
    Operation op = operationFor(job, verb + " the outside to " + inMm(2 * job.after.outside));
    op.hold = heldForOutside(job, op);
    op.tool = tool + turningSpeed(bandMetal(job), job.workshop.turningTools).tool;
    op.cut = turningCut(job, 2 * job.before.outside);
    noteSpeed(job, op);
    op.cut->feed = feed;
    op.cut->along = "on the radius";
    return op;
}

double minutesOf(const Cut& cut, double travel) {
    constexpr double kSetting = 5, kBack = 1.0 / 3;
    const double pass = cut.feed > 0 && cut.spindle > 0 ? travel / (cut.feed * cut.spindle) : 1;
    return kSetting + static_cast<double>(cut.dial.size()) * (pass + kBack);
}

namespace {

double riseOf(const geometry::Workpiece& piece) {
    return piece.band.outside.shape == design::OutsideShape::Flat ? 0 : piece.band.outside.rise;
}

bool isLowInTheMiddle(const geometry::Workpiece& piece) {
    return piece.band.outside.shape == design::OutsideShape::Hollow;
}

/// How far in the dial goes at each millimetre from mid-width, and at the edges.
std::string shapeTable(const geometry::Workpiece& piece) {
    const double half = piece.band.width / 2;
    std::string text = "From mid-width to either side the dial stands, on the radius: ";
    const auto at = [&](double z) { return base::fixed(piece.outside - geometry::outsideAt(piece, z), 2); };
    constexpr double kStep = 0.5;
    for (int i = 0; i * kStep < half - kStep / 2; ++i)
        text += base::shortestNumber(i * kStep) + " mm " + at(i * kStep) + ", ";
    return text + "edge " + at(half) + ".";
}

std::string cutterOf(const geometry::Workpiece& piece, const trade::Metal& /*metal*/) {
    const double half = piece.band.width / 2, rise = piece.band.outside.rise;
    if (piece.band.outside.shape == design::OutsideShape::KnifeEdge)
        return "turning tool on the compound slide";
    const double radius = (half * half + rise * rise) / (2 * rise);
    return "form tool or file against a radius gauge of " + inMm(radius);
}

Operation shape(const Job& job) {
    const geometry::Workpiece& piece = job.after;
    const double half = piece.band.width / 2, rise = riseOf(piece);
    Operation op = operationFor(job, "Shape the outside");
    op.hold = "As before.";
    op.tool = cutterOf(piece, bandMetal(job));
    op.cut = turningCut(job, 2 * piece.outside);
    op.cut->along = "on the radius";
    const Bite bite = biteOf(bandMetal(job));
    op.cut->dial = dialOf(rise, bite.roughing, bite.finishing);
    op.doing = {std::string("The dial is zero where the tool touches the turned cylinder; the ") +
                (isLowInTheMiddle(piece) ? "middle" : "edges") + " go in by " + inMm(rise) + "."};
    if (piece.band.outside.shape == design::OutsideShape::KnifeEdge) {
        const CompoundSetting set = compoundFor(half, rise);
        op.doing.push_back("Set the compound slide " + base::fixed(set.angle, 2) +
                           " degrees from the axis, once to each side. It travels " + inMm(set.travel) +
                           " from the ridge to the edge; the ridge stays at mid-width.");
    } else {
        op.doing.push_back(shapeTable(piece));
    }
    op.minutes = minutesOf(*op.cut, piece.band.width) + 10;
    return op;
}

}  // namespace

void appendShaping(const Job& job, std::vector<Operation>& operations) {
    if (riseOf(job.after) == 0) return;
    Operation op = shape(job);
    const geometry::Section band = geometry::sections(job.design, job.after).band;
    const double half = job.after.band.width / 2;
    const double plusMinus = passingTolerance(job, 2 * job.after.outside, 2 * job.design.allowances.truing);
    const Instrument instrument = outsideInstrument(job.workshop);
    if (const auto place = outsidePlace(band, 0))
        op.readings.push_back(diameterReading("Outside at mid-width", instrument, *place, plusMinus));
    if (const auto place = outsidePlace(band, half))
        op.readings.push_back(
            diameterReading("Outside at the right-hand edge", instrument, *place, plusMinus));
    if (const auto place = outsidePlace(band, -half))
        op.readings.push_back(
            diameterReading("Outside at the left-hand edge", instrument, *place, plusMinus));
    operations.push_back(std::move(op));
}

}  // namespace bandwright::route
