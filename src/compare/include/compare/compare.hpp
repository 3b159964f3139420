#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/units.hpp"
#include "geometry/boundary.hpp"
#include "geometry/part.hpp"
#include "geometry/triangles.hpp"

/// A real body, cast, printed or scanned, held against the ring as designed.
namespace bandwright::compare {

class Nominal;

/// What the body should be: bodies of the design as meshes and as exact faces, in the same order. The meshes
/// stand off the exact faces by `kNominalChord` at most; they say which face a place belongs to.
class Designed {
  public:
    Designed(std::vector<geometry::Part> parts, const std::vector<geometry::Boundary>& exact);

    const std::vector<geometry::Part>& parts() const { return parts_; }
    const Nominal& nominal() const { return *nominal_; }  ///< private to the room

  private:
    std::vector<geometry::Part> parts_;
    std::shared_ptr<const Nominal> nominal_;
};
inline constexpr base::Micrometres kNominalChord{1};

/// Lengths of a file in mm.
struct LengthUnit {
    std::string_view id;  ///< "mm"
    std::string_view inWords;
    double mm;
};
/// "mm", "cm", "m" and "in". Throws InputError for any other.
const LengthUnit& lengthUnit(const std::string& id);

/// Throws InputError where a body's extent, in its unit, cannot be that of the design; the sentence names the
/// unit that would fit. A body may be half as large again or smaller by a third.
void requireUnit(const geometry::Triangles& body, const LengthUnit& unit, const Designed& designed,
                 const std::string& file);

/// From the body's file to the ring's frame: p -> scale * turn * p + shift. `scale` holds the unit too.
struct Pose {
    std::array<geometry::Vec3, 3> turn{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};  ///< rows
    geometry::Vec3 shift;
    double scale = 1;

    geometry::Vec3 direction(const geometry::Vec3& v) const;
    geometry::Vec3 operator()(const geometry::Vec3& p) const { return scale * direction(p) + shift; }
};

struct FitOptions {
    double mmPerUnit = 1;
    bool scale = false;     ///< also seek the factor by which the body has to be enlarged
    bool holdAxis = false;  ///< only turn about the ring's axis and shift along it
    /// Told now and then which share is done, 0..1; what it throws ends the work.
    std::function<void(double)> progress{};
};

/// How the body lies best in the design: by least squares of the distances of its points from the exact
/// surface, points that lie far from it (dents, burrs, rims of what is missing) left out by Tukey's weights.
struct Fit {
    Pose pose;
    double factor = 1;        ///< by which the body was enlarged beyond its unit; 1 unless asked for
    bool turnIsFree = false;  ///< nothing but turned faces: any turn about the axis fits
    std::size_t alike = 1;    ///< turns that fit as well, this one counted
    double typical = 0;       ///< median distance of the body's points from the surface, mm
    double leftOut = 0;       ///< share of the points, by area, that had no weight
};

Fit fit(const Designed& designed, const geometry::Triangles& body, const FitOptions& options);

}  // namespace bandwright::compare
