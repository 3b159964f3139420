#pragma once

#include <chrono>
#include <cstdint>
#include <future>
#include <map>
#include <optional>
#include <string>

#include "app/session.hpp"
#include "check/check.hpp"

namespace bandwright::app {

/// Where each measure of the session's ring would stand with every number at the worse end of its tolerance
/// (check::addSpreads), worked out beside the frames once the ring has rested.
class WorstCases {
  public:
    /// Begins for a ring that has rested, takes in what is ready, drops what is of another ring. Once a
    /// frame.
    void follow(const Session& session);

    /// mm, or the measure's own unit; nothing while it is not known.
    std::optional<double> of(const check::Report& report, const check::Finding& finding) const;

    /// Seconds until it is to be followed again, though nothing happens; infinity if there is nothing to wait
    /// for.
    double rest() const;

  private:
    using Values = std::map<std::string, double>;  ///< by rule, measure and stage
    static std::string key(const check::Report& report, const check::Finding& finding);
    static Values valuesOf(const design::Design& made, const trade::Catalogue& catalogue,
                           check::Report report);

    Values values_;
    std::future<Values> coming_;
    std::uint64_t seen_ = ~std::uint64_t{0}, begun_ = ~std::uint64_t{0};  ///< revisions
    std::chrono::steady_clock::time_point since_;  ///< when that revision was first seen
    bool waits_ = false;
};

}  // namespace bandwright::app
