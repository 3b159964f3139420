#include <algorithm>
#include <cstddef>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "check/check.hpp"
#include "measure.hpp"

namespace bandwright {

namespace {

bool isSharp(const Edge& edge) {
    return edge.shape == EdgeShape::Sharp || edge.width == 0;
}

bool doesSomething(Stage step, const Design& design, const Catalogue& catalogue) {
    const auto anySetting = [&](auto&& has) { return std::ranges::any_of(design.settings, has); };
    const auto hasStone = [](const Setting& s) { return s.stone.has_value(); };
    const bool hasFill =
        std::ranges::any_of(design.channels, [](const Channel& c) { return c.fill.has_value(); });
    switch (step) {
        case Stage::Lined:
            return design.band.liner.has_value();
        case Stage::Channelled:
            return !design.channels.empty();
        case Stage::Drilled:
            return !design.settings.empty();
        case Stage::Filled:
            return hasFill;
        case Stage::Trued:
            return hasFill || design.allowances.truing > 0;
        case Stage::Bevelled:
            return !isSharp(design.band.left) || !isSharp(design.band.right);
        case Stage::Etched: {
            const Metal* metal = catalogue.metal(design.band.metal);
            return metal != nullptr && isPatternWelded(*metal);
        }
        case Stage::Joined:
            return anySetting([](const Setting& s) { return s.tube.has_value(); });
        case Stage::Set:
        case Stage::Closed:
            return anySetting(hasStone);
        case Stage::Blank:
        case Stage::Bored:
        case Stage::Turned:
        case Stage::Parted:
        case Stage::Polished:
        case Stage::Sized:
        case Stage::Finished:
            break;
    }
    return true;
}

/// Stages in a row at which the turned metal is the same, and what the measures look at in it.
struct Run {
    std::size_t first, last;
    RingSections plain;
    std::vector<Section> drilled;  ///< none when no hole is drilled before the metal changes again
};

class Measuring {
  public:
    Measuring(const Design& design, const Catalogue& catalogue, const std::vector<SolidPart>& solids)
        : design_(design),
          catalogue_(catalogue),
          solids_(solids),
          stages_(stages(design, catalogue)),
          bodies_(allBodies(design)),
          quietAngle_(angleAwayFromHoles(design)),
          parted_(placeOf(Stage::Parted)),
          drilled_(placeOf(Stage::Drilled)),
          etched_(placeOf(Stage::Etched)),
          joined_(placeOf(Stage::Joined)) {
        pieces_.reserve(stages_.size());
        for (const Stage stage : stages_)
            pieces_.push_back(workpiece(design, stage));
    }

    Measures all() {
        for (std::size_t i = 0; i < stages_.size();) {
            const Workpiece metal = turnedMetal(pieces_[i]);
            std::size_t last = i;
            while (last + 1 < stages_.size() && turnedMetal(pieces_[last + 1]) == metal)
                ++last;
            measure(runOf(i, last));
            i = last + 1;
        }
        return std::move(measures_);
    }

    Measures only(Stage stage) {
        const std::size_t at = placeOf(stage);
        if (at == stages_.size()) {
            std::vector<std::string> names;
            for (const Stage known : stages_)
                names.push_back(name(known));
            throw InputError("there is no stage " + inQuotes(name(stage)) + " of this ring; there are " +
                             inWords({names.begin(), names.end()}, "and") + ".");
        }
        measure(runOf(at, at));
        return std::move(measures_);
    }

  private:
    /// The last step of a route is reported as Finished.
    std::size_t placeOf(Stage step) const {
        const auto found = std::ranges::find(stages_, step);
        if (found != stages_.end() || !doesSomething(step, design_, catalogue_))
            return static_cast<std::size_t>(found - stages_.begin());
        return stages_.size() - 1;
    }

    bool isLast(std::size_t at) const { return at + 1 == stages_.size(); }

    Run runOf(std::size_t first, std::size_t last) const {
        RingSections plain = sections(design_, turnedMetal(pieces_[first]));
        std::vector<Section> drilled;
        if (drilled_ <= last) drilled = drilledAtEach(plain.band, design_);
        return {first, last, std::move(plain), std::move(drilled)};
    }

