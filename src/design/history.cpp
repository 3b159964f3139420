#include "design/history.hpp"

#include <algorithm>
#include <utility>

namespace bandwright::design {

History::History(Design start, std::size_t limit) : limit_(std::max<std::size_t>(limit, 1)) {
    designs_.push_back(std::move(start));
}

History::History(std::vector<Design> designs, std::size_t place, std::size_t limit)
    : designs_(std::move(designs)),
      at_(std::min(place, designs_.size() - 1)),
      limit_(std::max<std::size_t>(limit, 1)) {}

void History::push(Design next, std::string_view drag) {
    if (next == current()) return;
    const bool goesOn = !drag.empty() && drag == drag_;
    designs_.resize(at_ + 1);
    if (!goesOn) {
        drag_ = drag;
        designs_.push_back(std::move(next));
        if (designs_.size() > limit_ + 1) designs_.erase(designs_.begin());
        at_ = designs_.size() - 1;
        return;
    }
    designs_[at_] = std::move(next);
    if (at_ > 0 && designs_[at_] == designs_[at_ - 1]) {
        designs_.pop_back();
        --at_;
        drag_.clear();
    }
}

void History::undo() {
    endDrag();
    if (canUndo()) --at_;
}

void History::redo() {
    endDrag();
    if (canRedo()) ++at_;
}

void History::goTo(std::size_t place) {
    endDrag();
    if (place < designs_.size()) at_ = place;
}

}  // namespace bandwright::design
