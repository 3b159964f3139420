#include "drilling.hpp"

#include <algorithm>
#include <array>

#include "base/numbers.hpp"
#include "dividing.hpp"
#include "drilled_setting.hpp"
#include "lathe.hpp"
#include "places.hpp"

namespace bandwright::route {

namespace {

constexpr double kSlowMetal = 20;  // m/min: what is drilled slower is hard or gummy

struct FeedRow {
    double below;  ///< mm of diameter
    double slow, free;
};
constexpr std::array<FeedRow, 4> kFeeds{{
    {1.5, 0.01, 0.02},
    {3.2, 0.025, 0.05},
    {6.4, 0.05, 0.10},
    {1e9, 0.10, 0.18},
}};

}  // namespace

double holeFeed(double diameter, double speed) {
    const auto* row = std::ranges::find_if(kFeeds, [&](const FeedRow& r) { return diameter < r.below; });
    return speed < kSlowMetal ? row->slow : row->free;
}

DeepHole deepHole(double diameters) {
    if (diameters >= 6) return {0.62, 0.8};
    if (diameters >= 5) return {0.7, 0.8};
    if (diameters >= 4) return {0.8, 0.9};
    if (diameters >= 3) return {0.9, 0.9};
    return {};
}

std::vector<double> pecks(double depth, double diameter, double speed) {
    std::vector<double> dial;
    const double step = diameter * (speed < kSlowMetal ? 0.5 : 1);
    const double more = depth - step / 4 - 2 * diameter;
    for (int i = 0; i * step < more; ++i)
        dial.push_back(base::roundedTo(2 * diameter + i * step, 2));
    dial.push_back(depth);
    return dial;
}

namespace {

std::vector<double> allAngles(const design::Design& design) {
    std::vector<double> angles;
    for (const design::Setting& setting : design.settings)
        for (const double angle : design::placedAngles(setting.placement))
            angles.push_back(angle);
    return angles;
}

void sayCircle(Operation& op, const Dividing& dividing) {
    if (dividing.circle == 0) return;
    op.doing.push_back("Use the circle of " + std::to_string(dividing.circle) +
                       " holes, which serves every hole of this ring. Mark the hole that counts as zero.");
    if (dividing.divider.kind == trade::DividerKind::Head)
        op.doing.push_back(
            "A reading of 13 turns and 5 holes is 13 whole turns of the crank past the zero and "
            "5 holes on.");
}

Operation setUp(const Job& job, const Dividing& dividing) {
    Operation op = operationFor(job, "Set up the dividing under the mill");
    op.hold = heldForOutside(job, op);
    op.tool = "dial gauge, edge finder";
    op.minutes = 25;  // a first guess, no source
    if (!job.workshop.divider)
        op.missing.push_back(
            "the divider: a head of 40 to 1 with plates of 24 to 66 holes is taken as there");
    if (!job.workshop.mill) op.missing.push_back("the mill's speeds");
    op.doing = {
        "Put it, chuck or mandrel, on the dividing head; support the free end. Clock the outside: it "
        "runs true within 0.02 mm and lies level along the table.",
        "Bring the spindle over the ring's axis: touch a flank at the height of the axis and go " +
            inMm(job.before.outside) +
            " and by the edge finder's radius; from the other flank it must come out the same.",
        "Find the left-hand face, go " + inMm(job.before.band.width / 2) +
            " on to mid-width and by the edge finder's radius; zero that dial."};
    sayCircle(op, dividing);
    op.doing.push_back(
        "Come on to the zero the way all readings go, so that the play of the worm is out, and "
        "mark the ring: the first hole stands there.");
    op.cautions.push_back("At a mill no gloves, loose sleeves or loose hair; eye protection.");
    return op;
}

}  // namespace

std::vector<Operation> drillHoles(const Job& job) {
    const trade::Divider divider = job.workshop.divider.value_or(usualDivider());
    const std::vector<double> angles = allAngles(job.design);
    if (angles.empty()) return {};
    const double zero = angles.front();
    const Dividing dividing{divider, bestCircle(angles, zero, divider), zero};
    std::vector<Operation> all{setUp(job, dividing)};
    for (std::size_t i = 0; i < job.design.settings.size(); ++i)
        for (Operation& op : drillSetting(job, i, dividing))
            all.push_back(std::move(op));
    return all;
}

}  // namespace bandwright::route
