#include "setting.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/ring.hpp"
#include "geometry/stone.hpp"
#include "geometry/tolerance.hpp"
#include "outline.hpp"

namespace bandwright::geometry {

namespace {

double outsideOver(const design::Design& design, std::size_t setting) {
    return outsideAt(design, design.settings[setting].placement.offset);
}

double axisDistance(const Vec3& p) {
    return std::sqrt(p.x * p.x + p.y * p.y);
}

/// Calls visit(height) where the edge from a to b crosses the cylinder about the z axis.
void crossCylinder(const Vec3& a, const Vec3& b, double radius, auto&& visit) {
    const double ac = a.x * a.x + a.y * a.y - radius * radius;
    const Vec3 d = b - a;
    const double aa = d.x * d.x + d.y * d.y;
    const double ab = a.x * d.x + a.y * d.y;
    const double square = ab * ab - aa * ac;
    if (aa == 0 || square < 0) return;
    for (const double root : {-std::sqrt(square), std::sqrt(square)}) {
        const double t = (root - ab) / aa;
        if (t >= 0 && t <= 1) visit(a.z + t * d.z);
    }
}

}  // namespace

HoleProfile settingHole(const design::Design& design, std::size_t setting) {
    const design::Setting& s = design.settings[setting];
    return holeProfile(s.hole, s.placement.offset, outsideOver(design, setting), beyondAll(design), setting);
}

std::vector<HoleRow> holeRows(const design::Design& design) {
    std::vector<HoleRow> rows;
    for (std::size_t i = 0; i < design.settings.size(); ++i) {
        HoleRow row{settingHole(design, i), {}};
        for (const double angle : design::placedAngles(design.settings[i].placement))
            row.angles.push_back(radians(angle));
        rows.push_back(std::move(row));
    }
    return rows;
}

double tubeBase(const design::Design& design, std::size_t setting) {
    return outsideOver(design, setting) - seatOf(design.settings[setting].hole, setting).depth;
}

namespace {

/// The lowest place of a triangle's inside on the cylinder, where its plane is nearest to falling outwards;
/// infinite when that place is not in the triangle.
double lowestWithin(const std::array<Vec3, 3>& corners, double radius) {
    const Vec3 n = cross(corners[1] - corners[0], corners[2] - corners[0]);
    const double slope = axisDistance(n);
    if (n.z == 0 || slope == 0) return kNever;
    // Along the plane z falls the fastest in the direction of (n.x, n.y) / n.z.
    const double side = n.z > 0 ? radius / slope : -radius / slope;
    const Vec3 p{side * n.x, side * n.y, 0};
    const auto onLeft = [&](std::size_t k) {
        const Vec3& a = corners[k];
        const Vec3& b = corners[(k + 1) % 3];
        return ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) * n.z >= 0;
    };
    if (!onLeft(0) || !onLeft(1) || !onLeft(2)) return kNever;
    return corners[0].z - ((p.x - corners[0].x) * n.x + (p.y - corners[0].y) * n.y) / n.z;
}

/// The lowest place of a stone at this distance from its axis or beyond; infinite when there is none.
double lowestBeyond(const Mesh& stone, double radius) {
    const auto isWithin = [&](const Vec3& p) { return p.x * p.x + p.y * p.y < radius * radius; };
    double lowest = kNever;
    for (const Vec3& p : stone.points) {
        if (p.z < lowest && !isWithin(p)) lowest = p.z;
    }
    for (const auto& triangle : stone.triangles) {
        const Vec3& a = stone.points[stone.pointOf[triangle[0]]];
        const Vec3& b = stone.points[stone.pointOf[triangle[1]]];
        const Vec3& c = stone.points[stone.pointOf[triangle[2]]];
        if (std::min({a.z, b.z, c.z}) >= lowest || (isWithin(a) && isWithin(b) && isWithin(c))) continue;
        const auto offer = [&](double height) { lowest = std::min(lowest, height); };
        crossCylinder(a, b, radius, offer);
        crossCylinder(b, c, radius, offer);
        crossCylinder(c, a, radius, offer);
        offer(lowestWithin({a, b, c}, radius));
    }
    return lowest;
}

/// The least height of a stone at which it stands clear of a ledge, a bearing or the bottom of a hole. The
/// height of a cone over the axis, less that of a straight edge, is greatest at an end of the edge; so beside
/// the rim of the cone the stone's corners tell.
double heightOn(const HolePiece& floor, const Mesh& stone) {
    double height = floor.x0 - lowestBeyond(stone, floor.radius0);
    if (floor.isFlat()) return height;
    const double slope = (floor.x1 - floor.x0) / (floor.radius1 - floor.radius0);
    for (const Vec3& p : stone.points) {
        const double out = axisDistance(p);
        if (out < floor.radius0 || out > floor.radius1 + kSamePoint) continue;
        height = std::max(height, floor.x0 + (out - floor.radius0) * slope - p.z);
    }
    return height;
}

}  // namespace

double restingPlace(const Mesh& stone, double radius) {
    const double lowest = lowestBeyond(stone, radius);
    return std::isfinite(lowest) ? lowest : 0;
}

double girdleHeight(const design::Design& design, std::size_t setting, const Mesh& stone) {
    const design::Setting& s = design.settings[setting];
    const double base = tubeBase(design, setting);
    if (s.tube)
        return base + s.tube->height - s.tube->seatDepth - restingPlace(stone, s.tube->innerDiameter / 2);
    double height = -kNever;
    for (const HolePiece& piece : settingHole(design, setting).pieces) {
        if (isHoleFloor(piece.tag)) height = std::max(height, heightOn(piece, stone));
    }
    return std::isfinite(height) ? height : base;  // where it falls through, its girdle is shown at the seat
}

