#include <algorithm>
#include <utility>

#include "app/bench.hpp"
#include "base/input_error.hpp"

/// Limits of the maker's own, set at the gauges and kept in the workshop. They are undone among the changes
/// of the ring: each at the place of the history at which it was made.
namespace bandwright::app {

bool Bench::useLimits(std::vector<trade::OwnLimit> limits) {
    trade::Workshop next = shop_.workshop();
    next.limits = limits;
    try {
        session_.use(catalogueIn_ ? catalogueIn_(next) : session_.catalogue());
    } catch (const base::InputError& error) {
        message_ = error.what();
        return false;
    }
    if (std::string problem = shop_.keepLimits(std::move(limits)); !problem.empty())
        message_ = std::move(problem);
    planner_ = Planner(shop_.workshop());
    return true;
}

void Bench::takeLimit(const Gauges::LimitAsked& asked) {
    LimitStep step{session_.history().place(), shop_.workshop().limits, shop_.workshop().limits};
    std::erase_if(step.after, [&](const trade::OwnLimit& own) {
        return own.rule == asked.own.rule && own.metal == asked.own.metal;
    });
    if (!asked.takesAway) {
        trade::OwnLimit own = asked.own;
        own.source.clear();
        own.place.clear();
        step.after.push_back(std::move(own));
    }
    if (step.after == step.before || !useLimits(step.after)) return;
    limitsPast_.push_back(std::move(step));
    limitsFuture_.clear();
}

bool Bench::undoesLimit() const {
    return !limitsPast_.empty() && limitsPast_.back().place == session_.history().place() &&
           limitsPast_.back().after == shop_.workshop().limits;
}

bool Bench::redoesLimit() const {
    return !limitsFuture_.empty() && limitsFuture_.back().place == session_.history().place() &&
           limitsFuture_.back().before == shop_.workshop().limits;
}

void Bench::undo() {
    if (undoesLimit()) {
        LimitStep step = std::move(limitsPast_.back());
        limitsPast_.pop_back();
        if (useLimits(step.before)) limitsFuture_.push_back(std::move(step));
        return;
    }
    session_.undo();
    card_.forgetRefusals();
}

void Bench::redo() {
    if (redoesLimit()) {
        LimitStep step = std::move(limitsFuture_.back());
        limitsFuture_.pop_back();
        if (useLimits(step.after)) limitsPast_.push_back(std::move(step));
        return;
    }
    session_.redo();
    card_.forgetRefusals();
}

}  // namespace bandwright::app
