#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "geometry/triangles.hpp"

/// What the readers of surfaces share. Private to the room.
namespace bandwright::formats {

/// What a reader takes at most, and what its sentences call it.
struct ReadLimits {
    std::string_view what;  ///< "the stone's model"
    std::uintmax_t bytes = 0;
    std::size_t triangles = 0;
};

/// Throws InputError: the file, what it holds, and why.
[[noreturn]] void refuse(const std::filesystem::path& file, const ReadLimits& limits, const std::string& why);

/// Throws InputError unless it is a plain file, to be read and within the limits.
std::uintmax_t requireSize(const std::filesystem::path& file, const ReadLimits& limits);

/// All bytes of a file. Throws as requireSize does.
std::string fileBytes(const std::filesystem::path& file, const ReadLimits& limits);

/// A surface as a file tells it: facets of three or more corners each.
struct Facets {
    std::vector<geometry::Vec3> points;
    std::vector<std::uint32_t> corners;  ///< points, facet after facet
    std::vector<std::uint32_t> sizes;    ///< how many corners each has
};

/// Gives points in the same place one number, because many programs write each facet with its own points, and
/// splits facets into triangles. Facets without three different points are left out, and so are points that
/// no triangle uses. Throws InputError for a corner that does not exist, a point that is no number, too many
/// triangles, or none.
geometry::Triangles surfaceOf(Facets facets, const std::filesystem::path& file, const ReadLimits& limits);

/// Readers of the formats. Each throws InputError where its file is not what it should be.
Facets readObj(const std::filesystem::path& file, const ReadLimits& limits);
Facets readPly(const std::filesystem::path& file, const ReadLimits& limits);
Facets readStl(const std::filesystem::path& file, const ReadLimits& limits);

/// The next word and number of a text; nothing where it ends.
class Words {
  public:
    explicit Words(std::string_view text) : rest_(text) {}
    std::string_view next();
    /// Throws nothing; false where the next word is no finite number.
    bool number(double& value);
    void skipLine();
    std::size_t left() const { return rest_.size(); }

  private:
    std::string_view rest_;
};

}  // namespace bandwright::formats
