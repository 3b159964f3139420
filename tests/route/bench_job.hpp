#pragma once

#include "check/check.hpp"
#include "drawn_design.hpp"
#include "geometry/boundary.hpp"
#include "job.hpp"
#include "route/plan.hpp"

namespace bandwright::route {

/// A design by lot whose holes do not run into each other: only of those are the volumes definite.
inline std::optional<design::Design> whole(std::uint64_t seed) {
    std::optional<design::Design> design = check::drawn(seed);
    if (!design) return std::nullopt;
    try {
        geometry::boundaries(*design, design::Stage::Drilled);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return design;
}

/// A step of a ring as plan() hands it to the functions of job.hpp.
struct BenchJob {
    design::Design design;
    trade::Catalogue catalogue;
    trade::Workshop workshop;
    check::Report report;
    Job job;

    BenchJob(design::Design ring, design::Stage stage, trade::Catalogue known = trade::builtInCatalogue(),
             trade::Workshop shop = {})
        : design(std::move(ring)),
          catalogue(std::move(known)),
          workshop(std::move(shop)),
          report(check::check(design, catalogue, {.remedies = false, .resizing = false})),
          job{design,
              catalogue,
              workshop,
              stage,
              inThisWorkshop(design, catalogue, workshop, before(stage)),
              inThisWorkshop(design, catalogue, workshop, stage),
              report} {}

    BenchJob(const BenchJob&) = delete;
    BenchJob& operator=(const BenchJob&) = delete;

  private:
    /// The step of the ring before a stage; the first for the first, the last for Finished.
    design::Stage before(design::Stage stage) const {
        design::Stage last = check::steps(design, catalogue).front();
        for (const design::Stage step : check::steps(design, catalogue)) {
            if (step == stage) break;
            last = step;
        }
        return last;
    }
};

}  // namespace bandwright::route
