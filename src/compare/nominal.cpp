#include "nominal.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "farthest.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::compare {

namespace {

using geometry::FaceSurface;
using geometry::SurfaceKind;

constexpr std::uint32_t kNoFace = std::numeric_limits<std::uint32_t>::max();
/// Corners of a triangle lie on the surface of its face to this, mm: a hole may have been moved by a film.
constexpr double kOnSurface = 1e-5;

bool isExact(SurfaceKind kind) {
    return kind != SurfaceKind::Ellipsoid && kind != SurfaceKind::EllipticCylinder;
}

/// The surface's own normal at the foot of p.
Vec3 ownNormal(const FaceSurface& s, const Vec3& p) {
    const Vec3 d = p - s.place.origin;
    const double z = dot(d, s.place.axis);
    const Vec3 out = unit(d - z * s.place.axis);
    switch (s.kind) {
        case SurfaceKind::Plane:
            return s.place.axis;
        case SurfaceKind::Cylinder:
        case SurfaceKind::EllipticCylinder:
            return out;
        case SurfaceKind::Cone:
            return 1 / std::hypot(1, s.slope) * (out - s.slope * s.place.axis);
        case SurfaceKind::Torus:
            return unit(d - s.major * out);
        case SurfaceKind::Sphere:
        case SurfaceKind::Ellipsoid:
            return unit(d);
    }
    return out;
}

/// Whether turning it about the ring's axis leaves a surface where it is.
bool turnsInPlace(const FaceSurface& s) {
    constexpr double kSame = 1e-12;
    const bool alongAxis = std::hypot(s.place.axis.x, s.place.axis.y) < kSame;
    const bool onAxis = std::hypot(s.place.origin.x, s.place.origin.y) < kSame;
    return alongAxis && (onAxis || s.kind == SurfaceKind::Plane);
}

/// Over what is near a place: how much farther apart two feet lie than what they are the feet of, and by how
/// much the height bends the other way than that of a convex function, per mm2. Nothing where the place is
/// too near to where the surface is all curled up.
struct Bend {
    double stretch = 1, hollow = 0;
};
std::optional<Bend> bendAround(const FaceSurface& s, const Vec3& p, double reach) {
    if (s.kind == SurfaceKind::Plane) return Bend{};
    const Vec3 d = p - s.place.origin;
    const double z = dot(d, s.place.axis), r = length(d - z * s.place.axis);
    const double off = std::abs(heightOver(s, p)) + reach;
    if (s.kind == SurfaceKind::Sphere) {
        if (length(d) <= reach) return std::nullopt;
        return Bend{.stretch = std::max(1.0, s.radius / (length(d) - reach))};
    }
    if (r <= reach) return std::nullopt;
    // About the axis; the foot lies no farther out than its place by what lies between them.
    Bend bend{.stretch = (r + reach + off) / (r - reach)};
    if (s.kind != SurfaceKind::Torus) return bend;
    const double fromCircle = std::hypot(r - s.major, z);
    if (fromCircle <= reach) return std::nullopt;
    bend.stretch = std::max(bend.stretch, s.radius / (fromCircle - reach));
    // Between axis and circle the distance from the circle bends by (major - r) / r over itself, about the
    // axis.
    if (r - reach < s.major) bend.hollow = 1 / (r - reach);
    return bend;
}

double angleAt(const Vec3& p, const Vec3& a, const Vec3& b) {
    return std::atan2(length(cross(a - p, b - p)), dot(a - p, b - p));
}

}  // namespace

Nominal::Nominal(const std::vector<geometry::Part>& parts, const std::vector<geometry::Boundary>& exact)
    : severalParts_(parts.size() > 1) {
    for (std::size_t i = 0; i < parts.size(); ++i)
        addPart(parts[i].mesh, exact[i], i);
    normals_.resize(points_.size());
    facesAt_.assign(points_.size(), {kNoFace, kNoFace, kNoFace, kNoFace});
    for (std::size_t i = 0; i < triangles_.size(); ++i) {
        const Corners& t = triangles_[i];
        const Vec3 normal = normalOf(static_cast<std::uint32_t>(i));
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3& p = points_[t[k]];
            normals_[t[k]] =
                normals_[t[k]] + angleAt(p, points_[t[(k + 1) % 3]], points_[t[(k + 2) % 3]]) * normal;
            for (std::uint32_t& face : facesAt_[t[k]]) {
                if (face == faceOf_[i]) break;
                if (face != kNoFace) continue;
                face = faceOf_[i];
                break;
            }
        }
    }
    for (Vec3& normal : normals_)
        normal = unit(normal);
    tree_ = TriangleTree(points_, triangles_);
}

