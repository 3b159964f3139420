#include "scene/unwrap.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <numeric>
#include <span>
#include <utility>

namespace bandwright::scene {

namespace {

constexpr int kGap = 6;  // pixels between charts, so that smaller copies of the texture do not mix them
constexpr int kMostTries = 40;
constexpr double kSmaller = 0.85;  // of the pixels per mm, for the next try

using geometry::Vec3;

/// A piece that is laid flat as one. Lengths in mm; `along` of a strip is a share of the turn, 0..1.
struct Chart {
    bool strip = false;
    bool along = false;          ///< a strip that faces along the axis
    std::array<Vec3, 2> ways{};  ///< to the right and down, unless it is a strip
    std::vector<std::uint32_t> triangles;
    std::vector<std::array<std::array<double, 2>, 3>> places;  ///< along, across of each triangle's vertices
    double length = 0, height = 0;                             ///< a strip's length is the whole turn
    double first = 0, last = 1;  ///< of a strip: from where to where it goes round, shares of the turn
};

Vec3 pointOf(const geometry::Mesh& mesh, std::uint32_t vertex) {
    return mesh.points[mesh.pointOf[vertex]];
}

/// Whether the normals stand square to the way round the axis.
bool isTurned(const geometry::Mesh& mesh, std::span<const std::array<std::uint32_t, 3>> triangles) {
    constexpr double kSquare = 1e-4;
    return std::ranges::all_of(triangles, [&](const std::array<std::uint32_t, 3>& triangle) {
        return std::ranges::all_of(triangle, [&](std::uint32_t vertex) {
            const Vec3 p = pointOf(mesh, vertex);
            const std::array<float, 3>& n = mesh.normals[vertex];
            const double r = std::hypot(p.x, p.y);
            return std::abs(p.x * static_cast<double>(n[1]) - p.y * static_cast<double>(n[0])) <= kSquare * r;
        });
    });
}

/// Whether the triangle faces along the axis rather than away from it or towards it. A bevel of 45 degrees
/// does not, whatever the rounding.
bool facesAlong(const geometry::Mesh& mesh, const std::array<std::uint32_t, 3>& triangle) {
    constexpr double kClearly = 1.001;
    double along = 0, away = 0;
    for (const std::uint32_t vertex : triangle) {
        const std::array<float, 3>& n = mesh.normals[vertex];
        along += std::abs(static_cast<double>(n[2]));
        away += std::hypot(static_cast<double>(n[0]), static_cast<double>(n[1]));
    }
    return along > kClearly * away;
}

using Triangles = std::vector<std::uint32_t>;

/// The triangles in groups that hang together by their vertices.
std::vector<Triangles> pieces(const geometry::Mesh& mesh, const Triangles& triangles) {
    std::map<std::uint32_t, std::uint32_t> parent;  // of vertices
    const auto root = [&](std::uint32_t v) {
        while (parent[v] != v) {
            parent[v] = parent[parent[v]];
            v = parent[v];
        }
        return v;
    };
    for (const std::uint32_t t : triangles)
        for (const std::uint32_t v : mesh.triangles[t])
            parent.try_emplace(v, v);
    for (const std::uint32_t t : triangles)
        for (const std::uint32_t v : mesh.triangles[t])
            parent[root(v)] = root(mesh.triangles[t][0]);
    std::map<std::uint32_t, Triangles> groups;
    for (const std::uint32_t t : triangles)
        groups[root(mesh.triangles[t][0])].push_back(t);
    std::vector<Triangles> result;
    result.reserve(groups.size());
    for (auto& [first, group] : groups)
        result.push_back(std::move(group));
    return result;
}

/// Of triangles that hang together and face alike.
Chart strip(const geometry::Mesh& mesh, const Triangles& triangles, bool along) {
    const auto across = [along](const Vec3& p) { return along ? std::hypot(p.x, p.y) : p.z; };
    double least = std::numeric_limits<double>::max(), most = -least, radius = 0;
    for (const std::uint32_t t : triangles) {
        for (const std::uint32_t vertex : mesh.triangles[t]) {
            const Vec3 p = pointOf(mesh, vertex);
            least = std::min(least, across(p));
            most = std::max(most, across(p));
            radius = std::max(radius, std::hypot(p.x, p.y));
        }
    }
    Chart chart;
    chart.strip = true;
    chart.along = along;
    chart.first = 2;
    chart.last = 0;
    chart.length = 2 * std::numbers::pi * radius;
    chart.height = most - least;
    for (const std::uint32_t t : triangles) {
        std::array<std::array<double, 2>, 3> places{};
        double first = 1, last = 0;
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 p = pointOf(mesh, mesh.triangles[t][k]);
            const double turn = std::atan2(p.y, p.x) / (2 * std::numbers::pi);
            places[k] = {turn < 0 ? turn + 1 : turn, across(p) - least};
            first = std::min(first, places[k][0]);
            last = std::max(last, places[k][0]);
        }
        if (last - first > 0.5)  // over the seam
            for (auto& place : places)
                if (place[0] < 0.5) place[0] += 1;
        for (const auto& place : places) {
            chart.first = std::min(chart.first, place[0]);
            chart.last = std::max(chart.last, place[0]);
        }
        chart.triangles.push_back(t);
        chart.places.push_back(places);
    }
    return chart;
}

/// One chart for each of six directions that some triangles face: round, along and away from the axis, about
/// the middle of the face.
std::vector<Chart> projections(const geometry::Mesh& mesh, const Triangles& triangles) {
    Vec3 middle{};
    for (const std::uint32_t t : triangles)
        for (const std::uint32_t vertex : mesh.triangles[t])
            middle = middle + pointOf(mesh, vertex);
    const double r = std::hypot(middle.x, middle.y);
    const Vec3 away = r > 0 ? Vec3{middle.x / r, middle.y / r, 0} : Vec3{1, 0, 0};
    const std::array<Vec3, 3> axes = {Vec3{-away.y, away.x, 0}, Vec3{0, 0, 1}, away};
    std::vector<Chart> charts(6);
    for (const std::uint32_t t : triangles) {
        std::array<Vec3, 3> corners;
        for (std::size_t k = 0; k < 3; ++k)
            corners[k] = pointOf(mesh, mesh.triangles[t][k]);
        const Vec3 normal = geometry::cross(corners[1] - corners[0], corners[2] - corners[0]);
        std::size_t facing = 0;
        for (std::size_t a = 1; a < 3; ++a)
            if (std::abs(geometry::dot(normal, axes[a])) > std::abs(geometry::dot(normal, axes[facing])))
                facing = a;
        Chart& chart = charts[2 * facing + (geometry::dot(normal, axes[facing]) < 0 ? 1 : 0)];
        const Vec3 &u = axes[(facing + 1) % 3], &v = axes[(facing + 2) % 3];
        chart.ways = {u, v};
        chart.triangles.push_back(t);
        chart.places.push_back({{{geometry::dot(corners[0], u), geometry::dot(corners[0], v)},
                                 {geometry::dot(corners[1], u), geometry::dot(corners[1], v)},
                                 {geometry::dot(corners[2], u), geometry::dot(corners[2], v)}}});
    }
    std::erase_if(charts, [](const Chart& chart) { return chart.triangles.empty(); });
    for (Chart& chart : charts) {
        std::array<double, 2> low{1e9, 1e9}, high{-1e9, -1e9};
        for (const auto& places : chart.places) {
            for (const auto& place : places) {
                for (std::size_t k = 0; k < 2; ++k) {
                    low[k] = std::min(low[k], place[k]);
                    high[k] = std::max(high[k], place[k]);
                }
            }
        }
        for (auto& places : chart.places)
            for (auto& place : places)
                place = {place[0] - low[0], place[1] - low[1]};
        chart.length = high[0] - low[0];
        chart.height = high[1] - low[1];
    }
    return charts;
}

std::vector<Chart> chartsOf(const geometry::Mesh& mesh) {
    std::vector<Chart> charts;
    for (const geometry::MeshFace& face : mesh.faces) {
        Triangles all(face.triangleCount), along;
        std::iota(all.begin(), all.end(), face.firstTriangle);
        if (!isTurned(mesh, std::span(mesh.triangles).subspan(face.firstTriangle, face.triangleCount))) {
            for (const Triangles& piece : pieces(mesh, all))
                for (Chart& chart : projections(mesh, piece))
                    charts.push_back(std::move(chart));
            continue;
        }
        std::erase_if(all, [&](std::uint32_t t) {
            if (!facesAlong(mesh, mesh.triangles[t])) return false;
            along.push_back(t);
            return true;
        });
        for (const Triangles& piece : pieces(mesh, all))
            charts.push_back(strip(mesh, piece, false));
        for (const Triangles& piece : pieces(mesh, along))
            charts.push_back(strip(mesh, piece, true));
    }
    return charts;
}

std::array<float, 4> tangentAt(const geometry::Mesh& mesh, const Chart& chart, std::uint32_t vertex) {
    const std::array<float, 3>& stored = mesh.normals[vertex];
    const Vec3 n{static_cast<double>(stored[0]), static_cast<double>(stored[1]),
                 static_cast<double>(stored[2])};
    const Vec3 p = pointOf(mesh, vertex);
    const double r = std::max(std::hypot(p.x, p.y), 1e-12);
    const Vec3 away{p.x / r, p.y / r, 0};
    const Vec3 right = chart.strip ? Vec3{-away.y, away.x, 0} : chart.ways[0];
    const Vec3 down = !chart.strip ? chart.ways[1] : chart.along ? away : Vec3{0, 0, 1};
    const Vec3 inSurface = right - geometry::dot(right, n) * n;
    const Vec3 t = (1 / std::max(geometry::length(inSurface), 1e-12)) * inSurface;
    const bool turns = geometry::dot(geometry::cross(n, t), down) > 0;
    return {static_cast<float>(t.x), static_cast<float>(t.y), static_cast<float>(t.z), turns ? -1.0F : 1.0F};
}

struct Layout {
    Size size;
    std::vector<std::array<int, 2>> corner;  ///< of each chart, pixels
};

/// Strips that share a row of the texture.
struct Row {
    int y = 0, height = 0;                         // pixels
    std::vector<std::array<double, 2>> stretches;  // taken, shares of the turn; may go on beyond 1

