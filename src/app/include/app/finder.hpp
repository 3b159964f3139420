#pragma once

#include <array>
#include <functional>
#include <string>
#include <vector>

#include "app/theme.hpp"

namespace bandwright::app {

/// Something that a person can ask for by a name.
struct Command {
    std::string name;
    std::string keys;  ///< as the keys sheet writes them; empty = it has none
    bool isEnabled = true;
    std::function<void()> run;
};

/// Whether a name holds every word typed, in any order and case.
bool holdsWords(const std::string& name, const std::string& typed);

/// Those whose name holds every word typed, in any order and case, the ones that begin with it first.
std::vector<std::size_t> matching(const std::vector<Command>& commands, const std::string& typed);

/// Finds a command by what is typed. A modal panel of the current ImGui context.
class Finder {
  public:
    void ask();
    bool shown() const { return shown_; }
    /// Draws the panel if it is shown; runs what is chosen, once the panel is gone.
    void draw(const std::vector<Command>& commands, const Theme& theme);

  private:
    bool shown_ = false, begins_ = false;
    std::string typed_;
    std::size_t at_ = 0;  ///< the place in the list that Enter takes
};

}  // namespace bandwright::app