void Nominal::addPart(const geometry::Mesh& mesh, const geometry::Boundary& exact, std::size_t part) {
    const auto firstFace = static_cast<std::uint32_t>(faces_.size());
    const auto firstPoint = static_cast<std::uint32_t>(points_.size());
    for (const geometry::BoundaryFace& face : exact.faces) {
        faces_.push_back({face.surface, face.reversed ? -1.0 : 1.0});
        isTurned_ = isTurned_ && turnsInPlace(face.surface);
    }
    points_.insert(points_.end(), mesh.points.begin(), mesh.points.end());
    std::uint32_t last = kNoFace;
    for (const geometry::MeshFace& run : mesh.faces) {
        std::vector<std::uint32_t> candidates;
        for (std::uint32_t i = 0; i < exact.faces.size(); ++i) {
            if (exact.faces[i].tag == run.tag && isExact(exact.faces[i].surface.kind))
                candidates.push_back(firstFace + i);
        }
        for (std::uint32_t i = run.firstTriangle; i < run.firstTriangle + run.triangleCount; ++i) {
            const auto& t = mesh.triangles[i];
            const Corners corners = {firstPoint + mesh.pointOf[t[0]], firstPoint + mesh.pointOf[t[1]],
                                     firstPoint + mesh.pointOf[t[2]]};
            triangles_.push_back(corners);
            tags_.push_back(run.tag);
            parts_.push_back(static_cast<std::uint32_t>(part));
            last = faceOf({points_[corners[0]], points_[corners[1]], points_[corners[2]]}, candidates, last);
            faceOf_.push_back(last);
        }
        last = kNoFace;
    }
}

bool Nominal::lies(const std::array<Vec3, 3>& t, std::uint32_t face) const {
    const FaceSurface& surface = faces_[face].surface;
    for (const Vec3& p : t)
        if (std::abs(heightOver(surface, p)) > kOnSurface) return false;
    const Vec3 middle = 1.0 / 3 * (t[0] + t[1] + t[2]);
    constexpr double kLeastCosine = 0.5;
    return std::abs(heightOver(surface, middle)) < 2 * kNominalTolerance &&
           faces_[face].outward * dot(ownNormal(surface, middle), unit(cross(t[1] - t[0], t[2] - t[0]))) >
               kLeastCosine;
}

std::uint32_t Nominal::faceOf(const std::array<Vec3, 3>& corners,
                              const std::vector<std::uint32_t>& candidates, std::uint32_t last) const {
    if (last != kNoFace && lies(corners, last)) return last;
    const auto found = std::ranges::find_if(candidates, [&](std::uint32_t f) { return lies(corners, f); });
    return found == candidates.end() ? kNoFace : *found;
}

Vec3 Nominal::normalOf(std::uint32_t triangle) const {
    const Corners& t = triangles_[triangle];
    return unit(cross(points_[t[1]] - points_[t[0]], points_[t[2]] - points_[t[0]]));
}

NominalPlace Nominal::onFace(std::uint32_t face, const Vec3& p) const {
    const Face& f = faces_[face];
    const double height = heightOver(f.surface, p);
    const Vec3 own = ownNormal(f.surface, p);
    return {f.outward * height, p - height * own, f.outward * own, 0};
}

NominalPlace Nominal::onTriangle(const Nearest& nearest, const Vec3& p) const {
    const Corners& t = triangles_[nearest.triangle];
    Vec3 outward = normalOf(nearest.triangle);
    switch (nearest.site) {
        case Site::Inside:
            break;
        case Site::Edge01:
            outward = normals_[t[0]] + normals_[t[1]];
            break;
        case Site::Edge12:
            outward = normals_[t[1]] + normals_[t[2]];
            break;
        case Site::Edge20:
            outward = normals_[t[2]] + normals_[t[0]];
            break;
        case Site::Corner0:
            outward = normals_[t[0]];
            break;
        case Site::Corner1:
            outward = normals_[t[1]];
            break;
        case Site::Corner2:
            outward = normals_[t[2]];
            break;
    }
    const Vec3 d = p - nearest.point;
    const double distance = std::sqrt(nearest.squared);
    const double sign = dot(d, outward) < 0 ? -1 : 1;
    const bool isApart = distance > geometry::kSamePoint;
    return {sign * distance, nearest.point, isApart ? sign / distance * d : unit(outward), nearest.triangle};
}

