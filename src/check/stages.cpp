#include <algorithm>
#include <cstddef>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "check/check.hpp"
#include "measure.hpp"

namespace bandwright::check {

namespace {

bool isSharp(const design::Edge& edge) {
    return edge.shape == design::EdgeShape::Sharp || edge.width == 0;
}

bool doesSomething(design::Stage step, const design::Design& design, const trade::Catalogue& catalogue) {
    const auto anySetting = [&](auto&& has) { return std::ranges::any_of(design.settings, has); };
    const auto hasStone = [](const design::Setting& s) { return s.stone.has_value(); };
    const bool hasFill =
        std::ranges::any_of(design.channels, [](const design::Channel& c) { return c.fill.has_value(); });
    switch (step) {
        case design::Stage::Lined:
            return design.band.liner.has_value();
        case design::Stage::Channelled:
            return !design.channels.empty();
        case design::Stage::Drilled:
            return !design.settings.empty();
        case design::Stage::Filled:
            return hasFill;
        case design::Stage::Trued:
            return hasFill || design.allowances.truing > 0;
        case design::Stage::Bevelled:
            return !isSharp(design.band.left) || !isSharp(design.band.right);
        case design::Stage::Etched: {
            const trade::Metal* metal = catalogue.metal(design.band.metal);
            return metal != nullptr && trade::isPatternWelded(*metal);
        }
        case design::Stage::Joined:
            return anySetting([](const design::Setting& s) { return s.tube.has_value(); });
        case design::Stage::Set:
        case design::Stage::Closed:
            return anySetting(hasStone);
        case design::Stage::Blank:
        case design::Stage::Bored:
        case design::Stage::Turned:
        case design::Stage::Parted:
        case design::Stage::Polished:
        case design::Stage::Sized:
        case design::Stage::Finished:
            break;
    }
    return true;
}

/// Stages in a row at which the turned metal is the same, and what the measures look at in it.
struct Run {
    std::size_t first, last;
    geometry::RingSections plain;
    std::vector<geometry::Section> drilled;  ///< none when no hole is drilled before the metal changes again
};

class Measuring {
  public:
    Measuring(const design::Design& design, const trade::Catalogue& catalogue,
              const std::vector<geometry::SolidPart>& solids)
        : design_(design),
          catalogue_(catalogue),
          solids_(solids),
          steps_(steps(design, catalogue)),
          stages_(stages(design, catalogue)),
          bodies_(allBodies(design)),
          quietAngle_(angleAwayFromHoles(design)),
          parted_(placeOf(design::Stage::Parted)),
          drilled_(placeOf(design::Stage::Drilled)),
          etched_(placeOf(design::Stage::Etched)),
          joined_(placeOf(design::Stage::Joined)) {
        pieces_.reserve(stages_.size());
        for (const design::Stage stage : stages_)
            pieces_.push_back(geometry::workpiece(design, stage));
    }

    Measures all() {
        for (std::size_t i = 0; i < stages_.size();) {
            const geometry::Workpiece metal = geometry::turnedMetal(pieces_[i]);
            std::size_t last = i;
            while (last + 1 < stages_.size() && geometry::turnedMetal(pieces_[last + 1]) == metal)
                ++last;
            measure(runOf(i, last));
            i = last + 1;
        }
        return std::move(measures_);
    }

    Measures only(design::Stage stage) {
        const std::size_t at = placeOf(stage);
        if (at == stages_.size()) {
            std::vector<std::string> names;
            for (const design::Stage known : stages_)
                names.push_back(design::name(known));
            throw base::InputError("there is no stage " + base::inQuotes(design::name(stage)) +
                                   " of this ring; there are " +
                                   base::inWords({names.begin(), names.end()}, "and") + ".");
        }
        measure(runOf(at, at));
        return std::move(measures_);
    }

