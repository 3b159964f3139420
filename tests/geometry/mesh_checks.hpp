#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

#include "geometry/hole.hpp"
#include "geometry/ring.hpp"

/// Checks that the bodies of a ring are sound, for tests. Nothing here uses the mesh builder's own sums.
namespace bandwright::geometry {

/// The bodies of a design, or nothing when it is refused.
std::optional<std::vector<Part>> partsOf(const design::Design& design,
                                         design::Stage stage = design::Stage::Finished,
                                         const BuildOptions& options = {});

/// The same, or nothing when holes run into each other.
std::optional<std::vector<Part>> apartPartsOf(const design::Design& design,
                                              design::Stage stage = design::Stage::Finished,
                                              const BuildOptions& options = {});

/// The holes of a design, each with the angles (radians) at which it stands.
struct PlacedHoles {
    HoleProfile profile;
    std::vector<double> angles;
};
std::vector<PlacedHoles> placedHoles(const design::Design& design);

/// V - E + F of the surface of a turned body with holes in it. The body falls into circles about the axis,
/// and a hole leaves an arc of some of them; a circle counts 0 and an arc 1, so half of what is asked is the
/// Euler characteristic of the part of the section that lies in a hole, without the hole's outline and with
/// the section's own, summed over the holes. (The boundary of a solid has twice its Euler characteristic;
/// for sums over slices: Viro, "Some integral calculus based on Euler characteristic", 1988.)
int eulerCharacteristic(const Section& section, const std::vector<PlacedHoles>& holes);

/// The exact surfaces of a body of a ring, by the names of its faces.
class TrueSurface {
  public:
    TrueSurface(const Section& section, std::vector<PlacedHoles> holes);

    /// From p to the nearest place of the surface of that name, mm.
    double distance(Tag tag, const Vec3& p) const;

  private:
    Section section_;
    std::vector<PlacedHoles> holes_;
};

/// Triangles of a feature: how many, and how far they stand off the surface they are part of, mm.
struct FaceCount {
    std::size_t triangles = 0;
    std::size_t slivers = 0;  ///< with an angle below one degree
    double mostOff = 0;
};
using FaceCounts = std::map<Feature, FaceCount>;

/// Looks at each triangle in fifteen places: its corners, the quarters of its edges, and three inside.
void countFaces(const Mesh& mesh, const TrueSurface& surface, FaceCounts& counts);

/// Whether the arrays of two meshes hold the same bytes.
bool sameBytes(const Mesh& a, const Mesh& b);

}  // namespace bandwright::geometry
