#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "app/session.hpp"
#include "check/check.hpp"
#include "geometry/ring.hpp"

/// Outlines of a ring that is not the one shown: the finished one, or the one that a remedy would make.
namespace bandwright::app {

/// The sections of a ring at a stage: the plain one, then one through each setting.
struct Ghost {
    std::vector<geometry::Section> outlines;  ///< band and liner of each

    /// The one to be laid over the section of that number, 0 = plain; the plain one where there is none.
    const geometry::Section& over(int shown) const;
};

/// Throws InputError when the ring cannot be made.
Ghost ghostOf(const design::Design& made, design::Stage stage);

/// The corners of an outline where another has none, in the section's half-plane.
std::vector<geometry::Vec2> movedCorners(const geometry::Section& before, const geometry::Section& after);

/// What is laid over section and stand, worked out when what it is of has changed.
class Preview {
  public:
    /// `remedy` is what the pointer or the keyboard rests on; nothing = none.
    void follow(const Session& session, const std::optional<check::Remedy>& remedy);

    /// Nothing while no remedy is looked at, or its ring cannot be made at this stage.
    const std::optional<Ghost>& remedied() const { return remedied_; }
    /// The corners of its plain section that this ring has not.
    const std::vector<geometry::Vec2>& moved() const { return moved_; }
    /// Nothing at the finished stage.
    const std::optional<Ghost>& finished() const { return finished_; }

  private:
    std::uint64_t revision_ = ~std::uint64_t{0};
    std::string text_;
    std::optional<Ghost> remedied_, finished_;
    std::vector<geometry::Vec2> moved_;
};

}  // namespace bandwright::app
