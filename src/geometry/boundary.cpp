#include "geometry/boundary.hpp"

#include <cmath>
#include <utility>

#include "boundary_build.hpp"
#include "geometry/ring.hpp"
#include "ring_bodies.hpp"
#include "setting.hpp"

namespace bandwright::geometry {

namespace {

Vec3 turned(const Vec3& p, const Stand& stand) {
    return p.x * stand.axes[0] + p.y * stand.axes[1] + p.z * stand.axes[2];
}

AxisPlacement placed(const AxisPlacement& place, const Stand& stand) {
    return {stand.origin + turned(place.origin, stand), turned(place.axis, stand), turned(place.x, stand)};
}

/// A tube or stone, which has no mouths of holes, where it stands.
Boundary placed(Boundary body, const Stand& stand) {
    for (Vec3& p : body.vertices)
        p = stand.origin + turned(p, stand);
    for (BoundaryEdge& edge : body.edges)
        edge.curve.place = placed(edge.curve.place, stand);
    for (BoundaryFace& face : body.faces)
        face.surface.place = placed(face.surface.place, stand);
    return body;
}

/// As the placement has it: x along its x, y across, z along its axis.
Vec3 seenFrom(const AxisPlacement& place, const Vec3& p) {
    const Vec3 d = p - place.origin;
    return {dot(d, place.x), dot(d, cross(place.axis, place.x)), dot(d, place.axis)};
}

}  // namespace

double heightOver(const FaceSurface& s, const Vec3& point) {
    const Vec3 p = seenFrom(s.place, point);
    const double out = std::hypot(p.x, p.y);
    // How far the point lies out in half axes, and how fast that grows along the normal.
    const auto stretched = [&](const Vec3& shares) {
        return (length(shares) - 1) * length(shares) /
               length(Vec3{shares.x / s.a, shares.y / s.b, s.c == 0 ? 0 : shares.z / s.c});
    };
    switch (s.kind) {
        case SurfaceKind::Plane:
            return p.z;
        case SurfaceKind::Cylinder:
            return out - s.radius;
        case SurfaceKind::Cone:
            return (out - s.radius - s.slope * p.z) / std::hypot(1, s.slope);
        case SurfaceKind::Torus:
            return std::hypot(out - s.major, p.z) - s.radius;
        case SurfaceKind::Sphere:
            return length(p) - s.radius;
        case SurfaceKind::EllipticCylinder:
            return stretched({p.x / s.a, p.y / s.b, 0});
        case SurfaceKind::Ellipsoid:
            return stretched({p.x / s.a, p.y / s.b, p.z / s.c});
    }
    return 0;
}

Vec3 pointAt(const Boundary& body, std::uint32_t number, double t) {
    const BoundaryEdge& edge = body.edges[number];
    if (t <= 0) return body.vertices[edge.from];
    if (t >= 1) return body.vertices[edge.to];
    const EdgeCurve& curve = edge.curve;
    switch (curve.kind) {
        case CurveKind::Line:
            return (1 - t) * body.vertices[edge.from] + t * body.vertices[edge.to];
        case CurveKind::Circle:
        case CurveKind::Ellipse: {
            const double across = curve.kind == CurveKind::Circle ? curve.radius : curve.minor;
            return curve.place.origin + curve.radius * std::cos(t * curve.sweep) * curve.place.x +
                   across * std::sin(t * curve.sweep) * cross(curve.place.axis, curve.place.x);
        }
        case CurveKind::Intersection: {
            const Vec3 p = onMouth(curve.mouth, t);
            const double c = std::cos(curve.mouth.angle);
            const double s = std::sin(curve.mouth.angle);
            return {c * p.x - s * p.y, s * p.x + c * p.y, p.z};
        }
    }
    return {};
}

std::vector<Boundary> boundaries(const design::Design& design, design::Stage stage) {
    requireBuildable(design);
    const Workpiece piece = workpiece(design, stage);
    const RingSections plain = sections(design, piece);
    const std::vector<HoleRow> holes = piece.drilled ? holeRows(design) : std::vector<HoleRow>();
    std::vector<Boundary> bodies;
    for (auto& [part, section] : turnedBodies(design, plain)) {
        bodies.push_back(turnedBoundary(*section, holes));
        bodies.back().part = std::move(part);
    }
    int tubes = 0;
    int stones = 0;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const design::Setting& setting = design.settings[i];
        const auto index = static_cast<std::uint16_t>(i);
        const auto addAll = [&](const Boundary& own, const Part& part, double height, int& number) {
            for (const double angle : holes[i].angles) {
                bodies.push_back(placed(own, standAt(angle, setting.placement.offset, height)));
                bodies.back().part = part;
                bodies.back().part.number = ++number;
            }
        };
        if (hasTube(piece, setting)) {
            const Part part{.role = PartRole::Tube, .material = setting.tube->metal, .source = index};
            addAll(turnedBoundary(tubeSection(design, i, stage), {}), part, 0, tubes);
        }
        if (hasStone(piece, setting)) {
            const Part part{.role = PartRole::Stone, .material = setting.stone->gem, .source = index};
            addAll(stoneBoundary(*setting.stone, index), part,
                   girdleHeight(design, i, stoneMesh(*setting.stone)), stones);
        }
    }
    return bodies;
}

}  // namespace bandwright::geometry
