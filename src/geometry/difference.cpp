#include "difference.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <limits>
#include <map>
#include <unordered_map>
#include <utility>
#include <vector>

#include "crossing.hpp"
#include "hole_cut.hpp"
#include "triangulate.hpp"

namespace bandwright::geometry {

namespace {

/// Ends the work: the question has no answer that is exact.
struct Untold {};

__extension__ using Determinant = __int128;

/// A point in units of 2^-32 mm. Differences of two stay below 2^39, and so volumes below 2^120.
struct GridPoint {
    std::int64_t x, y, z;
};

GridPoint onGrid(const Vec3& p) {
    constexpr double kUnits = 4294967296.0;
    return {std::llround(p.x * kUnits), std::llround(p.y * kUnits), std::llround(p.z * kUnits)};
}

/// Six times the volume of a tetrahedron: positive where `d` is on the side from which a, b, c run
/// counter-clockwise.
Determinant tetrahedron(const GridPoint& a, const GridPoint& b, const GridPoint& c, const GridPoint& d) {
    const Determinant bx = b.x - a.x, by = b.y - a.y, bz = b.z - a.z;
    const Determinant cx = c.x - a.x, cy = c.y - a.y, cz = c.z - a.z;
    const Determinant dx = d.x - a.x, dy = d.y - a.y, dz = d.z - a.z;
    return (by * cz - bz * cy) * dx + (bz * cx - bx * cz) * dy + (bx * cy - by * cx) * dz;
}

bool isPositive(const Determinant& volume) {
    if (volume == 0) throw Untold();
    return volume > 0;
}

struct GridBox {
    GridPoint low, high;

    bool meets(const GridBox& b) const {
        return low.x <= b.high.x && b.low.x <= high.x && low.y <= b.high.y && b.low.y <= high.y &&
               low.z <= b.high.z && b.low.z <= high.z;
    }
};

GridBox boxOf(std::initializer_list<GridPoint> places) {
    GridBox box{*places.begin(), *places.begin()};
    for (const GridPoint& p : places) {
        box.low = {std::min(box.low.x, p.x), std::min(box.low.y, p.y), std::min(box.low.z, p.z)};
        box.high = {std::max(box.high.x, p.x), std::max(box.high.y, p.y), std::max(box.high.z, p.z)};
    }
    return box;
}

/// Where an edge of one body passes through a triangle of the other.
struct Passage {
    std::uint32_t point = 0;  ///< number among the new points
    long double share = 0;    ///< along the edge, from its point with the lower number
    bool leaves = false;      ///< what is kept, on the way from that point
};

/// A line along which a triangle meets one of the other body. What is kept of the triangle is on its left.
struct CutLine {
    std::uint32_t from, to;
};

/// One of the two bodies.
struct CutBody {
    const Mesh& mesh;
    bool keepsOutside;  ///< else what lies inside the other body is kept
    std::vector<GridPoint> places;
    std::vector<CornerPoints> triangles;
    std::vector<std::uint32_t> near;  ///< triangles whose box meets that of the taken body
    std::unordered_map<std::uint64_t, std::vector<Passage>> passages;  ///< of each edge, by `chord`
    std::unordered_map<std::uint32_t, std::vector<CutLine>> lines;     ///< of each triangle
    std::vector<std::int8_t> kept;                                     ///< of each point; -1 = not known yet

    CutBody(const Mesh& m, bool outside) : mesh(m), keepsOutside(outside), kept(m.points.size(), -1) {
        places.reserve(m.points.size());
        for (const Vec3& p : m.points)
            places.push_back(onGrid(p));
        triangles.reserve(m.triangles.size());
        for (const auto& t : m.triangles)
            triangles.push_back({m.pointOf[t[0]], m.pointOf[t[1]], m.pointOf[t[2]]});
    }

    GridBox box(const CornerPoints& t) const { return boxOf({places[t[0]], places[t[1]], places[t[2]]}); }

