#include "openness.hpp"

#include <algorithm>
#include <cmath>

#include "geometry/hole.hpp"

namespace bandwright::scene {

namespace {

// An opening in the outside: a channel's mouth or a hole's.
struct Mouth {
    double radius = 0;  // mm from the ring's axis
    double width = 0;   // mm
    bool round = false;
};

// The opening below which a face lies; width 0 where the face lies open.
Mouth mouthOf(const design::Design& design, geometry::Tag tag, double outside) {
    if (const auto channel = geometry::channelOf(tag); channel && *channel < design.channels.size())
        return {outside, design.channels[*channel].width, false};
    if (geometry::isHoleWall(tag.feature) && tag.owner < design.settings.size())
        return {outside, geometry::seatOf(design.settings[tag.owner].hole, tag.owner).mouth, true};
    switch (tag.feature) {
        case geometry::Feature::TubeInside:
        case geometry::Feature::TubeSeat:
        case geometry::Feature::TubeLedge:
            if (tag.owner < design.settings.size() && design.settings[tag.owner].tube)
                return {outside, design.settings[tag.owner].tube->seatDiameter, true};
            return {};
        default:
            return {};
    }
}

double largestRadius(const geometry::Mesh& mesh) {
    double largest = 0;
    for (const geometry::Vec3& point : mesh.points)
        largest = std::max(largest, std::hypot(point.x, point.y));
    return largest;
}

}  // namespace

double slotOpenness(double depth, double width, bool onWall) {
    const double d = std::max(depth, 0.0);
    if (onWall) return (1 - d / std::hypot(d, width)) / 2;
    return width / std::hypot(width, 2 * d);
}

double wellOpenness(double depth, double diameter, bool onWall) {
    const double d = std::max(depth, 0.0);
    if (onWall) return slotOpenness(d, diameter, true);
    return 1 / (1 + 4 * d * d / (diameter * diameter));
}

std::vector<float> openness(const design::Design& design, const geometry::Part& part) {
    const geometry::Mesh& mesh = part.mesh;
    std::vector<float> open(mesh.pointOf.size(), 1.0F);
    const double outside = largestRadius(mesh);
    for (const geometry::MeshFace& face : mesh.faces) {
        const Mouth mouth = mouthOf(design, face.tag, outside);
        if (mouth.width <= 0) continue;
        for (std::size_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t vertex : mesh.triangles[t]) {
                const geometry::Vec3 point = mesh.points[mesh.pointOf[vertex]];
                const auto& normal = mesh.normals[vertex];
                const double radius = std::hypot(point.x, point.y);
                const double upright =
                    (point.x * static_cast<double>(normal[0]) + point.y * static_cast<double>(normal[1])) /
                    std::max(radius, 1e-9);
                const double depth = mouth.radius - radius;
                open[vertex] =
                    static_cast<float>(mouth.round ? wellOpenness(depth, mouth.width, upright < 0.5)
                                                   : slotOpenness(depth, mouth.width, upright < 0.5));
            }
        }
    }
    return open;
}

}  // namespace bandwright::scene
