#include "formats/stone_model.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>
#include <optional>
#include <string>
#include <system_error>
#include <utility>

#include "base/input_error.hpp"
#include "base/wording.hpp"
#include "facets.hpp"
#include "geometry/stone.hpp"

namespace bandwright::formats {

namespace {

constexpr ReadLimits kStoneLimits = {.what = "the stone's model", .bytes = 64U << 20U, .triangles = 500'000};

geometry::Mesh plainMesh(const geometry::Triangles& shape) {
    geometry::Mesh mesh;
    mesh.points = shape.points;
    mesh.triangles = shape.triangles;
    mesh.pointOf.resize(shape.points.size());
    std::iota(mesh.pointOf.begin(), mesh.pointOf.end(), 0U);
    return mesh;
}

void requireClosed(const std::filesystem::path& file, const geometry::Mesh& mesh) {
    const geometry::MeshDefects found = geometry::defects(mesh);
    if (found.openEdges > 0) {
        refuse(file, kStoneLimits,
               "is not closed: " + std::to_string(found.openEdges) +
                   " of its edges do not lie between exactly two facets that face the same way");
    }
    if (found.splitPoints > 0) {
        refuse(file, kStoneLimits,
               "touches itself in " + std::to_string(found.splitPoints) +
                   " points; at each point its facets must form one fan");
    }
    if (found.degenerateTriangles > 0) {
        refuse(file, kStoneLimits,
               "has " + std::to_string(found.degenerateTriangles) + " triangles without area");
    }
    if (!(std::abs(geometry::volume(mesh)) > 0)) refuse(file, kStoneLimits, "encloses no volume");
}

}  // namespace

design::StoneModel readStoneModel(const std::filesystem::path& file) {
    geometry::Triangles shape = surfaceOf(readObj(file, kStoneLimits), file, kStoneLimits);
    const geometry::Vec3 corner = shape.points.front();  // near the model, wherever it stands
    for (geometry::Vec3& p : shape.points)
        p = p - corner;
    const geometry::Mesh plain = plainMesh(shape);
    requireClosed(file, plain);
    if (geometry::volume(plain) < 0) {
        for (auto& triangle : shape.triangles)
            std::swap(triangle[1], triangle[2]);
    }
    design::StoneModel model;
    for (const geometry::Vec3& p : shape.points)
        model.points.push_back({p.x, p.y, p.z});
    model.triangles = std::move(shape.triangles);
    return model;
}

namespace {

/// Where a path ends up, as far as it is there.
std::filesystem::path resolved(const std::filesystem::path& path) {
    std::error_code error;
    std::filesystem::path result = std::filesystem::weakly_canonical(path, error);
    return error ? std::filesystem::absolute(path, error).lexically_normal() : result;
}

void requireInside(const design::Design& design, const std::filesystem::path& folder) {
    const std::filesystem::path home = resolved(folder.empty() ? std::filesystem::path(".") : folder);
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        const std::optional<design::Stone>& stone = design.settings[i].stone;
        if (!stone || stone->model.empty() || stone->solid) continue;
        std::filesystem::path model = resolved(home / stone->model);
        const auto [end, rest] = std::ranges::mismatch(home, model);
        if (end == home.end()) continue;
        throw ModelOutside("settings[" + std::to_string(i) + "].stone.model is " +
                               base::inQuotes(stone->model) +
                               ", outside the design's folder; allowed: a file in it, or --allow-outside",
                           std::move(model));
    }
}

}  // namespace

void readStoneModels(design::Design& design, const std::filesystem::path& folder, Outside outside) {
    if (outside == Outside::Refused) requireInside(design, folder);
    std::map<std::string, std::shared_ptr<const design::StoneModel>> known;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        if (!design.settings[i].stone) continue;
        design::Stone& stone = *design.settings[i].stone;
        if (stone.model.empty() || stone.solid) continue;
        auto& solid = known[stone.model];
        try {
            if (!solid)
                solid = std::make_shared<const design::StoneModel>(readStoneModel(folder / stone.model));
        } catch (const base::InputError& error) {
            throw base::InputError("settings[" + std::to_string(i) + "].stone.model: " + error.what());
        }
        stone.solid = solid;
    }
}

geometry::Mesh stoneFromObj(const std::filesystem::path& file, const design::Stone& stone) {
    design::Stone modelled = stone;
    modelled.model = file.string();
    modelled.solid = std::make_shared<const design::StoneModel>(readStoneModel(file));
    return geometry::stoneMesh(modelled);
}

}  // namespace bandwright::formats