    /// On which side of the triangle it lies: whether the side that its normal shows.
    bool isBefore(const CornerPoints& t, const GridPoint& p) const {
        return isPositive(tetrahedron(places[t[0]], places[t[1]], places[t[2]], p));
    }
};

/// Whether the line through both places passes through the triangle.
bool passes(const CutBody& body, const CornerPoints& t, const GridPoint& a, const GridPoint& b) {
    const bool first = isPositive(tetrahedron(a, b, body.places[t[0]], body.places[t[1]]));
    return first == isPositive(tetrahedron(a, b, body.places[t[1]], body.places[t[2]])) &&
           first == isPositive(tetrahedron(a, b, body.places[t[2]], body.places[t[0]]));
}

bool isInside(const CutBody& body, const GridPoint& place) {
    constexpr std::int64_t kFar = std::int64_t{1} << 39;
    for (std::int64_t way = 1; way <= 8; ++way) {
        const GridPoint far{kFar - 12345 * way, place.y + 98765 * way, place.z - 54321 * way};
        const GridBox ray = boxOf({place, far});
        try {
            bool inside = false;
            for (const CornerPoints& t : body.triangles) {
                if (ray.meets(body.box(t)) && body.isBefore(t, place) != body.isBefore(t, far) &&
                    passes(body, t, place, far))
                    inside = !inside;
            }
            return inside;
        } catch (const Untold&) {
            // Through an edge: another way may not be.
        }
    }
    throw Untold();
}

class Difference {
  public:
    Difference(const Mesh& from, const Mesh& taken) : from_(from, true), taken_(taken, false) {}

    Mesh run() {
        findNear();
        for (const std::uint32_t t : from_.near) {
            const GridBox box = from_.box(from_.triangles[t]);
            for (const std::uint32_t u : taken_.near) {
                if (box.meets(boxes_[u])) meet(t, u);
            }
        }
        for (CutBody* body : {&from_, &taken_}) {
            for (auto& [edge, passages] : body->passages)
                order(*body, edge, passages);
        }
        tell(from_, taken_);
        tell(taken_, from_);
        gather();
        return compact();
    }

  private:
    void findNear() {
        GridBox whole = boxOf({taken_.places.front()});
        for (const GridPoint& p : taken_.places)
            whole = boxOf({whole.low, whole.high, p});
        for (std::uint32_t t = 0; t < from_.triangles.size(); ++t) {
            if (whole.meets(from_.box(from_.triangles[t]))) {
                from_.near.push_back(t);
            } else {
                for (const std::uint32_t p : from_.triangles[t])
                    from_.kept[p] = 1;
            }
        }
        for (std::uint32_t t = 0; t < taken_.triangles.size(); ++t) {
            boxes_.push_back(taken_.box(taken_.triangles[t]));
            taken_.near.push_back(t);
        }
    }

    /// Both ends of the line along which two triangles meet: where an edge of either passes through the
    /// other.
    void meet(std::uint32_t t, std::uint32_t u) {
        std::array<std::optional<std::uint32_t>, 2> ends;
        const auto pierce = [&](CutBody& own, const CornerPoints& triangle, CutBody& other,
                                std::uint32_t through) {
            const CornerPoints& pierced = other.triangles[through];
            std::array<bool, 3> keeps{};
            for (std::size_t i = 0; i < 3; ++i)
                keeps[i] = other.isBefore(pierced, own.places[triangle[i]]) == own.keepsOutside;
            for (std::size_t i = 0; i < 3; ++i) {
                const std::size_t k = (i + 1) % 3;
                if (keeps[i] == keeps[k] ||
                    !passes(other, pierced, own.places[triangle[i]], own.places[triangle[k]]))
                    continue;
                std::optional<std::uint32_t>& end = ends[keeps[i] ? 0 : 1];
                if (end) throw Untold();
                end = passageOf(own, triangle[i], triangle[k], keeps[i], other, through);
            }
        };
        pierce(from_, from_.triangles[t], taken_, u);
        pierce(taken_, taken_.triangles[u], from_, t);
        if (ends[0].has_value() != ends[1].has_value()) throw Untold();
        if (!ends[0]) return;
        from_.lines[t].push_back({*ends[0], *ends[1]});
        taken_.lines[u].push_back({*ends[0], *ends[1]});
    }

