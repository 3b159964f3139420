#include "stone_shape.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace bandwright::scene {

namespace {

constexpr double kSameFlat = 1 - 2e-5;  // cosine between triangles of one flat: 0.4 degrees
// A round girdle becomes a prism of about 16 sides, one for each half facet above it in a brilliant. Light
// seldom meets it.
const double kSameGirdleSide = std::cos(std::numbers::pi / 9.0);

geometry::Vec3 triangleNormal(const geometry::Mesh& mesh, std::size_t triangle) {
    const auto& [a, b, c] = mesh.triangles[triangle];
    const geometry::Vec3 origin = mesh.points[mesh.pointOf[a]];
    const geometry::Vec3 normal =
        geometry::cross(mesh.points[mesh.pointOf[b]] - origin, mesh.points[mesh.pointOf[c]] - origin);
    const double size = geometry::length(normal);
    return size > 0 ? (1 / size) * normal : geometry::Vec3{};
}

void addNormals(const geometry::Mesh& mesh, const geometry::MeshFace& face, double same,
                std::vector<geometry::Vec3>& normals) {
    const std::size_t own = normals.size();
    for (std::size_t t = face.firstTriangle;
         t < face.firstTriangle + face.triangleCount && normals.size() <= kMostFacets; ++t) {
        const geometry::Vec3 normal = triangleNormal(mesh, t);
        const bool known =
            std::any_of(normals.begin() + static_cast<std::ptrdiff_t>(own), normals.end(),
                        [&](const geometry::Vec3& other) { return geometry::dot(normal, other) > same; });
        if (!known && normal != geometry::Vec3{}) normals.push_back(normal);
    }
}

/// The flats that lean differently from each other, but no more than can be traced.
std::vector<geometry::Vec3> flatNormals(const geometry::Mesh& stone, double same) {
    std::vector<geometry::Vec3> normals;
    for (const bool girdle : {false, true}) {
        for (const geometry::MeshFace& face : stone.faces) {
            if ((face.tag.feature == geometry::Feature::Girdle) != girdle) continue;
            addNormals(stone, face, girdle ? std::min(same, kSameGirdleSide) : same, normals);
        }
    }
    return normals;
}

FacetPlane touchingPlane(const geometry::Mesh& mesh, geometry::Vec3 normal) {
    double offset = -1e30;
    for (const geometry::Vec3& point : mesh.points)
        offset = std::max(offset, geometry::dot(normal, point));
    return {{static_cast<float>(normal.x), static_cast<float>(normal.y), static_cast<float>(normal.z)},
            static_cast<float>(offset)};
}

}  // namespace

std::vector<FacetPlane> facetPlanes(const geometry::Mesh& stone) {
    std::vector<geometry::Vec3> normals = flatNormals(stone, kSameFlat);
    // A model may have more flats than a stone is traced with: then those that lean nearly alike count as
    // one.
    for (double apart = std::numbers::pi / 180; normals.size() > kMostFacets; apart *= 1.25)
        normals = flatNormals(stone, std::cos(apart));
    std::vector<FacetPlane> planes;
    planes.reserve(normals.size());
    for (const geometry::Vec3& normal : normals)
        planes.push_back(touchingPlane(stone, normal));
    return planes;
}

Dome domeOf(const geometry::Mesh& cabochon) {
    Dome dome;
    std::vector<geometry::Vec3> crown;
    for (const geometry::MeshFace& face : cabochon.faces) {
        if (face.tag.feature == geometry::Feature::Pavilion)
            dome.up = -1.0 * triangleNormal(cabochon, face.firstTriangle);
        if (face.tag.feature != geometry::Feature::Crown) continue;
        for (std::size_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t corner : cabochon.triangles[t])
                crown.push_back(cabochon.points[cabochon.pointOf[corner]]);
        }
    }
    const auto height = [&](const geometry::Vec3& p) { return geometry::dot(dome.up, p); };
    double girdle = 1e30, top = -1e30;
    dome.base = 1e30;
    for (const geometry::Vec3& p : crown) {
        girdle = std::min(girdle, height(p));
        top = std::max(top, height(p));
    }
    for (const geometry::Vec3& p : cabochon.points)
        dome.base = std::min(dome.base, height(p));
    geometry::Vec3 summit;
    for (const geometry::Vec3& p : crown)
        if (height(p) > top - 1e-9) summit = p;
    dome.centre = summit - (top - girdle) * dome.up;
    geometry::Vec3 longest;
    for (const geometry::Vec3& p : crown) {
        const geometry::Vec3 across = p - dome.centre - (height(p) - girdle) * dome.up;
        if (geometry::length(across) > geometry::length(longest)) longest = across;
    }
    const double a = geometry::length(longest), c = top - girdle;
    const geometry::Vec3 along = (1 / a) * longest, side = geometry::cross(dome.up, along);
    // The end of the shorter half axis may lie between two points, so it is found from the ellipsoid's
    // equation at the nearest point.
    geometry::Vec3 widest;
    for (const geometry::Vec3& p : crown) {
        const geometry::Vec3 q = p - dome.centre;
        if (std::abs(geometry::dot(side, q)) > std::abs(geometry::dot(side, widest))) widest = q;
    }
    const double x = geometry::dot(along, widest) / a, z = geometry::dot(dome.up, widest) / c;
    const double b = std::abs(geometry::dot(side, widest)) / std::sqrt(1 - x * x - z * z);
    dome.inverse = {(1 / a) * along, (1 / b) * side, (1 / c) * dome.up};
    return dome;
}

}  // namespace bandwright::scene
