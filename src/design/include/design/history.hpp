#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

#include "design/design.hpp"

namespace bandwright::design {

/// Undo and redo of whole designs. A plain value: a copy is a history of its own.
class History {
  public:
    /// Keeps at most `limit` earlier designs (at least 1); the oldest are forgotten first.
    explicit History(Design start, std::size_t limit = 200);

    const Design& current() const { return designs_[at_]; }
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

  private:
    std::vector<Design> designs_;  ///< oldest first; never empty
    std::size_t at_ = 0;           ///< place of the current design
    std::size_t limit_;
    std::string drag_;  ///< of the step being dragged; empty = none
};

}  // namespace bandwright::design