    /// The number of the new point; `leaves` on the way from a to b.
    std::uint32_t passageOf(CutBody& own, std::uint32_t a, std::uint32_t b, bool leaves, const CutBody& other,
                            std::uint32_t through) {
        const std::uint64_t edge = chord(a, b);
        const auto [found, isNew] =
            known_.try_emplace({&own == &from_, edge, through}, static_cast<std::uint32_t>(points_.size()));
        if (!isNew) return found->second;
        const std::uint32_t low = std::min(a, b), high = std::max(a, b);
        const CornerPoints& t = other.triangles[through];
        const auto away = [&](std::uint32_t p) {
            return static_cast<long double>(
                tetrahedron(other.places[t[0]], other.places[t[1]], other.places[t[2]], own.places[p]));
        };
        const long double share = away(low) / (away(low) - away(high));
        const Vec3 p = own.mesh.points[low], q = own.mesh.points[high];
        points_.push_back(p + static_cast<double>(share) * (q - p));
        own.passages[edge].push_back({found->second, share, leaves == (a == low)});
        return found->second;
    }

    static void order(CutBody& body, std::uint64_t edge, std::vector<Passage>& passages) {
        std::ranges::sort(passages, {}, &Passage::share);
        for (std::size_t i = 0; i + 1 < passages.size(); ++i) {
            if (passages[i].leaves == passages[i + 1].leaves) throw Untold();
        }
        const auto set = [&](std::uint64_t point, bool kept) {
            std::int8_t& own = body.kept[point];
            if (own == (kept ? 0 : 1)) throw Untold();
            own = kept ? 1 : 0;
        };
        set(edge >> 32, passages.front().leaves);
        set(edge & 0xffffffff, !passages.back().leaves);
    }

    /// Which points are kept: along an edge that passes through nothing both or none.
    static void tell(CutBody& body, const CutBody& other) {
        std::unordered_map<std::uint32_t, std::vector<std::uint32_t>> joined;
        std::vector<std::uint32_t> next;
        for (const std::uint32_t t : body.near) {
            const CornerPoints& corners = body.triangles[t];
            for (std::size_t i = 0; i < 3; ++i) {
                const std::uint32_t a = corners[i], b = corners[(i + 1) % 3];
                if (body.kept[a] >= 0) next.push_back(a);
                if (!body.passages.contains(chord(a, b))) joined[a].push_back(b);
            }
        }
        const auto spread = [&] {
            while (!next.empty()) {
                const std::uint32_t p = next.back();
                next.pop_back();
                for (const std::uint32_t q : joined[p]) {
                    if (body.kept[q] == 1 - body.kept[p]) throw Untold();
                    if (body.kept[q] >= 0) continue;
                    body.kept[q] = body.kept[p];
                    next.push_back(q);
                }
            }
        };
        spread();
        for (const std::uint32_t t : body.near) {
            const std::uint32_t p = body.triangles[t][0];
            if (body.kept[p] >= 0) continue;
            body.kept[p] = isInside(other, body.places[p]) != body.keepsOutside ? 1 : 0;
            next.push_back(p);
            spread();
        }
    }

    /// What is kept of both, face by face.
    void gather() {
        mesh_.points = from_.mesh.points;
        mesh_.pointOf = from_.mesh.pointOf;
        mesh_.normals = from_.mesh.normals;
        firstTaken_ = static_cast<std::uint32_t>(mesh_.points.size());
        firstTakenVertex_ = static_cast<std::uint32_t>(mesh_.pointOf.size());
        mesh_.points.insert(mesh_.points.end(), taken_.mesh.points.begin(), taken_.mesh.points.end());
        for (std::size_t i = 0; i < taken_.mesh.pointOf.size(); ++i) {
            const auto& n = taken_.mesh.normals[i];
            mesh_.pointOf.push_back(firstTaken_ + taken_.mesh.pointOf[i]);
            mesh_.normals.push_back({-n[0], -n[1], -n[2]});
        }
        firstNew_ = static_cast<std::uint32_t>(mesh_.points.size());
        mesh_.points.insert(mesh_.points.end(), points_.begin(), points_.end());
        for (CutBody* body : {&from_, &taken_}) {
            for (const MeshFace& face : body->mesh.faces) {
                auto group = std::ranges::find(groups_, face.tag, &Group::tag);
                if (group == groups_.end()) group = groups_.insert(group, {face.tag, {}});
                for (std::uint32_t i = 0; i < face.triangleCount; ++i)
                    keep(*body, face.firstTriangle + i, group->triangles);
            }
        }
    }