    /// The ring at a stage of a run.
    StagedRing staged(const Run& run, std::size_t at, Stage reported) const {
        const std::span<const Section> holes = run.drilled;
        return {design_,    pieces_[at], reported,
                bodies_,    run.plain,   at >= drilled_ ? holes : holes.first(0),
                quietAngle_};
    }
    StagedRing staged(const Run& run, std::size_t at) const { return staged(run, at, stages_[at]); }

    /// What is measured once for a run from `first` on is reported as of the first, or of the finished ring
    /// when it lasts to the end.
    Stage reportedFor(const Run& run, std::size_t first) const {
        return stages_[isLast(run.last) ? run.last : first];
    }

    void measure(const Run& run) {
        measureMetal(run);
        const std::size_t holed = std::max(run.first, drilled_);
        if (holed <= run.last) measureHoles(staged(run, holed, reportedFor(run, holed)), holed);
        measureSteps(run);
        if (isLast(run.last)) measureFinished(staged(run, run.last));
    }

    void measureMetal(const Run& run) {
        const StagedRing ring = staged(run, run.first, reportedFor(run, run.first));
        measureThinnestWall(ring, measures_);
        if (ring.piece.channelled) measureChannels(ring, measures_);
        if (run.first < parted_) return;  // still on the bar
        measureEdges(ring, measures_);
        if (ring.piece.drilled) return;
        // The band as it is before its holes are drilled, which may be before the metal changes again.
        const bool untilDrilled = drilled_ <= run.last;
        measureStrength(untilDrilled ? staged(run, run.first) : ring, catalogue_, measures_);
    }

    void measureHoles(const StagedRing& ring, std::size_t at) {
        measureSettings(ring, measures_);
        measureNeighbours(ring, measures_);
        if (at >= parted_) measureStrength(ring, catalogue_, measures_);
    }

    /// What counts while a step is done.
    void measureSteps(const Run& run) {
        bool held = false;  // the bore is the same all along
        for (std::size_t i = run.first; i <= run.last; ++i) {
            const StagedRing ring = staged(run, i);
            if (!held && isTurnedOnMandrel(i)) {
                measureHolding(ring, measures_);
                held = true;
            }
            if (i == drilled_) measureDrilling(ring, measures_);
            if (i == etched_) measureEtching(ring, catalogue_, measures_);
            if (i == joined_) measureJoining(ring, catalogue_, measures_);
        }
    }

    void measureFinished(const StagedRing& ring) {
        measureTubes(ring, measures_);
        measureStones(ring, catalogue_, measures_);
        measureMouths(ring, measures_);
        measureFills(ring, measures_);
        measureWork(ring, measures_);
        measureInChannels(ring, measures_);
        measureMaterials(ring, catalogue_, measures_);
        measureFit(ring, catalogue_, measures_);
        measureMasses(ring, solids_, catalogue_, measures_);
    }

    /// Whether a tool bears on the ring at that step while only its bore holds it.
    bool isTurnedOnMandrel(std::size_t at) const {
        if (at <= parted_) return false;
        for (const Stage step : {Stage::Channelled, Stage::Trued, Stage::Bevelled, Stage::Polished})
            if (placeOf(step) == at) return true;
        return false;
    }

    const Design& design_;
    const Catalogue& catalogue_;
    const std::vector<SolidPart>& solids_;
    std::vector<Stage> stages_;
    std::vector<Workpiece> pieces_;
    std::vector<SettingBodies> bodies_;
    double quietAngle_;
    std::size_t parted_, drilled_, etched_, joined_;  ///< places in stages_; its size where there is none
    Measures measures_;
};

}  // namespace

std::vector<Stage> steps(const Design& design, const Catalogue& catalogue) {
    std::vector<Stage> result;
    for (const Stage step : design.route)
        if (doesSomething(step, design, catalogue)) result.push_back(step);
    return result;
}

std::vector<Stage> stages(const Design& design, const Catalogue& catalogue) {
    std::vector<Stage> result = steps(design, catalogue);
    result.back() = Stage::Finished;
    return result;
}

Measures allMeasures(const Design& design, const Catalogue& catalogue, const std::vector<SolidPart>& bodies,
                     std::optional<Stage> only) {
    Measuring measuring(design, catalogue, bodies);
    return only ? measuring.only(*only) : measuring.all();
}

}  // namespace bandwright
