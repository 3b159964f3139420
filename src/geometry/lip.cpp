#include <algorithm>
#include <cmath>

#include "geometry/tolerance.hpp"
#include "setting.hpp"

namespace bandwright::geometry {

namespace {

/// Height of the girdle's upper edge where it is thickest; of its middle where it has no thickness.
double girdleTop(const Mesh& stone) {
    double top = 0;
    for (const MeshFace& face : stone.faces) {
        if (face.tag.feature != Feature::Girdle) continue;
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t vertex : stone.triangles[t])
                top = std::max(top, stone.points[stone.pointOf[vertex]].z);
        }
    }
    return top;
}

/// The next corner, inwards and up from `from`, of the outline that the stone leaves when it is turned about
/// its axis and wrapped; over its top it runs level to the axis. The same place when it reaches out over
/// `from`.
Vec2 nextOver(const Mesh& stone, double girdle, Vec2 from) {
    Vec2 best{from.z, 0};  // inwards and up from there; the steepest, and of those the farthest
    for (const Vec3& p : stone.points) {
        const double up = p.z + girdle - from.r;
        if (up < kSamePoint) continue;
        const double in = from.z - std::hypot(p.x, p.y);
        if (in <= 0) return from;
        const double steeper = up * best.z - best.r * in;
        if (steeper > 0 || (steeper == 0 && in > best.z)) best = {in, up};
    }
    return {from.z - best.z, from.r + best.r};
}

/// A stretch of the lip along the stone, or before it is turned.
struct Run {
    Vec2 from;
    Vec2 along;  ///< unit
    double wall;

    Vec2 outwards() const { return {along.r, -along.z}; }
    double middle() const { return from.z + wall * outwards().z / 2; }

    /// Volume over 2 pi of so much length, by Pappus: the middle of the wall moves in as the lip does.
    double volume(double length) const { return wall * length * (middle() + length * along.z / 2); }

    /// The length that holds so much; nothing where it would pass the axis.
    std::optional<double> lengthOf(double volume) const {
        const double root = middle() * middle() + 2 * along.z * volume / wall;
        if (root < 0) return std::nullopt;
        return 2 * volume / wall / (middle() + std::sqrt(root));
    }
};

/// The bend between two runs: the outside of the corner, and the volume over 2 pi of the two right-angled
/// triangles between the ends of the runs.
struct Bend {
    Vec2 outside;
    double volume;
};

Bend bend(const Run& before, const Run& after) {
    const Vec2 p = after.from;
    const Vec2 a = p + before.wall * before.outwards();
    const Vec2 b = p + after.wall * after.outwards();
    const double turn = std::atan2(cross(before.along, after.along), dot(before.along, after.along));
    const double reach = before.wall * std::tan(turn / 2);
    const Vec2 corner = a + reach * before.along;
    return {corner, before.wall * reach / 2 * (2 * p.z + a.z + b.z + 2 * corner.z) / 3};
}

}  // namespace

std::optional<ClosedLip> closedLip(const design::Tube& tube, double base, const Mesh& stone, double girdle) {
    const double seat = tube.seatDiameter / 2;
    const double wall = (tube.outerDiameter - tube.seatDiameter) / 2;
    const double top = base + tube.height;
    const Vec2 pivot{seat, girdle + girdleTop(stone)};
    if (pivot.r > top - kLeastMade || pivot.r < top - tube.seatDepth) return std::nullopt;
    if (std::any_of(stone.points.begin(), stone.points.end(),
                    [&](const Vec3& p) { return std::hypot(p.x, p.y) > seat + kSamePoint; }))
        return std::nullopt;

    ClosedLip lip;
    Run run{pivot, {0, 1}, wall};
    double left = run.volume(top - pivot.r);
    Vec2 corner = pivot;
    while (true) {
        const Vec2 to = nextOver(stone, girdle, corner);
        const double reach = distance(corner, to);
        if (reach < kSamePoint) break;
        const Run next{corner, (1 / reach) * (to - corner), wall};
        const Bend turned = bend(run, next);
        const double rest = left - run.volume(distance(run.from, corner)) - turned.volume;
        if (rest <= 0) break;  // what is left goes straight on, clear of the stone
        lip.inside.push_back(corner);
        lip.outside.push_back(turned.outside);
        left = rest;
        run = next;
        corner = to;
    }
    const auto length = lip.inside.empty() ? std::nullopt : run.lengthOf(left);
    if (!length) return std::nullopt;
    const Vec2 end = run.from + *length * run.along;
    if (end.z < kLeastMade) return std::nullopt;
    lip.inside.push_back(end);
    lip.outside.push_back(end + wall * run.outwards());
    return lip;
}

}  // namespace bandwright::geometry
