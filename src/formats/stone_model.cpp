#include "formats/stone_model.hpp"

#include <tiny_obj_loader.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <locale>
#include <map>
#include <memory>
#include <numeric>
#include <sstream>
#include <string>
#include <tuple>
#include <vector>

#include "base/input_error.hpp"
#include "geometry/stone.hpp"

namespace bandwright::formats {

namespace {

constexpr std::uintmax_t kMostBytes = 64U << 20U;
constexpr std::size_t kMostTriangles = 500'000;

using Triangle = std::array<std::uint32_t, 3>;

struct Shape {
    std::vector<geometry::Vec3> points;
    std::vector<Triangle> triangles;
};

[[noreturn]] void refuse(const std::filesystem::path& file, const std::string& why) {
    throw base::InputError(file.string() + ": " + why + ".");
}

/// The lines of vertices and faces alone, each vertex three numbers. What else a file may hold is not read: a
/// few bytes of it make the reader take gigabytes, and it takes what is no number for nought.
std::string shapeLines(const std::filesystem::path& file, std::istream& in) {
    std::string kept;
    std::string line;
    for (std::size_t number = 1; std::getline(in, line); ++number) {
        const std::size_t start = line.find_first_not_of(" \t");
        if (start == std::string::npos || start + 1 >= line.size()) continue;
        const bool isVertex = line[start] == 'v', isFace = line[start] == 'f';
        if ((!isVertex && !isFace) || (line[start + 1] != ' ' && line[start + 1] != '\t')) continue;
        if (isVertex) {
            std::istringstream words(line.substr(start + 1));
            words.imbue(std::locale::classic());
            for (int i = 0; i < 3; ++i) {
                double value = 0;
                if (!(words >> value) || !std::isfinite(value))
                    refuse(file, "the stone's model has a vertex on line " + std::to_string(number) +
                                     " that is not three numbers");
            }
        }
        kept += line + "\n";
    }
    return kept;
}

tinyobj::attrib_t read(const std::filesystem::path& file, std::vector<tinyobj::shape_t>& shapes) {
    std::error_code error;
    if (std::filesystem::exists(file, error) && !std::filesystem::is_regular_file(file, error))
        refuse(file, "the stone's model is no plain file");
    const std::uintmax_t size = std::filesystem::file_size(file, error);
    if (error) refuse(file, "the stone's model cannot be read: " + error.message());
    if (size > kMostBytes) refuse(file, "the stone's model has more than 64 MiB");
    std::ifstream stream(file, std::ios::binary);
    tinyobj::attrib_t attributes;
    std::vector<tinyobj::material_t> materials;
    std::string warnings;
    std::string errors;
    if (!stream) refuse(file, "the stone's model cannot be read");
    std::istringstream lines(shapeLines(file, stream));
    if (!tinyobj::LoadObj(&attributes, &shapes, &materials, &warnings, &errors, &lines, nullptr, false)) {
        refuse(file, "the stone's model cannot be read as an OBJ file");
    }
    return attributes;
}

/// Gives points in the same place the same number, because many programs write each facet with its own
/// points.
std::vector<std::uint32_t> merge(std::vector<geometry::Vec3>& points) {
    const auto before = [&points](std::uint32_t i, std::uint32_t j) {
        const geometry::Vec3& a = points[i];
        const geometry::Vec3& b = points[j];
        return std::tie(a.x, a.y, a.z) < std::tie(b.x, b.y, b.z);
    };
    std::vector<std::uint32_t> order(points.size());
    std::iota(order.begin(), order.end(), 0U);
    std::stable_sort(order.begin(), order.end(), before);
    std::vector<std::uint32_t> numbers(points.size());
    std::vector<geometry::Vec3> kept;
    for (std::size_t i = 0; i < order.size(); ++i) {
        if (i == 0 || before(order[i - 1], order[i])) kept.push_back(points[order[i]]);
        numbers[order[i]] = static_cast<std::uint32_t>(kept.size() - 1);
    }
    points = std::move(kept);
    return numbers;
}

double doubledArea(const std::vector<geometry::Vec3>& points, std::uint32_t a, std::uint32_t b,
                   std::uint32_t c) {
    return geometry::length(geometry::cross(points[b] - points[a], points[c] - points[a]));
}

/// Splits a facet as a fan from the corner that gives the least narrow triangles, because a facet may have
/// corners within an edge.
void addFacet(Shape& shape, const std::vector<std::uint32_t>& corners) {
    constexpr std::size_t kMostTried = 64;
    const std::size_t n = corners.size();
    const auto corner = [&](std::size_t i) { return corners[i % n]; };
    std::size_t best = 0;
    double bestArea = -1;
    for (std::size_t from = 0; from < std::min(n, kMostTried); ++from) {
        double least = doubledArea(shape.points, corner(from), corner(from + 1), corner(from + 2));
        for (std::size_t i = 2; i + 1 < n; ++i) {
            const double area =
                doubledArea(shape.points, corner(from), corner(from + i), corner(from + i + 1));
            least = std::min(least, area);
        }
        if (least <= bestArea) continue;
        bestArea = least;
        best = from;
    }
    for (std::size_t i = 1; i + 1 < n; ++i) {
        shape.triangles.push_back({corner(best), corner(best + i), corner(best + i + 1)});
    }
}

/// Points that no facet uses must not count as part of the model's size.
void dropUnused(Shape& shape) {
    constexpr std::uint32_t kUnused = UINT32_MAX;
    std::vector<std::uint32_t> numbers(shape.points.size(), kUnused);
    std::vector<geometry::Vec3> used;
    for (Triangle& triangle : shape.triangles) {
        for (std::uint32_t& corner : triangle) {
            if (numbers[corner] == kUnused) {
                numbers[corner] = static_cast<std::uint32_t>(used.size());
                used.push_back(shape.points[corner]);
            }
            corner = numbers[corner];
        }
    }
    shape.points = std::move(used);
}

Shape shapeOf(const std::filesystem::path& file) {
    std::vector<tinyobj::shape_t> shapes;
    const tinyobj::attrib_t attributes = read(file, shapes);
    Shape shape;
    for (std::size_t i = 0; i + 2 < attributes.vertices.size(); i += 3) {
        const geometry::Vec3 p = {attributes.vertices[i], attributes.vertices[i + 1],
                                  attributes.vertices[i + 2]};
        if (!std::isfinite(p.x + p.y + p.z))
            refuse(file, "the stone's model has a point that is not a number");
        shape.points.push_back(p);
    }
    const std::vector<std::uint32_t> numbers = merge(shape.points);
    std::vector<std::uint32_t> corners;
    for (const tinyobj::shape_t& group : shapes) {
        std::size_t at = 0;
        for (const auto count : group.mesh.num_face_vertices) {
            corners.clear();
            for (std::size_t end = at + count; at < end; ++at) {
                const int index = group.mesh.indices[at].vertex_index;
                if (index < 0 || static_cast<std::size_t>(index) >= numbers.size()) {
                    refuse(file, "the stone's model has a facet with a corner that does not exist");
                }
                corners.push_back(numbers[static_cast<std::size_t>(index)]);
            }
            corners.erase(std::unique(corners.begin(), corners.end()), corners.end());
            while (corners.size() > 1 && corners.front() == corners.back())
                corners.pop_back();
            if (corners.size() >= 3) addFacet(shape, corners);
            if (shape.triangles.size() > kMostTriangles)
                refuse(file, "the stone's model has more than 500000 triangles");
        }
    }
    if (shape.triangles.empty()) refuse(file, "the stone's model has no facets");
    dropUnused(shape);
    return shape;
}

geometry::Mesh plainMesh(const Shape& shape) {
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
        refuse(file, "the stone's model is not closed: " + std::to_string(found.openEdges) +
                         " of its edges do not lie between exactly two facets that face the same way");
    }
    if (found.splitPoints > 0) {
        refuse(file, "the stone's model touches itself in " + std::to_string(found.splitPoints) +
                         " points; at each point its facets must form one fan");
    }
    if (found.degenerateTriangles > 0) {
        refuse(file, "the stone's model has " + std::to_string(found.degenerateTriangles) +
                         " triangles without area");
    }
    if (!(std::abs(geometry::volume(mesh)) > 0)) refuse(file, "the stone's model encloses no volume");
}

}  // namespace

design::StoneModel readStoneModel(const std::filesystem::path& file) {
    Shape shape = shapeOf(file);
    const geometry::Vec3 corner = shape.points.front();  // near the model, wherever it stands
    for (geometry::Vec3& p : shape.points)
        p = p - corner;
    const geometry::Mesh plain = plainMesh(shape);
    requireClosed(file, plain);
    if (geometry::volume(plain) < 0) {
        for (Triangle& triangle : shape.triangles)
            std::swap(triangle[1], triangle[2]);
    }
    design::StoneModel model;
    for (const geometry::Vec3& p : shape.points)
        model.points.push_back({p.x, p.y, p.z});
    model.triangles = std::move(shape.triangles);
    return model;
}

void readStoneModels(design::Design& design, const std::filesystem::path& folder) {
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
