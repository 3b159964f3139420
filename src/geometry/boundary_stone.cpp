#include <map>
#include <utility>

#include "arithmetic.hpp"
#include "boundary_build.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

struct Facet3 {
    std::vector<std::uint32_t> corners;  ///< counter-clockwise seen from outside
    Vec3 normal;
    Tag tag;
};

/// A closed surface of flat facets.
Boundary facetted(const std::vector<Vec3>& points, const std::vector<Facet3>& facets) {
    Boundary body;
    body.vertices = points;
    std::map<std::pair<std::uint32_t, std::uint32_t>, std::uint32_t> edgeBetween;
    for (const Facet3& facet : facets) {
        BoundaryFace face{.tag = facet.tag, .loops = {{}}};
        const Vec3& first = points[facet.corners[0]];
        const Vec3 side = points[facet.corners[1]] - first;
        // Square to the normal also where the side is not quite.
        const Vec3 x = side - dot(side, facet.normal) * facet.normal;
        face.surface.place = {first, facet.normal, (1 / length(x)) * x};
        for (std::size_t i = 0; i < facet.corners.size(); ++i) {
            const std::uint32_t a = facet.corners[i];
            const std::uint32_t b = facet.corners[(i + 1) % facet.corners.size()];
            const auto back = edgeBetween.find({b, a});
            if (back != edgeBetween.end()) {
                face.loops[0].push_back({back->second, false});
                continue;
            }
            edgeBetween[{a, b}] = static_cast<std::uint32_t>(body.edges.size());
            face.loops[0].push_back({static_cast<std::uint32_t>(body.edges.size()), true});
            body.edges.push_back({a, b, {}});
        }
        body.faces.push_back(std::move(face));
    }
    return body;
}

Boundary cutStone(const design::Stone& stone) {
    const std::vector<Plane> planes = facets(stone);
    const Polyhedron solid = polyhedron(planes);
    std::vector<Facet3> all;
    for (const Facet& facet : solid.facets)
        all.push_back({facet.corners, planes[facet.plane].normal, planes[facet.plane].tag});
    return facetted(solid.points, all);
}

Boundary modelledBoundary(const design::Stone& stone) {
    const Mesh mesh = stoneMesh(stone);
    std::vector<Facet3> all;
    for (const MeshFace& face : mesh.faces) {
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            Facet3 facet{{}, {}, face.tag};
            for (const std::uint32_t vertex : mesh.triangles[t])
                facet.corners.push_back(mesh.pointOf[vertex]);
            const Vec3& a = mesh.points[facet.corners[0]];
            const Vec3 across = cross(mesh.points[facet.corners[1]] - a, mesh.points[facet.corners[2]] - a);
            facet.normal = (1 / length(across)) * across;
            all.push_back(std::move(facet));
        }
    }
    return facetted(mesh.points, all);
}

/// The girdle's outline at a height.
std::uint32_t addOutline(Boundary& body, double a, double b, double z) {
    const auto vertex = static_cast<std::uint32_t>(body.vertices.size());
    body.vertices.push_back({a, 0, z});
    body.edges.push_back({vertex,
                          vertex,
                          {.kind = a == b ? CurveKind::Circle : CurveKind::Ellipse,
                           .place = {{0, 0, z}},
                           .radius = a,
                           .minor = b,
                           .sweep = kTurn,
                           .mouth = {}}});
    return static_cast<std::uint32_t>(body.edges.size() - 1);
}

/// Half an ellipsoid on a straight wall on a flat base.
Boundary cabochonBoundary(const design::Stone& stone) {
    const double a = girdleLength(stone) / 2;
    const double b = stone.diameter / 2;
    const double c = stone.dome / 100 * stone.diameter;
    const double edge = halfGirdle(stone);
    Boundary body;
    const std::uint32_t top = addOutline(body, a, b, edge);
    const std::uint32_t low = edge > 0 ? addOutline(body, a, b, -edge) : top;
    const auto add = [&](FaceSurface surface, Feature feature, FaceSpan span,
                         std::vector<BoundaryLoop> loops) {
        body.faces.push_back({surface, false, {feature}, span, std::move(loops), 0});
    };
    FaceSurface dome{.kind = SurfaceKind::Ellipsoid, .place = {{0, 0, edge}}, .a = a, .b = b, .c = c};
    if (a == b && b == c) dome = {.kind = SurfaceKind::Sphere, .place = dome.place, .radius = a};
    add(dome, Feature::Crown, FaceSpan::Cap, {{{top, true}}});
    if (edge > 0) {
        FaceSurface wall{.kind = SurfaceKind::EllipticCylinder, .place = {}, .a = a, .b = b};
        if (a == b) wall = {.kind = SurfaceKind::Cylinder, .place = {}, .radius = a};
        add(wall, Feature::Girdle, FaceSpan::Belt, {{{low, true}}, {{top, false}}});
    }
    const FaceSurface base{.place = {{0, 0, -edge}, {0, 0, -1}, {1, 0, 0}}};
    add(base, Feature::Pavilion, FaceSpan::Patch, {{{low, false}}});
    return body;
}

}  // namespace

Boundary stoneBoundary(const design::Stone& stone, std::size_t setting) {
    Boundary body = !stone.model.empty()                      ? modelledBoundary(stone)
                    : stone.cut == design::StoneCut::Cabochon ? cabochonBoundary(stone)
                                                              : cutStone(stone);
    for (BoundaryFace& face : body.faces)
        face.tag = {face.tag.feature, setting};
    findShells(body);
    return body;
}

}  // namespace bandwright::geometry
