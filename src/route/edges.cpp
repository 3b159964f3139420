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

using geometry::Feature;

std::string word(geometry::Side side) {
    return side == geometry::Side::Left ? "left" : "right";
}

/// The bevel or round of one side: its end on the outside and its end on the edge face.
struct Corner {
    Place top, bottom;
};

std::optional<Corner> cornerOf(const geometry::Section& band, Feature feature, geometry::Side side) {
    std::optional<Corner> corner;
    for (const geometry::Segment& s : geometry::segmentsWhere(
             band, [&](geometry::Tag tag) { return tag == geometry::Tag(feature, side); })) {
        for (const geometry::Vec2 at : {s.from, s.to}) {
            const Place place{s.tag, at};
            if (!corner) corner = Corner{place, place};
            if (std::abs(at.z) < std::abs(corner->top.at.z)) corner->top = place;
            if (std::abs(at.z) > std::abs(corner->bottom.at.z)) corner->bottom = place;
        }
    }
    return corner;
}

void addCornerReadings(const Job& job, const Corner& corner, geometry::Side side, Operation& op) {
    const std::string field = "band." + word(side) + ".width";
    const geometry::Section band = geometry::sections(job.design, job.after).band;
    const double plusMinus = toleranceOf(job, field);
    if (const auto face = edgeFace(band, side)) {
        Reading reading = alongReading("From the " + word(side) + "-hand face to where it begins",
                                       Instrument::Caliper, *face, corner.top, plusMinus);
        reading.most = reading.value +
                       withinWalls(job, plusMinus, [&](geometry::Tag tag) { return tag == corner.top.tag; });
        reading.field = field;
        op.readings.push_back(std::move(reading));
    }
    op.readings.push_back(diameterReading("Outside of the " + word(side) + "-hand face", Instrument::Caliper,
                                          corner.bottom, 2 * plusMinus));
    op.readings.back().field = field;
}

void bevelled(const design::Edge& edge, geometry::Side side, double deep, Operation& op) {
    const CompoundSetting set = compoundFor(edge.width, deep);
    op.tool = "turning tool on the compound slide";
    op.doing = {
        "Set the compound slide " + inDegrees(edge.angle) +
            " degrees from the ring's axis, falling towards the " + word(side) +
            "-hand face; on a scale that reads from square to the axis, " + inDegrees(90 - edge.angle) + ".",
        "Touch off on the sharp corner and set the cross slide to zero. Each pass runs the compound slide "
        "past both ends of the bevel, at least " +
            inMm(set.travel) + ".",
        "The cross slide gives the depth: " + inMm(set.radial) + " in all, which is " + inMm(set.axial) +
            " along the axis or " + inMm(set.square) + " square to the bevel."};
}

void rounded(const design::Edge& edge, Operation& op) {
    op.tool = "form tool, or file and emery on a stick, against a radius gauge of " + inMm(edge.width);
    op.doing = {
        "With a form tool: until it cuts outside and face alike and the gauge shows no light. By hand: "
        "first a bevel of 45 degrees (" +
        inMm(0.59 * edge.width) +
        " along the axis), then its two corners, then until the gauge shows no light."};
    op.cautions.push_back(
        "A file has a handle, and emery lies on a stick: never round the finger or the ring.");
}

std::optional<Operation> edgeOperation(const Job& job, const design::Edge& edge, geometry::Side side) {
    if (edge.shape == design::EdgeShape::Sharp || edge.width == 0) return std::nullopt;
    const bool isRound = edge.shape == design::EdgeShape::Round;
    Operation op =
        operationFor(job, std::string(isRound ? "Round" : "Bevel") + " the " + word(side) + "-hand edge");
    op.hold = heldForOutside(job, op);
    op.cut = turningCut(job, 2 * job.after.outside);
    noteSpeed(job, op);
    op.cut->feed = isRound ? 0 : kFinishFeed;
    op.cut->along = "on the radius";
    const geometry::Section band = geometry::sections(job.design, job.after).band;
    const auto corner = cornerOf(band, isRound ? Feature::EdgeRound : Feature::Bevel, side);
    if (!corner) return std::nullopt;  // a channel has taken it
    const double half = job.after.band.width / 2;
    const double sharp = geometry::outsideAt(job.after, side == geometry::Side::Left ? -half : half);
    const double deep = sharp - corner->bottom.at.r;
    const Bite bite = biteOf(bandMetal(job));
    if (isRound) {
        rounded(edge, op);
    } else {
        op.cut->dial = dialOf(deep, bite.roughing, bite.finishing);
        bevelled(edge, side, deep, op);
    }
    addCornerReadings(job, *corner, side, op);
    op.minutes = minutesOf(*op.cut, edge.width);
    return op;
}

}  // namespace

std::vector<Operation> bevel(const Job& job) {
    std::vector<Operation> operations;
    const auto add = [&](const std::optional<Operation>& op) {
        if (op) operations.push_back(*op);
    };
    add(edgeOperation(job, job.design.band.right, geometry::Side::Right));
    add(edgeOperation(job, job.design.band.left, geometry::Side::Left));
    return operations;
}

}  // namespace bandwright::route