/// The height over the face's surface is all but convex over any triangle: greatest at a corner, and nowhere
/// under the plane that touches it in the middle. It is the distance where the face has all the feet, so
/// where no other face is near them.
std::optional<double> Nominal::mostOffFace(std::uint32_t face, const std::array<Vec3, 3>& corners) const {
    const Vec3 middle = 1.0 / 3 * (corners[0] + corners[1] + corners[2]);
    const double reach = reachOf(corners);
    const FaceSurface& surface = faces_[face].surface;
    const std::optional<Bend> bend = bendAround(surface, middle, reach);
    if (!bend) return std::nullopt;
    const double height = heightOver(surface, middle);
    const Vec3 slope = ownNormal(surface, middle);
    const std::function<bool(std::uint32_t)> isOther = [&](std::uint32_t triangle) {
        return faceOf_[triangle] != face;
    };
    const double feet = bend->stretch * reach + 2 * kNominalTolerance;
    const Vec3 foot = middle - height * slope;
    if (tree_.nearest(foot, feet * feet, &isOther).found()) return std::nullopt;
    // Some triangle of the face itself has to be there.
    constexpr double kOn = 2 * kNominalTolerance;
    if (!tree_.nearest(foot, kOn * kOn).found()) return std::nullopt;
    double most = height, least = height;
    for (const Vec3& corner : corners) {
        most = std::max(most, heightOver(surface, corner));
        least = std::min(least, height + dot(slope, corner - middle));
    }
    return std::max(most, -least) + 0.5 * bend->hollow * reach * reach;
}

double Nominal::mostOver(const std::array<Vec3, 3>& corners, const NominalPlace& place) const {
    const std::uint32_t face = faceOf_[place.triangle];
    if (face != kNoFace)
        if (const std::optional<double> most = mostOffFace(face, corners)) return *most;
    return mostFrom(tree_.corners(place.triangle), corners) + kNominalTolerance;
}

/// Whether a distance is that of the triangles but for their chords.
bool Nominal::isLikely(const NominalPlace& place, const Nearest& nearest) {
    return std::abs(std::abs(place.distance) - std::sqrt(nearest.squared)) < 1.5 * kNominalTolerance;
}

/// The side of a triangle, near its point, along which two faces meet.
std::optional<Nominal::Border> Nominal::borderNear(const Nearest& nearest) const {
    constexpr double kNear = 3 * kNominalTolerance;
    const Corners& t = triangles_[nearest.triangle];
    for (std::size_t i = 0; i < 3; ++i) {
        const FacesAtPoint &here = facesAt_[t[i]], &there = facesAt_[t[(i + 1) % 3]];
        if (here[1] == kNoFace || there[1] == kNoFace) continue;
        std::array<std::uint32_t, 2> common{};
        std::size_t count = 0;
        for (const std::uint32_t face : here) {
            if (face == kNoFace || std::ranges::find(there, face) == there.end()) continue;
            if (count < 2) common[count] = face;
            ++count;
        }
        const std::uint32_t own = faceOf_[nearest.triangle];
        if (count != 2 || (common[0] != own && common[1] != own)) continue;
        const Vec3 a = points_[t[i]], b = points_[t[(i + 1) % 3]];
        const double share = std::clamp(dot(nearest.point - a, b - a) / dot(b - a, b - a), 0.0, 1.0);
        if (geometry::distance(nearest.point, a + share * (b - a)) > kNear) continue;
        return Border{own, common[0] == own ? common[1] : common[0], points_[t[(i + 2) % 3]]};
    }
    return std::nullopt;
}

