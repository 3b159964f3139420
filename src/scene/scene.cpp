#include "scene/scene.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "looks.hpp"
#include "openness.hpp"
#include "trade/input_error.hpp"

namespace bandwright {

namespace {

std::shared_ptr<const BodyMesh> bodyMesh(const Design& design, const Part& part,
                                         const std::vector<float>& wall) {
    const Mesh& mesh = part.mesh;
    const std::vector<float> open = openness(design, part);
    BodyMesh body;
    body.vertices.reserve(mesh.pointOf.size());
    for (std::size_t v = 0; v < mesh.pointOf.size(); ++v) {
        const Vec3& p = mesh.points[mesh.pointOf[v]];
        body.vertices.push_back({{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)},
                                 mesh.normals[v],
                                 open[v],
                                 v < wall.size() ? wall[v] : 0.0F});
    }
    body.indices.reserve(3 * mesh.triangles.size());
    for (const auto& triangle : mesh.triangles)
        body.indices.insert(body.indices.end(), triangle.begin(), triangle.end());
    body.faces = mesh.faces;
    body.hasWalls = !wall.empty();
    return std::make_shared<const BodyMesh>(std::move(body));
}

template <class T>
const T& known(const T* entry, const std::string& kind, const std::string& id) {
    if (entry == nullptr) throw InputError("The " + kind + " \"" + id + "\" is not in the catalogue.");
    return *entry;
}

MetalLook metalLook(const Catalogue& catalogue, const std::string& id) {
    const Metal& metal = known(catalogue.metal(id), "metal", id);
    return {metal.reflectance, metal.reflectance82, Finish::Turned, metal.layerReflectance};
}

FillLook fillLook(const Design& design, const Catalogue& catalogue, const Part& part) {
    const Filler& filler = known(catalogue.filler(part.material), "filler", part.material);
    FillLook look{filler.colour, filler.colour2};
    look.opalescent = filler.opalescent;
    look.glows = filler.glows;
    look.glow = filler.glowColour;
    if (part.source < design.channels.size() && design.channels[part.source].fill) {
        const Fill& fill = *design.channels[part.source].fill;
        look.grainLeast = fill.grainLeast;
        look.grainMost = fill.grainMost;
        look.packing = fill.packing;
    }
    return look;
}

GemLook gemLook(const Design& design, const Catalogue& catalogue, const Part& part) {
    const Gem& gem = known(catalogue.gem(part.material), "gem", part.material);
    std::string seat = design.band.metal;
    if (part.source < design.settings.size() && design.settings[part.source].tube) {
        seat = design.settings[part.source].tube->metal;
    }
    return {gem.refractiveIndex.value, gem.dispersion.value, gem.transmission, facetPlanes(part.mesh),
            known(catalogue.metal(seat), "metal", seat).reflectance};
}

Material materialOf(const Design& design, const Catalogue& catalogue, const Part& part) {
    switch (part.role) {
        case PartRole::Fill:
            return fillLook(design, catalogue, part);
        case PartRole::Stone:
            return gemLook(design, catalogue, part);
        case PartRole::Band:
            return metalLook(catalogue, part.material);
        case PartRole::Liner:
        case PartRole::Tube: {
            MetalLook look = metalLook(catalogue, part.material);
            look.finish = Finish::Polished;
            return look;
        }
    }
    return MetalLook{};
}

// Stones and tubes leave along their holes, fills over the nearer edge, a liner over the left.
Vec3 apart(const Part& part, double bandHalfWidth) {
    constexpr double kTubeLift = 4.5, kStoneLift = 8, kGap = 1.5;  // mm
    Vec3 sum;
    for (const Vec3& point : part.mesh.points)
        sum = sum + point;
    switch (part.role) {
        case PartRole::Band:
            return {};
        case PartRole::Fill:
            return {0, 0, (sum.z < -1e-6 ? -1 : 1) * (2 * bandHalfWidth + kGap)};
        case PartRole::Liner:
            return {0, 0, -(2 * bandHalfWidth + kGap)};
        case PartRole::Tube:
        case PartRole::Stone: {
            const double lift = part.role == PartRole::Tube ? kTubeLift : kStoneLift;
            const double size = std::max(std::hypot(sum.x, sum.y), 1e-9);
            return {lift * sum.x / size, lift * sum.y / size, 0};
        }
    }
    return {};
}

Extent extentOf(const std::vector<Part>& parts) {
    if (parts.empty()) return {};
    Extent extent{0, 0, HUGE_VAL};
    for (const Part& part : parts) {
        for (const Vec3& p : part.mesh.points) {
            const double radius = std::hypot(p.x, p.y);
            extent.radius = std::max(extent.radius, radius);
            extent.halfWidth = std::max(extent.halfWidth, std::abs(p.z));
            if (part.role == PartRole::Band || part.role == PartRole::Liner)
                extent.boreRadius = std::min(extent.boreRadius, radius);
        }
    }
    extent.boreRadius = std::min(extent.boreRadius, extent.radius);
    return extent;
}

constexpr double kLean = 24;  // degrees by which the first stone leans from the top towards the camera

// The direction, in degrees round the ring, that stands uppermost, so that what is set first, which a person
// looks at, leans forward.
double topOf(const std::vector<Part>& parts) {
    for (const PartRole role : {PartRole::Stone, PartRole::Tube}) {
        for (const Part& part : parts) {
            if (part.role != role) continue;
            Vec3 sum;
            for (const Vec3& point : part.mesh.points)
                sum = sum + point;
            return std::atan2(sum.y, sum.x) * 180 / std::numbers::pi + kLean;
        }
    }
    return 90;
}

double floorOf(const std::vector<Part>& parts, double top) {
    if (parts.empty()) return Extent{}.floor;
    double lowest = 0;
    for (const Part& part : parts) {
        for (const Vec3& point : part.mesh.points)
            lowest = std::min(lowest, toStage(point, top).y);
    }
    return lowest;
}

}  // namespace

Scene makeScene(const Design& design, const std::vector<Part>& parts, const Catalogue& catalogue,
                const View& view, const std::vector<std::vector<float>>& walls) {
    Scene scene;
    scene.extent = extentOf(parts);
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const Part& part = parts[i];
        scene.bodies.push_back({name(part), part.role,
                                bodyMesh(design, part, i < walls.size() ? walls[i] : std::vector<float>{}),
                                materialOf(design, catalogue, part), apart(part, scene.extent.halfWidth)});
    }
    scene.top = topOf(parts);
    scene.extent.floor = floorOf(parts, scene.top);
    scene.view = view;
    return scene;
}

}  // namespace bandwright