    bool hasRoom(const Chart& strip, double gap) const {
        return std::ranges::none_of(stretches, [&](const std::array<double, 2>& taken) {
            for (const double turn : {-1.0, 0.0, 1.0})
                if (strip.first + turn < taken[1] + gap && taken[0] - gap < strip.last + turn) return true;
            return false;
        });
    }
};

/// Strips in rows below one another, the others under them, the highest first.
Layout laidOut(const std::vector<Chart>& charts, double pixelsPerMm) {
    const auto pixels = [&](double mm) { return static_cast<int>(std::ceil(mm * pixelsPerMm)); };
    Layout layout;
    layout.corner.resize(charts.size());
    int width = 1, y = kGap;
    for (const Chart& chart : charts)
        width = std::max(width, pixels(chart.length) + (chart.strip ? 0 : 2 * kGap));
    std::vector<std::size_t> strips, others;
    for (std::size_t i = 0; i < charts.size(); ++i)
        (charts[i].strip ? strips : others).push_back(i);
    const auto byHeight = [&](std::size_t i) { return charts[i].height; };
    std::ranges::stable_sort(strips, std::greater<>(), byHeight);
    std::ranges::stable_sort(others, std::greater<>(), byHeight);
    std::vector<Row> rows;
    for (const std::size_t i : strips) {
        const Chart& chart = charts[i];
        auto row = std::ranges::find_if(
            rows, [&](const Row& one) { return one.hasRoom(chart, static_cast<double>(kGap) / width); });
        if (row == rows.end()) {
            rows.push_back({y, pixels(chart.height), {}});
            row = std::prev(rows.end());
            y += row->height + kGap;
        }
        row->stretches.push_back({chart.first, chart.last});
        layout.corner[i] = {0, row->y};
    }
    int x = kGap, high = 0;
    for (const std::size_t i : others) {
        if (x + pixels(charts[i].length) + kGap > width) {
            y += high + kGap;
            x = kGap;
            high = 0;
        }
        layout.corner[i] = {x, y};
        x += pixels(charts[i].length) + kGap;
        high = std::max(high, pixels(charts[i].height));
    }
    layout.size = {width, y + high + kGap};
    return layout;
}

}  // namespace

