#include "moved_body.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/boundary.hpp"

namespace bandwright::compare {

using geometry::Vec3;

namespace {

double toSegment(const Vec3& p, const Vec3& a, const Vec3& b) {
    const double share = std::clamp(dot(p - a, b - a) / dot(b - a, b - a), 0.0, 1.0);
    return geometry::distance(p, a + share * (b - a));
}

}  // namespace

double toMesh(const geometry::Mesh& mesh, const Vec3& p) {
    double nearest = HUGE_VAL;
    for (const auto& t : mesh.triangles) {
        const Vec3 a = mesh.points[mesh.pointOf[t[0]]], b = mesh.points[mesh.pointOf[t[1]]],
                   c = mesh.points[mesh.pointOf[t[2]]];
        const Vec3 n = cross(b - a, c - a);
        const bool isOver = dot(cross(b - a, p - a), n) >= 0 && dot(cross(c - b, p - b), n) >= 0 &&
                            dot(cross(a - c, p - c), n) >= 0;
        const double away = isOver ? std::abs(dot(p - a, n)) / length(n)
                                   : std::min({toSegment(p, a, b), toSegment(p, b, c), toSegment(p, c, a)});
        nearest = std::min(nearest, away);
    }
    return nearest;
}

Designed bandOf(const design::Design& design) {
    std::vector<geometry::Part> parts =
        geometry::buildParts(design, design::Stage::Finished, {kNominalChord});
    parts.resize(1);
    return {std::move(parts), geometry::boundaries(design)};
}

geometry::Triangles plain(const geometry::Mesh& mesh) {
    geometry::Triangles result{mesh.points, {}};
    for (const auto& t : mesh.triangles)
        result.triangles.push_back({mesh.pointOf[t[0]], mesh.pointOf[t[1]], mesh.pointOf[t[2]]});
    return result;
}

std::optional<Dent> dented(geometry::Triangles& body, const geometry::Mesh& mesh, const Designed& designed,
                           std::mt19937_64& lot) {
    std::vector<std::uint32_t> outside;
    std::vector<bool> isElsewhere(mesh.points.size());
    for (const geometry::MeshFace& face : mesh.faces) {
        for (std::uint32_t i = face.firstTriangle; i < face.firstTriangle + face.triangleCount; ++i) {
            for (const std::uint32_t vertex : mesh.triangles[i]) {
                if (face.tag.feature == geometry::Feature::Outside) {
                    outside.push_back(vertex);
                } else {
                    isElsewhere[mesh.pointOf[vertex]] = true;
                }
            }
        }
    }
    std::erase_if(outside, [&](std::uint32_t vertex) { return isElsewhere[mesh.pointOf[vertex]]; });
    std::ranges::shuffle(outside, lot);
    constexpr std::size_t kTries = 50;
    for (std::size_t i = 0; i < std::min(kTries, outside.size()); ++i) {
        const auto& n = mesh.normals[outside[i]];
        const Vec3 at = mesh.points[mesh.pointOf[outside[i]]];
        const Vec3 inward = {-double{n[0]}, -double{n[1]}, -double{n[2]}};
        const Vec3 bottom = at + kDentDepth * inward;
        if (toMesh(designed.parts()[0].mesh, bottom) < kDentDepth - 2e-6) continue;
        for (Vec3& p : body.points) {
            const double share = 1 - std::pow(geometry::distance(p, at) / kDentReach, 2);
            if (share > 0) p = p + kDentDepth * share * share * inward;
        }
        return Dent{at, bottom};
    }
    return std::nullopt;
}

Pose randomPose(std::mt19937_64& lot) {
    constexpr double kAway = 30;
    std::normal_distribution<double> number;
    const auto unit = [](const Vec3& v) { return 1 / geometry::length(v) * v; };
    const Vec3 x = unit({number(lot), number(lot), number(lot)});
    const Vec3 z = unit(cross(x, Vec3{number(lot), number(lot), number(lot)}));
    return {{x, cross(z, x), z}, {kAway * number(lot), kAway * number(lot), kAway * number(lot)}, 1};
}

void move(geometry::Triangles& body, const Pose& pose) {
    for (Vec3& p : body.points)
        p = pose(p);
}

}  // namespace bandwright::compare