  private:
    /// The last step of a route is reported as Finished.
    std::size_t placeOf(design::Stage step) const {
        const auto found = std::ranges::find(stages_, step);
        if (found != stages_.end() || !doesSomething(step, design_, catalogue_))
            return static_cast<std::size_t>(found - stages_.begin());
        return stages_.size() - 1;
    }

    bool isLast(std::size_t at) const { return at + 1 == stages_.size(); }

    Run runOf(std::size_t first, std::size_t last) const {
        geometry::RingSections plain = geometry::sections(design_, geometry::turnedMetal(pieces_[first]));
        std::vector<geometry::Section> drilled;
        if (drilled_ <= last) drilled = drilledAtEach(plain.band, design_);
        return {first, last, std::move(plain), std::move(drilled)};
    }

    /// The ring at a stage of a run.
    StagedRing staged(const Run& run, std::size_t at, design::Stage reported) const {
        const std::span<const geometry::Section> holes = run.drilled;
        return {design_,    pieces_[at], reported,
                bodies_,    run.plain,   at >= drilled_ ? holes : holes.first(0),
                quietAngle_};
    }
    StagedRing staged(const Run& run, std::size_t at) const { return staged(run, at, stages_[at]); }

    /// The stage under which a run from `first` on reports what it measures once: the first, or Finished when
    /// the run lasts to the end.
    design::Stage reportedFor(const Run& run, std::size_t first) const {
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
        if (ring.piece.channelled) measureChannels(ring, measures_);
        measureThinnestWall(ring, measures_);  // after those of the channels, which are walls too
        if (run.first < parted_) return;       // still on the bar
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
            measureColour(ring, steps_[i], catalogue_, measures_);
            if (i == etched_) measureEtching(ring, catalogue_, measures_);
            if (i == joined_) measureJoining(ring, catalogue_, measures_);
        }
    }

    void measureFinished(const StagedRing& ring) {
        measureTubes(ring, catalogue_, measures_);
        measureStones(ring, catalogue_, measures_);
        measureMouths(ring, measures_);
        measureFills(ring, catalogue_, measures_);
        measureLiner(ring, catalogue_, measures_);
        measureWork(ring, catalogue_, measures_);
        measureInChannels(ring, measures_);
        measureMaterials(ring, catalogue_, measures_);
        measureFit(ring, measures_);
        measureMasses(ring, solids_, catalogue_, measures_);
    }

    /// Whether a tool bears on the ring at that step while only its bore holds it.
    bool isTurnedOnMandrel(std::size_t at) const {
        if (at <= parted_) return false;
        for (const design::Stage step : {design::Stage::Channelled, design::Stage::Trued,
                                         design::Stage::Bevelled, design::Stage::Polished})
            if (placeOf(step) == at) return true;
        return false;
    }

    const design::Design& design_;
    const trade::Catalogue& catalogue_;
    const std::vector<geometry::SolidPart>& solids_;
    std::vector<design::Stage> steps_, stages_;  ///< alike but for the last, which is reported as Finished
    std::vector<geometry::Workpiece> pieces_;
    std::vector<geometry::SettingBodies> bodies_;
    double quietAngle_;
    std::size_t parted_, drilled_, etched_, joined_;  ///< places in stages_; its size where there is none
    Measures measures_;
};

}  // namespace

std::vector<design::Stage> steps(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<design::Stage> result;
    for (const design::Stage step : design.route)
        if (doesSomething(step, design, catalogue)) result.push_back(step);
    return result;
}

std::vector<design::Stage> stages(const design::Design& design, const trade::Catalogue& catalogue) {
    std::vector<design::Stage> result = steps(design, catalogue);
    result.back() = design::Stage::Finished;
    return result;
}

Measures allMeasures(const design::Design& design, const trade::Catalogue& catalogue,
                     const std::vector<geometry::SolidPart>& bodies, std::optional<design::Stage> only) {
    Measuring measuring(design, catalogue, bodies);
    return only ? measuring.only(*only) : measuring.all();
}

}  // namespace bandwright::check