std::vector<Texture> texturesOf(const Material& material) {
    const auto isHammered = [](const ZoneFinishes& finishes) {
        return std::ranges::find(finishes, design::Finish::Hammered) != finishes.end();
    };
    if (const auto* fill = std::get_if<FillLook>(&material))
        return fill->glows ? std::vector{Texture::Colour, Texture::Glow} : std::vector{Texture::Colour};
    if (const auto* gem = std::get_if<GemLook>(&material))
        return gem->opalescent && gem->dome ? std::vector{Texture::Colour} : std::vector<Texture>{};
    std::vector<Texture> textures;
    bool relief = false;
    if (const auto* fibre = std::get_if<FibreLook>(&material)) {
        textures = {Texture::Colour};
        relief = isHammered(fibre->finish);
    } else if (const auto* metal = std::get_if<MetalLook>(&material)) {
        if (metal->layers) textures = {Texture::Colour, Texture::Surface};
        relief = isHammered(metal->finish) || (metal->layers && metal->layers->billet.etch > 0);
    }
    if (relief) textures.push_back(Texture::Relief);
    return textures;
}

Unwrapped unwrapped(const geometry::Mesh& mesh, double pixelsPerMm, int most) {
    const std::vector<Chart> charts = chartsOf(mesh);
    Layout layout = laidOut(charts, pixelsPerMm);
    for (int i = 0; i < kMostTries && std::max(layout.size.width, layout.size.height) > most; ++i) {
        pixelsPerMm *= kSmaller;
        layout = laidOut(charts, pixelsPerMm);
    }
    Unwrapped flat{layout.size, {}, std::vector<std::array<std::uint32_t, 3>>(mesh.triangles.size())};
    for (std::size_t c = 0; c < charts.size(); ++c) {
        const Chart& chart = charts[c];
        const double alongScale = chart.strip ? flat.size.width : pixelsPerMm;
        std::map<std::pair<std::uint32_t, bool>, std::uint32_t> made;  // by vertex, and whether past the seam
        for (std::size_t i = 0; i < chart.triangles.size(); ++i) {
            const std::array<std::uint32_t, 3>& vertices = mesh.triangles[chart.triangles[i]];
            for (std::size_t k = 0; k < 3; ++k) {
                const auto& place = chart.places[i][k];
                const auto [at, added] = made.try_emplace({vertices[k], chart.strip && place[0] >= 1},
                                                          static_cast<std::uint32_t>(flat.corners.size()));
                if (added)
                    flat.corners.push_back(
                        {vertices[k],
                         {static_cast<float>((layout.corner[c][0] + alongScale * place[0]) / flat.size.width),
                          static_cast<float>((layout.corner[c][1] + pixelsPerMm * place[1]) /
                                             flat.size.height)},
                         tangentAt(mesh, chart, vertices[k])});
                flat.triangles[chart.triangles[i]][k] = at->second;
            }
        }
    }
    return flat;
}

Body flatBody(const geometry::Part& part, const Unwrapped& flat, Material material) {
    BodyMesh mesh;
    mesh.faces = part.mesh.faces;
    mesh.vertices.reserve(flat.corners.size());
    for (const Corner& corner : flat.corners) {
        const Vec3 p = pointOf(part.mesh, corner.vertex);
        mesh.vertices.push_back({{static_cast<float>(p.x), static_cast<float>(p.y), static_cast<float>(p.z)},
                                 part.mesh.normals[corner.vertex],
                                 corner.place[0],
                                 corner.place[1]});
    }
    mesh.indices.reserve(3 * flat.triangles.size());
    for (const auto& triangle : flat.triangles)
        mesh.indices.insert(mesh.indices.end(), triangle.begin(), triangle.end());
    return {geometry::name(part),
            part.role,
            std::make_shared<const BodyMesh>(std::move(mesh)),
            std::move(material),
            {}};
}

}  // namespace bandwright::scene
