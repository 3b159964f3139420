#include "mesh_checks.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>
#include <numbers>
#include <utility>

#include "arc.hpp"
#include "base/input_error.hpp"
#include "geometry/boundary.hpp"

namespace bandwright::geometry {

namespace {

bool isOfHole(Tag tag) {
    return isHoleWall(tag.feature);
}

/// The stretches of a loop that lie on the hole's outline; none when all of it does.
int runsOnHole(const Loop& loop) {
    int runs = 0;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Segment& next = loop[(i + 1) % loop.size()];
        if (isOfHole(loop[i].tag) && !isOfHole(next.tag)) ++runs;
    }
    return runs;
}

double smallestAngle(const Vec3& a, const Vec3& b, const Vec3& c) {
    double sides[] = {distance(a, b), distance(b, c), distance(c, a)};
    std::sort(std::begin(sides), std::end(sides));
    return std::asin(std::min(1.0, length(cross(b - a, c - a)) / (sides[1] * sides[2])));
}

template <class T>
bool sameArray(const std::vector<T>& a, const std::vector<T>& b) {
    return a.size() == b.size() && (a.empty() || std::memcmp(a.data(), b.data(), a.size() * sizeof(T)) == 0);
}

}  // namespace

std::optional<std::vector<Part>> partsOf(const design::Design& design, design::Stage stage,
                                         const BuildOptions& options) {
    try {
        return buildParts(design, stage, options);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
}

std::optional<std::vector<Part>> apartPartsOf(const design::Design& design, design::Stage stage,
                                              const BuildOptions& options) {
    try {
        // Of these there are exact faces, which know holes with metal between them alone.
        boundaries(design, stage);
    } catch (const base::InputError&) {
        return std::nullopt;
    }
    return partsOf(design, stage, options);
}

std::vector<PlacedHoles> placedHoles(const design::Design& design) {
    std::vector<PlacedHoles> holes;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        std::vector<double> angles = design::placedAngles(design.settings[i].placement);
        for (double& angle : angles)
            angle *= std::numbers::pi / 180;
        holes.push_back({settingHole(design, i), std::move(angles)});
    }
    return holes;
}

int eulerCharacteristic(const Section& section, const std::vector<PlacedHoles>& holes) {
    int half = 0;
    for (const PlacedHoles& hole : holes) {
        int one = 0;
        for (const Loop& loop : intersect(section, meridian(hole.profile)))
            one += (enclosedArea(loop) > 0 ? 1 : -1) - runsOnHole(loop);
        half += one * static_cast<int>(hole.angles.size());
    }
    return 2 * half;
}

TrueSurface::TrueSurface(const Section& section, std::vector<PlacedHoles> holes)
    : section_(section), holes_(std::move(holes)) {}

double TrueSurface::distance(Tag tag, const Vec3& p) const {
    double least = std::numeric_limits<double>::infinity();
    const auto see = [&](const Segment& s, Vec2 place) {
        least = std::min(least, geometry::distance(nearestOn(s, place), place));
    };
    if (!isOfHole(tag)) {
        for (const Loop& loop : section_) {
            for (const Segment& s : loop) {
                if (s.tag == tag) see(s, {p.z, std::hypot(p.x, p.y)});
            }
        }
        return least;
    }
    const PlacedHoles& hole = holes_[tag.owner];
    for (const double angle : hole.angles) {
        const double x = p.x * std::cos(angle) + p.y * std::sin(angle);
        const double y = p.y * std::cos(angle) - p.x * std::sin(angle);
        const Vec2 place{std::hypot(y, p.z - hole.profile.offset), x};
        for (const HolePiece& piece : hole.profile.pieces) {
            if (piece.tag == tag) see(line({piece.radius0, piece.x0}, {piece.radius1, piece.x1}, tag), place);
        }
    }
    return least;
}

void countFaces(const Mesh& mesh, const TrueSurface& surface, FaceCounts& counts) {
    for (const MeshFace& face : mesh.faces) {
        FaceCount& count = counts[face.tag.feature];
        for (std::uint32_t i = 0; i < face.triangleCount; ++i) {
            const auto& t = mesh.triangles[face.firstTriangle + i];
            const Vec3& a = mesh.points[mesh.pointOf[t[0]]];
            const Vec3& b = mesh.points[mesh.pointOf[t[1]]];
            const Vec3& c = mesh.points[mesh.pointOf[t[2]]];
            ++count.triangles;
            if (smallestAngle(a, b, c) < std::numbers::pi / 180) ++count.slivers;
            constexpr int kParts = 4;
            for (int u = 0; u <= kParts; ++u) {
                for (int v = 0; u + v <= kParts; ++v) {
                    const Vec3 p = a + (1.0 / kParts) * (u * (b - a) + v * (c - a));
                    count.mostOff = std::max(count.mostOff, surface.distance(face.tag, p));
                }
            }
        }
    }
}

bool sameBytes(const Mesh& a, const Mesh& b) {
    return sameArray(a.points, b.points) && sameArray(a.pointOf, b.pointOf) &&
           sameArray(a.normals, b.normals) && sameArray(a.triangles, b.triangles) &&
           a.faces.size() == b.faces.size() &&
           std::equal(a.faces.begin(), a.faces.end(), b.faces.begin(),
                      [](const MeshFace& f, const MeshFace& g) {
                          return f.tag == g.tag && f.firstTriangle == g.firstTriangle &&
                                 f.triangleCount == g.triangleCount;
                      });
}

}  // namespace bandwright::geometry
