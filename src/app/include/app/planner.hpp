#pragma once

#include <future>
#include <optional>
#include <string>

#include "app/session.hpp"
#include "route/plan.hpp"
#include "trade/workshop.hpp"

namespace bandwright::app {

/// Plans the work of the session's ring beside the frames, so that none waits for it.
class Planner {
  public:
    explicit Planner(trade::Workshop workshop = {}) : workshop_(std::move(workshop)) {}

    /// Takes in a plan that is ready, and begins the next if the ring has changed since. Once a frame while
    /// somebody looks.
    void follow(const Session& session);

    /// Whether a plan is being made.
    bool busy() const { return coming_.valid(); }
    /// The last plan made. While busy() it may be that of the ring before the last change; null before the
    /// first, and where the ring cannot be planned.
    const route::Plan* plan() const { return made_.plan ? &*made_.plan : nullptr; }
    /// The design that plan() is of.
    const design::Design& planned() const { return made_.design; }
    /// Why there is no plan; empty if there is one.
    const std::string& problem() const { return made_.problem; }

    const trade::Workshop& workshop() const { return workshop_; }

  private:
    struct Made {
        design::Design design;
        std::optional<route::Plan> plan;
        std::string problem;
    };
    static Made make(const design::Design& design, const trade::Catalogue& catalogue,
                     const trade::Workshop& workshop, const check::Report& report);

    trade::Workshop workshop_;
    Made made_;
    std::future<Made> coming_;
};

}  // namespace bandwright::app
