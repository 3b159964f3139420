#pragma once

#include <cstdint>
#include <vector>

#include "geometry/hole.hpp"
#include "geometry/part.hpp"
#include "geometry/section.hpp"
#include "geometry/vector.hpp"

/// The exact faces of every body of the ring, with the edges and vertices they share: what a file of exact
/// shapes needs. Lengths in mm, angles in radians, in the ring's frame; made from the same sections and holes
/// as the meshes, and like them the same each time.
///
/// Every edge is used by two faces, once in each direction. A face's loops run counter-clockwise seen from
/// outside the body, so the face lies on their left; loops round what is missing in it run clockwise. A
/// face that runs all the way round an axis has no seam: its two loops that go round bound it.
namespace bandwright::geometry {

/// A place and the directions that go with it: `axis` and `x` are unit and square to each other; y is
/// cross(axis, x).
struct AxisPlacement {
    Vec3 origin;
    Vec3 axis{0, 0, 1};
    Vec3 x{1, 0, 0};
};

enum class SurfaceKind : std::uint8_t {
    Plane,             ///< square to the axis
    Cylinder,          ///< of `radius`
    Cone,              ///< of `radius` at the origin, wider by `slope` for each mm along the axis, slope > 0
    Torus,             ///< circles of `radius` about places at `major` from the axis
    Sphere,            ///< of `radius`
    EllipticCylinder,  ///< of half axes a, b; only of long cabochons
    Ellipsoid,         ///< of half axes a, b, c; only of cabochons
};

/// An elementary surface. Its own normal is the axis of a plane and points away from the axis of a cylinder
/// or cone, from the circle of centres of a torus, and from the centre of a sphere or ellipsoid.
struct FaceSurface {
    SurfaceKind kind = SurfaceKind::Plane;
    AxisPlacement place{};
    double radius = 0;
    double slope = 0;
    double major = 0;  ///< below `radius` only the side of the circles off the axis counts; negative where
                       ///< the centres lie beyond the axis (a surface like a lemon's)
    double a = 0, b = 0, c = 0;  ///< along x, y and the axis
};

/// From the surface to p, positive on the side of its own normal, mm; on an ellipsoid or elliptic cylinder
/// true to first order.
double heightOver(const FaceSurface& surface, const Vec3& p);

enum class CurveKind : std::uint8_t {
    Line,
    Circle,        ///< of `radius`, or an arc of it
    Ellipse,       ///< whole, of half axes `radius` along x and `minor` along y
    Intersection,  ///< of a surface of revolution about the ring's axis with a hole's wall: `mouth`
};

/// Where a piece of a hole's wall crosses the surface that a segment leaves when it is turned about the
/// ring's axis; in closed form, because each circle of that surface crosses the wall at one angle to either
/// side.
struct MouthCurve {
    Segment segment;
    HolePiece piece;
    double offset = 0;        ///< of the hole from mid-width, mm
    double angle = 0;         ///< of the hole round the band
    double from = 0, to = 0;  ///< shares of the segment's length, from < to
    double tipBefore = 0;  ///< how far beyond `from`, in shares, it would meet the curve on the other side;
                           ///< at most its own length, 0 where it does
    double tipBeyond = 0;  ///< the same beyond `to`
    bool after = true;     ///< on the side of larger angles
};

struct EdgeCurve {
    CurveKind kind = CurveKind::Line;
    AxisPlacement place{};  ///< of a circle or ellipse: its middle; it begins at x and runs towards y
    double radius = 0, minor = 0;
    double sweep = 0;  ///< 0 < sweep <= 2 pi
    MouthCurve mouth{};
};

/// From one vertex to another; to itself when it is a whole circle or ellipse.
struct BoundaryEdge {
    std::uint32_t from = 0, to = 0;
    EdgeCurve curve;
};

struct EdgeUse {
    std::uint32_t edge = 0;
    bool forward = true;
};
using BoundaryLoop = std::vector<EdgeUse>;

enum class FaceSpan : std::uint8_t {
    Patch,  ///< the first loop is the outer one; every plane face is such
    Belt,   ///< runs all the way round its surface's axis: the first two loops go round it
    Cap,    ///< holds the place where the axis passes through the surface: the first loop goes round it
};

struct BoundaryFace {
    FaceSurface surface{};
    bool reversed = false;  ///< the body lies on the side of the surface's own normal
    Tag tag;
    FaceSpan span = FaceSpan::Patch;
    std::vector<BoundaryLoop> loops{};
    std::uint32_t shell = 0;  ///< faces of one shell hang together by their edges
};

/// The surface of one body. Vertices lie on the surfaces of their faces to 1e-9 mm, but for corners of the
/// section that were moved by the width of a film (below 2e-6 mm) when it was cleared of such films.
struct Boundary {
    Part part;  ///< its mesh is left empty
    std::vector<Vec3> vertices;
    std::vector<BoundaryEdge> edges;
    std::vector<BoundaryFace> faces;
    std::uint32_t shells = 0;
    double larger = 0;  ///< the most mm by which a hole was enlarged, so that faces which lie on each
                        ///< other in the design come apart; nearly always 0
};

/// The place at share t (0..1) of the parameter of an edge, from its beginning to its end; exact but for
/// rounding. The parameter is the length of a line, the angle of a circle or ellipse, and one along which an
/// intersection is smooth, also at and near its tips.
Vec3 pointAt(const Boundary& body, std::uint32_t edge, double t);

/// One for each part, in the order of `buildParts`. Throws InputError as that does.
std::vector<Boundary> boundaries(const design::Design& design, design::Stage stage = design::Stage::Finished);

}  // namespace bandwright::geometry
