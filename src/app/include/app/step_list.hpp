#pragma once

#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "app/session.hpp"
#include "app/theme.hpp"

namespace bandwright::app {

/// What each step of the history changed, by its place from the oldest on; the first is how it began.
std::vector<std::string> stepNames(const Session& session);

/// The steps that led to the ring, by what each changed, to go back or forward to any of them. A list that
/// drops from the bar; the ring is seen beside it.
class StepList {
  public:
    void ask() { shown_ = asked_ = true; }
    bool shown() const { return shown_; }
    /// Draws it under the bar, which ends at `top`. Returns the step to go to (see History::place).
    std::optional<std::size_t> draw(const Session& session, const Theme& theme, float top);

    /// Whether two of them were asked to be compared. Asking clears it.
    bool takeCompareAsked() { return std::exchange(compareAsked_, false); }

    /// The steps by their place, from the oldest on.
    const std::vector<std::string>& names() const { return names_; }
    /// Where steps were drawn: "0", "1", ..., and "compare".
    const std::map<std::string, std::array<float, 4>>& places() const { return places_; }

  private:
    bool shown_ = false, asked_ = false, compareAsked_ = false;
    std::uint64_t revision_ = 0;
    std::vector<std::string> names_;
    std::map<std::string, std::array<float, 4>> places_;
};

}  // namespace bandwright::app
