#pragma once

#include <array>
#include <cstddef>
#include <optional>
#include <span>
#include <string_view>

/// Private to the room.
namespace bandwright::design {

/// One key of a path and the place in its list, if it names one.
struct PathPart {
    std::string_view key;
    std::optional<std::size_t> place;
    bool isAnyPlace = false;  ///< "#"

    bool hasPlace() const { return isAnyPlace || place.has_value(); }
};

/// A path in its parts, which are views of the text it was read from.
class Path {
  public:
    /// Nothing when the text is no path.
    static std::optional<Path> read(std::string_view text);

    std::span<const PathPart> parts() const { return {parts_.data(), count_}; }

  private:
    static constexpr std::size_t kMost = 6;  ///< more than any field has
    std::array<PathPart, kMost> parts_{};
    std::size_t count_ = 0;
};

}  // namespace bandwright::design