    struct Group {
        Tag tag;
        std::vector<std::array<std::uint32_t, 3>> triangles;
    };

    void keep(const CutBody& body, std::uint32_t number,
              std::vector<std::array<std::uint32_t, 3>>& triangles) {
        const bool isTaken = &body == &taken_;
        const auto& vertices = body.mesh.triangles[number];
        const std::uint32_t first = isTaken ? firstTakenVertex_ : 0;
        const auto add = [&](std::uint32_t a, std::uint32_t b, std::uint32_t c) {
            triangles.push_back({a, isTaken ? c : b, isTaken ? b : c});
        };
        const auto lines = body.lines.find(number);
        if (lines == body.lines.end()) {
            if (body.kept[body.triangles[number][0]] == 1)
                add(first + vertices[0], first + vertices[1], first + vertices[2]);
            return;
        }
        for (const auto& t : partsOf(body, number, lines->second))
            add(t[0], t[1], t[2]);
    }

    /// What is kept of a triangle that is cut, in numbers of vertices.
    std::vector<std::array<std::uint32_t, 3>> partsOf(const CutBody& body, std::uint32_t number,
                                                      const std::vector<CutLine>& lines) {
        const bool isTaken = &body == &taken_;
        const CornerPoints& corners = body.triangles[number];
        const std::array<Vec3, 3> at = {body.mesh.points[corners[0]], body.mesh.points[corners[1]],
                                        body.mesh.points[corners[2]]};
        const Vec3 normal = cross(at[1] - at[0], at[2] - at[0]);
        const std::array<double, 3> size = {std::abs(normal.x), std::abs(normal.y), std::abs(normal.z)};
        const auto flat = [&](const Vec3& p) {
            const double x = p.x, y = p.y, z = p.z;
            if (size[0] >= size[1] && size[0] >= size[2])
                return normal.x > 0 ? std::array{y, z} : std::array{z, y};
            if (size[1] >= size[2]) return normal.y > 0 ? std::array{z, x} : std::array{x, z};
            return normal.z > 0 ? std::array{x, y} : std::array{y, x};
        };
        PlaneRegion region;
        std::vector<std::uint32_t> vertexOf;
        std::unordered_map<std::uint32_t, std::uint32_t> added;  // new points
        const auto corner = [&](std::size_t i) {
            const auto [u, v] = flat(at[i]);
            vertexOf.push_back((isTaken ? firstTakenVertex_ : 0) + body.mesh.triangles[number][i]);
            return region.add(u, v);
        };
        const auto cut = [&](std::uint32_t point) {
            const auto found = added.find(point);
            if (found != added.end()) return found->second;
            const auto [u, v] = flat(points_[point]);
            vertexOf.push_back(newVertex(body, number, point));
            return added[point] = region.add(u, v);
        };
        std::array<std::uint32_t, 3> own{};
        for (std::size_t i = 0; i < 3; ++i)
            own[i] = body.kept[corners[i]] == 1 ? corner(i) : PlaneRegion::kOpen;
        for (std::size_t i = 0; i < 3; ++i) {
            const std::size_t k = (i + 1) % 3;
            std::vector<std::uint32_t> stops;  // where what is kept of this side begins and ends
            if (own[i] != PlaneRegion::kOpen) stops.push_back(own[i]);
            const auto found = body.passages.find(chord(corners[i], corners[k]));
            if (found != body.passages.end()) {
                std::vector<Passage> passages = found->second;
                if (corners[i] > corners[k]) std::ranges::reverse(passages);
                for (const Passage& passage : passages)
                    stops.push_back(cut(passage.point));
            }
            if (own[k] != PlaneRegion::kOpen) stops.push_back(own[k]);
            if (stops.size() % 2 != 0) throw Untold();
            for (std::size_t s = 0; s < stops.size(); s += 2)
                region.join(stops[s], stops[s + 1]);
        }
        for (const CutLine& line : lines) {
            const std::uint32_t from = cut(line.from), to = cut(line.to);
            if (region.vertices[from].next != PlaneRegion::kOpen ||
                region.vertices[to].before != PlaneRegion::kOpen)
                throw Untold();
            region.join(from, to);
        }
        std::vector<std::array<std::uint32_t, 3>> triangles;
        triangulate(region, triangles);
        widenAngles(region, std::numeric_limits<double>::infinity(), triangles);
        for (auto& t : triangles) {
            for (std::uint32_t& vertex : t)
                vertex = vertexOf[vertex];
        }
        return triangles;
    }

