#include "route/plan.hpp"

#include <algorithm>
#include <numeric>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "check/figures.hpp"
#include "drawer.hpp"
#include "job.hpp"

namespace bandwright::route {

namespace {

/// A bore that is sized after the polish gets its finish now.
std::vector<Operation> sizedAndFinished(const Job& job) {
    std::vector<Operation> operations = sizeBore(job);
    if (design::isBefore(job.design.route, design::Stage::Polished, design::Stage::Sized))
        for (Operation& operation : finishBore(job))
            operations.push_back(std::move(operation));
    return operations;
}

std::vector<Operation> operationsOf(const Job& job) {
    switch (job.stage) {
        case design::Stage::Blank:
            return cutBlank(job);
        case design::Stage::Bored:
            return bore(job);
        case design::Stage::Turned:
            return turnOutside(job);
        case design::Stage::Parted:
            return partOff(job);
        case design::Stage::Lined:
            return pressLiner(job);
        case design::Stage::Channelled:
            return cutChannels(job);
        case design::Stage::Trued:
            return trueUp(job);
        case design::Stage::Bevelled:
            return bevel(job);
        case design::Stage::Sized:
            return sizedAndFinished(job);
        case design::Stage::Drilled:
            return drillHoles(job);
        case design::Stage::Filled:
            return packChannels(job);
        case design::Stage::Polished:
            return polish(job);
        case design::Stage::Etched:
            return etch(job);
        case design::Stage::Joined:
            return joinTubes(job);
        case design::Stage::Set:
            return setStones(job);
        case design::Stage::Closed:
            return closeLips(job);
        case design::Stage::Finished:
            return finish(job);
    }
    return {};
}

struct Volumes {
    double band = 0, liner = 0;
};

double density(const trade::Catalogue& catalogue, const std::string& metal) {
    constexpr double kPerCubicMm = 1e-3;  // g/cm3
    return kPerCubicMm * catalogue.metal(metal)->density.value;
}

void addVolumes(const design::Design& design, const trade::Catalogue& catalogue, const Volumes& volumes,
                double bandBefore, StageWork& work) {
    const double band = density(catalogue, design.band.metal);
    work.volume = volumes.band + volumes.liner;
    work.chips = bandBefore - volumes.band;
    work.mass = band * volumes.band;
    work.chipMass = band * work.chips;
    if (volumes.liner > 0) work.mass += density(catalogue, design.band.liner->metal) * volumes.liner;
}

/// Holes are there only when the outside and the bore are as designed, so the bodies of the stage are then
/// those of the ring as it stands.
Volumes volumesOf(const design::Design& design, design::Stage stage, const geometry::Workpiece& piece) {
    Volumes volumes;
    if (piece.drilled) {
        for (const geometry::SolidPart& body : geometry::bodies(design, stage)) {
            if (body.part.role == geometry::PartRole::Band) volumes.band += body.solid.volume;
            if (body.part.role == geometry::PartRole::Liner) volumes.liner += body.solid.volume;
        }
        return volumes;
    }
    const geometry::RingSections plain = geometry::sections(design, piece);
    volumes.band = geometry::properties(plain.band).volume;
    volumes.liner = geometry::properties(plain.liner).volume;
    return volumes;
}

Tightest tightest(const check::Report& report, std::size_t finding) {
    const check::Finding& found = report.findings[finding];
    const check::Figures figures = check::figures(report, found);
    return {check::gaugeNames(report)[finding], check::withUnit(figures.value, figures.unit, figures.sides),
            check::withUnit(figures.limit, figures.unit, figures.sides), check::name(found.verdict)};
}

/// The least wall, and the gauge that stands worst, at a stage by itself.
void addGauges(const design::Design& design, const trade::Catalogue& catalogue, design::Stage stage,
               StageWork& work) {
    const check::Report report =
        check::check(design, catalogue, {.remedies = false, .stage = stage, .resizing = false});
    if (report.findings.empty()) return;
    work.gauge = tightest(report, 0);
    std::optional<std::size_t> least;
    for (std::size_t i = 0; i < report.findings.size(); ++i) {
        const check::Measure& measure = report.measures[report.findings[i].measure];
        if (report.findings[i].group != check::Group::Walls || measure.unit != "mm") continue;
        if (!least || measure.value < report.measures[report.findings[*least].measure].value) least = i;
    }
    if (least) work.wall = tightest(report, *least);
}

void addHours(const trade::Workshop& workshop, StageWork& work) {
    constexpr double kMinutes = 60;
    const auto own = workshop.hours.find(design::name(work.stage));
    work.ownHours = own != workshop.hours.end();
    if (work.ownHours) {
        work.hours = own->second;
        return;
    }
    for (const Operation& operation : work.operations)
        work.hours += operation.minutes / kMinutes;
}

/// Nothing is cut any more.
StageWork lastLook(const Job& job, const Plan& plan) {
    StageWork work;
    work.stage = job.stage;
    work.operations = finish(job);
    work.volume = plan.stages.back().volume;
    work.mass = plan.stages.back().mass;
    addHours(job.workshop, work);
    return work;
}

}  // namespace

geometry::Workpiece inThisWorkshop(const design::Design& design, const trade::Catalogue& catalogue,
                                   const trade::Workshop& workshop, design::Stage stage) {
    geometry::Workpiece piece = geometry::workpiece(design, stage);
    const auto isDone = [&](design::Stage step) {
        return step == stage || design::isBefore(design.route, step, stage);
    };
    if (!isDone(design::Stage::Turned))
        piece.outside = pieceFor(design, catalogue, workshop).stock.diameter / 2;
    if (!isDone(design::Stage::Bored)) piece.bore = piece.joint = blankHole(design, catalogue, workshop) / 2;
    return piece;
}

void requireSteps(const trade::Workshop& workshop) {
    for (const auto& [step, hours] : workshop.hours) {
        std::vector<std::string> names;
        for (const design::Stage stage : design::usualRoute())
            names.push_back(design::name(stage));
        names.push_back(design::name(design::Stage::Finished));
        if (std::ranges::find(names, step) != names.end()) continue;
        throw base::InputError("the workshop's hours: found " + base::inQuotes(step) + "; allowed is " +
                               base::inWords({names.begin(), names.end()}, "or"));
    }
}

Plan plan(const design::Design& design, const trade::Catalogue& catalogue, const trade::Workshop& workshop,
          const check::Report& report) {
    Plan plan;
    const std::vector<design::Stage> steps = check::steps(design, catalogue);
    const std::vector<design::Stage> stages = check::stages(design, catalogue);
    geometry::Workpiece before = inThisWorkshop(design, catalogue, workshop, steps.front());
    const Piece piece = pieceFor(design, catalogue, workshop);
    double band = piece.volume;
    for (std::size_t i = 0; i < steps.size(); ++i) {
        const geometry::Workpiece after = inThisWorkshop(design, catalogue, workshop, steps[i]);
        StageWork work;
        work.stage = steps[i];
        work.operations = operationsOf({design, catalogue, workshop, steps[i], before, after, report});
        const Volumes volumes = volumesOf(design, stages[i], after);
        addVolumes(design, catalogue, volumes, band, work);
        band = volumes.band;
        addGauges(design, catalogue, stages[i], work);
        addHours(workshop, work);
        plan.stages.push_back(std::move(work));
        before = after;
    }
    plan.stages.push_back(
        lastLook({design, catalogue, workshop, design::Stage::Finished, before, before, report}, plan));
    plan.quantities = quantitiesOf(design, catalogue, workshop);
    return plan;
}

}  // namespace bandwright::route
