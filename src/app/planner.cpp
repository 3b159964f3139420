#include "app/planner.hpp"

#include <chrono>
#include <exception>

#include "geometry/boundary.hpp"

namespace bandwright::app {

Planner::Made Planner::make(const design::Design& design, const trade::Catalogue& catalogue,
                            const trade::Workshop& workshop, const check::Report& report) {
    Made made{design, std::nullopt, {}};
    try {
        // What holes that run into each other take would be counted twice.
        geometry::boundaries(design);
        made.plan = route::plan(design, catalogue, workshop, report);
    } catch (const std::exception& error) {
        made.problem = error.what();
    }
    return made;
}

void Planner::follow(const Session& session) {
    if (coming_.valid()) {
        if (coming_.wait_for(std::chrono::seconds(0)) != std::future_status::ready) return;
        made_ = coming_.get();
    }
    const bool isCurrent = (made_.plan || !made_.problem.empty()) && made_.design == session.design();
    if (isCurrent) return;
    // Copies, because the session goes on while the plan is made.
    coming_ = std::async(std::launch::async, [design = session.design(), catalogue = session.catalogue(),
                                              report = session.derived().report, workshop = workshop_] {
        return make(design, catalogue, workshop, report);
    });
}

}  // namespace bandwright::app