    /// With the normal that the triangle's own have there.
    std::uint32_t newVertex(const CutBody& body, std::uint32_t number, std::uint32_t point) {
        const auto& t = body.mesh.triangles[number];
        const auto at = [&](std::size_t i) { return body.mesh.points[body.triangles[number][i]]; };
        const Vec3 p = points_[point];
        const Vec3 whole = cross(at(1) - at(0), at(2) - at(0));
        Vec3 sum{};
        for (std::size_t i = 0; i < 3; ++i) {
            const Vec3 a = at((i + 1) % 3), b = at((i + 2) % 3);
            const auto& n = body.mesh.normals[t[i]];
            sum = sum + dot(cross(a - p, b - p), whole) * Vec3{n[0], n[1], n[2]};
        }
        const double scale = (&body == &taken_ ? -1 : 1) / std::max(length(sum), 1e-300);
        mesh_.pointOf.push_back(firstNew_ + point);
        mesh_.normals.push_back({static_cast<float>(scale * sum.x), static_cast<float>(scale * sum.y),
                                 static_cast<float>(scale * sum.z)});
        return static_cast<std::uint32_t>(mesh_.pointOf.size() - 1);
    }

    /// Without the points and vertices that no triangle names.
    Mesh compact() {
        constexpr std::uint32_t kUnused = 0xffffffff;
        std::vector<std::uint32_t> vertexAt(mesh_.pointOf.size(), kUnused);
        std::vector<std::uint32_t> pointAt(mesh_.points.size(), kUnused);
        Mesh result;
        for (const Group& group : groups_) {
            if (group.triangles.empty()) continue;
            result.faces.push_back({group.tag, static_cast<std::uint32_t>(result.triangles.size()),
                                    static_cast<std::uint32_t>(group.triangles.size())});
            for (const auto& t : group.triangles) {
                auto& own = result.triangles.emplace_back();
                for (std::size_t i = 0; i < 3; ++i) {
                    std::uint32_t& vertex = vertexAt[t[i]];
                    if (vertex == kUnused) {
                        std::uint32_t& point = pointAt[mesh_.pointOf[t[i]]];
                        if (point == kUnused) {
                            point = static_cast<std::uint32_t>(result.points.size());
                            result.points.push_back(mesh_.points[mesh_.pointOf[t[i]]]);
                        }
                        vertex = static_cast<std::uint32_t>(result.pointOf.size());
                        result.pointOf.push_back(point);
                        result.normals.push_back(mesh_.normals[t[i]]);
                    }
                    own[i] = vertex;
                }
            }
        }
        return result;
    }

    CutBody from_, taken_;
    std::vector<GridBox> boxes_;  ///< of the taken triangles
    /// The new points, by the body whose edge passes, the edge, and the other's triangle.
    std::map<std::tuple<bool, std::uint64_t, std::uint32_t>, std::uint32_t> known_;
    std::vector<Vec3> points_;
    Mesh mesh_;
    std::vector<Group> groups_;
    std::uint32_t firstTaken_ = 0, firstTakenVertex_ = 0, firstNew_ = 0;
};

}  // namespace

std::optional<Mesh> difference(const Mesh& from, const Mesh& taken) {
    try {
        Mesh left = Difference(from, taken).run();
        if (defects(left) == MeshDefects{}) return left;
    } catch (const Untold&) {
    } catch (const OutlinesCross&) {
    }
    return std::nullopt;
}

}  // namespace bandwright::geometry
