#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <vector>

#include "compare/compare.hpp"
#include "geometry/boundary.hpp"
#include "geometry/part.hpp"
#include "triangle_tree.hpp"

/// The surface of the ring as designed. Private to the room.
namespace bandwright::compare {

/// What of the designed surface is nearest to a place.
struct NominalPlace {
    double distance = 0;         ///< mm; positive outside the body
    Vec3 foot;                   ///< on the surface
    Vec3 normal;                 ///< unit; where the distance grows fastest
    std::uint32_t triangle = 0;  ///< of the nominal's own
};

/// Triangles that stand off the true surface by a micrometre at most say which face is nearest and where it
/// ends; the distance is then that to the exact face: true to rounding on planes, cylinders, cones, tori and
/// spheres and, nearby, on the edges between them. On cabochons' ellipsoids, and where two edges are within
/// some micrometres, it may be out by 1.5 micrometres.
class Nominal {
  public:
    Nominal(const std::vector<geometry::Part>& parts, const std::vector<geometry::Boundary>& exact);

    /// `guess` is a triangle that may be near; any number will do.
    NominalPlace at(const Vec3& p, std::uint32_t guess = 0) const;
    /// The same where a body has this normal: of bodies that lie on each other, what faces the same way.
    NominalPlace at(const Vec3& p, const Vec3& facing) const;
    /// How far from the surface, without a sign, any place of a triangle lies at most; `place` is what is
    /// nearest to its middle. Off the exact face where all feet lie on it, and then all but sharp; else off
    /// the one triangle.
    double mostOver(const std::array<Vec3, 3>& corners, const NominalPlace& place) const;
    /// Without a sign, true to a micrometre, and at most `most`.
    double roughDistance(const Vec3& p, double most) const;

    const std::vector<Vec3>& points() const { return points_; }
    const std::vector<Corners>& triangles() const { return triangles_; }
    const std::array<Vec3, 3>& corners(std::uint32_t triangle) const { return tree_.corners(triangle); }
    geometry::Tag tagOf(std::uint32_t triangle) const { return tags_[triangle]; }
    std::size_t partOf(std::uint32_t triangle) const { return parts_[triangle]; }
    /// Whether each face looks the same however far it is turned about the ring's axis.
    bool isTurned() const { return isTurned_; }
    bool hasSeveralParts() const { return severalParts_; }

  private:
    struct Face {
        geometry::FaceSurface surface;
        double outward = 1;  ///< -1 where the body lies on the side of the surface's own normal
    };
    using FacesAtPoint = std::array<std::uint32_t, 4>;  ///< unlike ones; those that are too many are left out

    void addPart(const geometry::Mesh& mesh, const geometry::Boundary& exact, std::size_t part);
    std::uint32_t faceOf(const std::array<Vec3, 3>& corners, const std::vector<std::uint32_t>& candidates,
                         std::uint32_t last) const;
    bool lies(const std::array<Vec3, 3>& corners, std::uint32_t face) const;
    NominalPlace onFace(std::uint32_t face, const Vec3& p) const;
    std::optional<double> mostOffFace(std::uint32_t face, const std::array<Vec3, 3>& corners) const;
    NominalPlace onTriangle(const Nearest& nearest, const Vec3& p) const;
    struct Border {
        std::uint32_t own, other;  ///< faces; the first is the triangle's
        Vec3 inside;               ///< the corner of the triangle that is not on it
    };
    static bool isLikely(const NominalPlace& place, const Nearest& nearest);
    std::optional<Border> borderNear(const Nearest& nearest) const;
    std::optional<NominalPlace> atBorder(const Nearest& nearest, const Vec3& p) const;
    NominalPlace refined(const Nearest& nearest, const Vec3& p) const;
    Vec3 normalOf(std::uint32_t triangle) const;

    std::vector<Vec3> points_, normals_;  ///< the normals those of Baerentzen and Aanaes at each point
    std::vector<FacesAtPoint> facesAt_;
    std::vector<Corners> triangles_;
    std::vector<geometry::Tag> tags_;
    std::vector<std::uint32_t> parts_, faceOf_;
    std::vector<Face> faces_;
    TriangleTree tree_;
    bool isTurned_ = true, severalParts_ = false;
};

/// How far the triangles of a nominal stand off its surface at most, mm.
inline constexpr double kNominalTolerance = kNominalChord.mm();

}  // namespace bandwright::compare
