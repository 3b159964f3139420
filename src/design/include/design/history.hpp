#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.hpp"

namespace bandwright::design {

/// Earlier designs kept unless told otherwise.
inline constexpr std::size_t kMostUndone = 1000;

/// Undo and redo of whole designs. A plain value: a copy is a history of its own.
class History {
  public:
    /// Keeps at most `limit` earlier designs (at least 1); the oldest are forgotten first.
    explicit History(Design start, std::size_t limit = kMostUndone);
    /// Goes on where another left off: its designs, oldest first, at least one, and the place of the current
    /// one among them.
    History(std::vector<Design> designs, std::size_t place, std::size_t limit = kMostUndone);

    const Design& current() const { return designs_[at_]; }
    /// All of them, oldest first, those that were undone among them, and the place of the current one.
    const std::vector<Design>& designs() const { return designs_; }
    std::size_t place() const { return at_; }
    bool canUndo() const { return at_ > 0; }
    bool canRedo() const { return at_ + 1 < designs_.size(); }

    /// Makes `next` the current design; what had been undone is forgotten. Nothing happens when it equals the
    /// current one.
    ///
    /// Pushes in a row with the same `drag` (any name that is not empty, e.g. "band.width") become one step
    /// of undo, so a number that is dragged through a hundred values is taken back at once; a drag that ends
    /// where it began leaves no step. undo, redo, endDrag and a push with another name end it.
    void push(Design next, std::string_view drag = {});

    /// The next push starts a step of its own, also with the same name.
    void endDrag() { drag_.clear(); }

    /// One step back or forward; nothing happens at the end.
    void undo();
    void redo();
    /// The design at this place; nothing happens where there is none.
    void goTo(std::size_t place);

  private:
    std::vector<Design> designs_;  ///< oldest first; never empty
    std::size_t at_ = 0;           ///< place of the current design
    std::size_t limit_;
    std::string drag_;  ///< of the step being dragged; empty = none
};

}  // namespace bandwright::design