/// At a border: the foot on one face or the other, if it lies on the face's side of the border, or else the
/// nearest place of the border itself. That is found by Newton's way: both faces are taken for their tangent
/// planes, whose line has a nearest point, and so on from there. Nothing where that does not settle.
std::optional<NominalPlace> Nominal::atBorder(const Nearest& nearest, const Vec3& p) const {
    const std::optional<Border> border = borderNear(nearest);
    if (!border) return std::nullopt;
    Vec3 x = nearest.point, own, other;
    constexpr int kSteps = 6;
    for (int i = 0; i < kSteps; ++i) {
        const NominalPlace a = onFace(border->own, x), b = onFace(border->other, x);
        own = a.normal;
        other = b.normal;
        const double c = dot(own, other);
        constexpr double kLeastSine2 = 1e-4;  // flatter edges are smooth enough for either face
        if (1 - c * c < kLeastSine2) return std::nullopt;
        const double g0 = dot(own, p - x) + a.distance, g1 = dot(other, p - x) + b.distance;
        x = p - (g0 - c * g1) / (1 - c * c) * own - (g1 - c * g0) / (1 - c * c) * other;
    }
    const Vec3 d = p - x;
    const double distance = length(d);
    const Vec3 along = cross(own, other);
    const double hand = dot(cross(own, along), border->inside - x) < 0 ? -1 : 1;
    const NominalPlace onOwn = onFace(border->own, p), onOther = onFace(border->other, p);
    const bool isOnOwn = hand * dot(cross(own, along), onOwn.foot - x) >= 0;
    const bool isOnOther = -hand * dot(cross(other, along), onOther.foot - x) >= 0;
    NominalPlace place;
    if (isOnOwn && (!isOnOther || std::abs(onOwn.distance) <= std::abs(onOther.distance))) {
        place = onOwn;
    } else if (isOnOther) {
        place = onOther;
    } else {
        const double sign = dot(d, own + other) < 0 ? -1 : 1;
        const bool isApart = distance > geometry::kSamePoint;
        place = {sign * distance, x, isApart ? sign / distance * d : unit(own + other), 0};
    }
    place.triangle = nearest.triangle;
    // From farther away than edges are curved the steps may lead astray.
    if (!isLikely(place, nearest)) return std::nullopt;
    return place;
}

NominalPlace Nominal::refined(const Nearest& nearest, const Vec3& p) const {
    constexpr double kSlack = 1.5 * kNominalTolerance;
    if (const std::optional<NominalPlace> place = atBorder(nearest, p)) return *place;
    std::uint32_t triangle = nearest.triangle;
    NominalPlace best;
    bool found = false;
    constexpr int kMostFaces = 3;
    for (int i = 0; i < kMostFaces; ++i) {
        const std::uint32_t face = faceOf_[triangle];
        if (face == kNoFace) break;
        NominalPlace place = onFace(face, p);
        // Mostly the foot lies over the very triangle; else it is looked for.
        Nearest under = nearestOn(tree_.corners(triangle), place.foot);
        under.triangle = triangle;
        if (under.squared > kSlack * kSlack) under = tree_.nearestFrom(triangle, place.foot);
        if (under.squared > kSlack * kSlack) break;  // its foot lies beyond the end of the face
        place.triangle = under.triangle;
        if (!isLikely(place, nearest)) break;
        if (!found || std::abs(place.distance) < std::abs(best.distance)) best = place;
        found = true;
        if (faceOf_[under.triangle] == face) return place;
        triangle = under.triangle;
    }
    return found ? best : onTriangle(nearest, p);
}

NominalPlace Nominal::at(const Vec3& p, std::uint32_t guess) const {
    return refined(tree_.nearestFrom(guess, p), p);
}

NominalPlace Nominal::at(const Vec3& p, const Vec3& facing) const {
    // Steep sides of dents are to find the face they are in.
    constexpr double kLeastCosine = -0.3;
    const std::function<bool(std::uint32_t)> allowed = [&](std::uint32_t triangle) {
        return dot(normalOf(triangle), facing) > kLeastCosine;
    };
    const Nearest nearest = tree_.nearest(p, std::numeric_limits<double>::infinity(), &allowed);
    if (!nearest.found()) return at(p);
    const std::uint32_t face = faceOf_[nearest.triangle];
    if (face == kNoFace || nearest.site != Site::Inside) return onTriangle(nearest, p);
    NominalPlace place = onFace(face, p);
    place.triangle = nearest.triangle;
    return place;
}

double Nominal::roughDistance(const Vec3& p, double most) const {
    return std::sqrt(tree_.nearest(p, most * most).squared);
}

}  // namespace bandwright::compare