Loop tubeWall(const design::Design& design, std::size_t setting, design::Stage stage) {
    const design::Setting& s = design.settings[setting];
    const double base = tubeBase(design, setting);
    std::optional<ClosedLip> lip;
    if (s.stone && workpiece(design, stage).closed) {
        const Mesh stone = stoneMesh(*s.stone);
        lip = closedLip(*s.tube, base, stone, girdleHeight(design, setting, stone));
    }
    return tubeWall(*s.tube, base, lip, setting);
}

Section tubeSection(const design::Design& design, std::size_t setting, design::Stage stage) {
    const Loop wall = tubeWall(design, setting, stage);
    Loop loop;
    for (auto s = wall.rbegin(); s != wall.rend(); ++s)
        loop.push_back(line({s->to.r, s->to.z}, {s->from.r, s->from.z}, s->tag));
    return {loop};
}

Loop tubeWall(const design::Tube& tube, double base, const std::optional<ClosedLip>& lip,
              std::size_t setting) {
    const double inner = tube.innerDiameter / 2;
    const double seat = tube.seatDiameter / 2;
    const double outer = tube.outerDiameter / 2;
    const double top = base + tube.height;
    const double ledge = top - tube.seatDepth;
    std::vector<Vec2> corners = {{inner, base}, {outer, base}};
    std::vector<Feature> sides = {Feature::TubeEnd, Feature::TubeOutside, Feature::TubeLip};
    if (lip) {
        corners.insert(corners.end(), lip->outside.begin(), lip->outside.end());
        corners.insert(corners.end(), lip->inside.rbegin(), lip->inside.rend());
        sides.insert(sides.end(), lip->outside.size() - 1, Feature::TubeLip);
        sides.insert(sides.end(), lip->inside.size() - 1, Feature::TubeSeat);
    } else {
        corners.insert(corners.end(), {{outer, top}, {seat, top}});
    }
    corners.insert(corners.end(), {{seat, ledge}, {inner, ledge}});
    sides.insert(sides.end(), {Feature::TubeSeat, Feature::TubeLedge, Feature::TubeInside});
    Loop wall;
    for (std::size_t i = 0; i < corners.size(); ++i)
        wall.push_back(line(corners[i], corners[(i + 1) % corners.size()], {sides[i], setting}));
    return tidied(wall);
}

Section stoneOutline(const Mesh& stone, std::size_t setting) {
    // A plane a hair off the middle, which passes no corner of a stone that is the same on both sides.
    constexpr double kOff = 1e-7;
    const auto at = [&](std::uint32_t vertex) { return stone.points[stone.pointOf[vertex]]; };
    const auto inFront = [&](std::uint32_t vertex) { return at(vertex).x > kOff; };
    const auto crossing = [&](std::uint32_t v, std::uint32_t w) {
        // From the lower numbered point, so that both triangles at an edge find the same place to the bit.
        const Vec3 a = stone.points[std::min(stone.pointOf[v], stone.pointOf[w])];
        const Vec3 b = stone.points[std::max(stone.pointOf[v], stone.pointOf[w])];
        const double t = (kOff - a.x) / (b.x - a.x);
        return Vec2{a.y + t * (b.y - a.y), a.z + t * (b.z - a.z)};
    };
    std::vector<Segment> pieces;
    for (const MeshFace& face : stone.faces) {
        for (std::uint32_t k = 0; k < face.triangleCount; ++k) {
            const auto& t = stone.triangles[face.firstTriangle + k];
            Segment piece;
            int found = 0;
            for (std::size_t e = 0; e < 3; ++e) {
                const std::uint32_t v = t[e];
                const std::uint32_t w = t[(e + 1) % 3];
                if (inFront(v) == inFront(w)) continue;
                // Seen from the front, what lies behind the plane has its cut face on the left when the cut
                // of each triangle ends where the triangle's own way round comes to the front.
                (inFront(v) ? piece.from : piece.to) = crossing(v, w);
                ++found;
            }
            if (found != 2 || piece.from == piece.to) continue;
            piece.tag = {face.tag.feature, setting};
            pieces.push_back(piece);
        }
    }
    // Each piece begins where one other ends.
    const auto before = [](Vec2 a, Vec2 b) { return a.z != b.z ? a.z < b.z : a.r < b.r; };
    std::sort(pieces.begin(), pieces.end(),
              [&](const Segment& a, const Segment& b) { return before(a.from, b.from); });
    std::vector<bool> taken(pieces.size(), false);
    Section outline;
    for (std::size_t first = 0; first < pieces.size(); ++first) {
        Loop loop;
        for (std::size_t k = first; k < pieces.size() && !taken[k];) {
            taken[k] = true;
            loop.push_back(pieces[k]);
            const auto next =
                std::lower_bound(pieces.begin(), pieces.end(), pieces[k].to,
                                 [&](const Segment& s, Vec2 place) { return before(s.from, place); });
            k = static_cast<std::size_t>(next - pieces.begin());
        }
        if (!loop.empty() && loop.back().to == loop.front().from) outline.push_back(tidied(loop));
    }
    return outline;
}

}  // namespace bandwright::geometry
