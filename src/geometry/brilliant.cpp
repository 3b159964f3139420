// The brilliants: round, oval, marquise and pear. Proportions of the round one: Marcel Tolkowsky, "Diamond
// Design", 1919. Star and lower girdle facets of 55 % and 80 % length are what the Gemological Institute of
// America takes for granted in its cut charts (diamondcut.gia.edu, 2006); both are measured in plan, the
// girdle at its thick places.
//
// All share one scheme. Eight mains touch the girdle, each in one point; the table's outline is the outline
// of those points drawn smaller about the axis, so that two neighbouring mains meet above the ray from the
// axis to the place where their lines on the girdle plane would meet. The tips of the star and of the lower
// girdle facets lie on that edge.

#include <array>
#include <cmath>

#include "arithmetic.hpp"
#include "base/input_error.hpp"
#include "base/numbers.hpp"
#include "stone_cuts.hpp"

namespace bandwright::geometry {

namespace {

constexpr int kMains = 8;

/// Girdle planes between a main and the middle to the next: 64 in all.
constexpr int kGirdleParts = 4;

/// A circular arc of the girdle's outline, counter-clockwise.
struct Arc {
    Vec3 centre;
    double radius = 0;
    double from = 0, to = 0;  ///< radians
};

/// The arcs between neighbouring mains; main k stands where arc k starts.
using Outline = std::array<Arc, kMains>;

Vec3 direction(double angle) {
    return {std::cos(angle), std::sin(angle), 0};
}

Vec3 at(const Arc& arc, double angle) {
    return arc.centre + arc.radius * direction(angle);
}

Vec3 raised(const Vec3& plan, double z) {
    return {plan.x, plan.y, z};
}

void spread(Outline& outline, std::size_t first, int count, const Arc& whole) {
    for (int i = 0; i < count; ++i) {
        Arc& arc = outline[first + static_cast<std::size_t>(i)];
        arc = whole;
        arc.from = whole.from + (whole.to - whole.from) * i / count;
        arc.to = whole.from + (whole.to - whole.from) * (i + 1) / count;
    }
}

Outline roundOutline(double radius) {
    Outline outline;
    spread(outline, 0, kMains, {{}, radius, 0, 2 * kPi});
    return outline;
}

/// Two equal arcs that meet in points at both ends.
Outline marquiseOutline(double halfWidth, double halfLength) {
    const double below = (halfLength * halfLength - halfWidth * halfWidth) / (2 * halfWidth);
    const double radius = halfWidth + below;
    const double start = std::atan2(below, halfLength);
    Outline outline;
    spread(outline, 0, kMains / 2, {{0, -below, 0}, radius, start, kPi - start});
    spread(outline, kMains / 2, kMains / 2, {{0, below, 0}, radius, kPi + start, 2 * kPi - start});
    return outline;
}

/// Half a circle round the axis, and two arcs that leave it smoothly and meet in a point.
Outline pearOutline(double radius, double tip) {
    const double below = (tip * tip - radius * radius) / (2 * radius);
    const double start = std::atan2(below, tip);
    Outline outline;
    spread(outline, 0, kMains / 4, {{0, -below, 0}, radius + below, start, kPi / 2});
    spread(outline, kMains / 4, kMains / 2, {{}, radius, kPi / 2, 3 * kPi / 2});
    spread(outline, 3 * kMains / 4, kMains / 4,
           {{0, below, 0}, radius + below, 3 * kPi / 2, 2 * kPi - start});
    return outline;
}

Outline outlineOf(const design::Stone& stone) {
    const double radius = stone.diameter / 2;
    const double length = stone.length > 0 ? stone.length : stone.diameter;
    if (stone.cut == design::StoneCut::Marquise) return marquiseOutline(radius, length / 2);
    if (stone.cut == design::StoneCut::Pear) return pearOutline(radius, length - radius);
    return roundOutline(radius);
}

/// What the facets are drawn from, in plan.
struct Plan {
    std::array<Vec3, kMains> main;    ///< where each main touches the girdle
    std::array<Vec3, kMains> normal;  ///< of the girdle there; across the tip where it is pointed
    std::array<Vec3, kMains>
        crossing;  ///< where the line of main k on the girdle plane meets that of main k + 1
    std::array<Vec3, kMains> between;  ///< where the ray to the crossing passes the girdle
};

std::size_t next(std::size_t main) {
    return (main + 1) % kMains;
}

/// Where the ray from the axis in a unit direction leaves the arc's circle, which it starts inside of.
Vec3 onArc(const Arc& arc, const Vec3& ray) {
    const double along = dot(ray, arc.centre);
    return (along + std::sqrt(along * along - dot(arc.centre, arc.centre) + arc.radius * arc.radius)) * ray;
}

Plan planOf(const Outline& outline) {
    Plan plan;
    for (std::size_t k = 0; k < kMains; ++k) {
        const Vec3 mean = direction(outline[(k + kMains - 1) % kMains].to) + direction(outline[k].from);
        plan.main[k] = at(outline[k], outline[k].from);
        plan.normal[k] = (1 / length(mean)) * mean;
    }
    for (std::size_t k = 0; k < kMains; ++k) {
        const Vec3& m = plan.normal[k];
        const Vec3& n = plan.normal[next(k)];
        const double p = dot(m, plan.main[k]);
        const double q = dot(n, plan.main[next(k)]);
        const double turn = m.x * n.y - m.y * n.x;
        plan.crossing[k] = {(p * n.y - q * m.y) / turn, (q * m.x - p * n.x) / turn, 0};
        plan.between[k] = onArc(outline[k], (1 / length(plan.crossing[k])) * plan.crossing[k]);
    }
    return plan;
}

/// The plane through main k's point on the girdle, along the girdle there, that reaches the axis at the given
/// height above or below the girdle's edge.
Plane mainFacet(const Plan& plan, std::size_t k, double edge, double atAxis, Tag tag) {
    const double reach = dot(plan.normal[k], plan.main[k]);
    return leaning(plan.normal[k], reach, edge, atAxis / reach, tag);
}

/// Along the ray to crossing k, as shares of the crossing's distance: the girdle, and how far out the edge of
/// a table of 1 would be.
struct StarRay {
    double girdle, edge;
};

StarRay starRay(const Plan& plan, std::size_t k) {
    const Vec3& a = plan.main[k];
    const Vec3& b = plan.main[next(k)];
    const Vec3& ray = plan.crossing[k];
    const Vec3 side = b - a;
    return {length(plan.between[k]) / length(ray),
            (a.x * side.y - a.y * side.x) / (ray.x * side.y - ray.y * side.x)};
}

/// Every star must reach out further than the table's corners; a table that no star reaches beyond is refused
/// itself.
void requireStars(const design::Stone& stone, const Plan& plan) {
    constexpr double kLongest = 0.999;  // a tenth of a percent is told, and more is needed than is told
    const double table = stone.table / 100;
    double widest = 1;
    double least = 0;
    bool fits = true;
    for (std::size_t k = 0; k < kMains; ++k) {
        const auto [girdle, edge] = starRay(plan, k);
        fits &= table * edge + stone.starLength / 100 * (girdle - table * edge) > table;
        widest = std::min(widest, kLongest * girdle / (1 - edge + kLongest * edge));
        least = std::max(least, (table - table * edge) / (girdle - table * edge));
    }
    if (fits) return;
    const auto tenths = [](double share) { return base::shortestNumber(share / 10) + " %"; };
    if (!(table < widest))
        throw base::InputError("Stone: a table of " + base::shortestNumber(stone.table) +
                               " % found; with this outline less than " + tenths(std::floor(1000 * widest)) +
                               " is needed.");
    throw base::InputError("Stone: a star length of " + base::shortestNumber(stone.starLength) +
                           " % found; with this table more than " + tenths(std::ceil(1000 * least)) +
                           " is needed.");
}

/// How far out along the ray to crossing k the star's tip lies, as a share of the crossing's distance.
double starShare(const design::Stone& stone, const Plan& plan, std::size_t k, double table) {
    const auto [girdle, edge] = starRay(plan, k);
    return table * edge + stone.starLength / 100 * (girdle - table * edge);
}

void addCrown(std::vector<Plane>& planes, const design::Stone& stone, const Plan& plan) {
    const Tag tag{Feature::Crown};
    const double table = stone.table / 100;
    const double edge = halfGirdle(stone);
    const double apex =
        stone.diameter / 2 * std::tan(radians(stone.crownAngle));  // of the mains, above the edge
    const double top = edge + (1 - table) * apex;
    requireStars(stone, plan);
    planes.push_back({{0, 0, 1}, top, {Feature::Table}});
    std::array<Vec3, kMains> tip;
    for (std::size_t k = 0; k < kMains; ++k) {
        const double share = starShare(stone, plan, k, table);
        tip[k] = raised(share * plan.crossing[k], edge + (1 - share) * apex);
        planes.push_back(planeThrough(raised(table * plan.main[k], top),
                                      raised(table * plan.main[next(k)], top), tip[k], tag));
    }
    for (std::size_t k = 0; k < kMains; ++k)
        planes.push_back(mainFacet(plan, k, edge, apex, tag));
    for (std::size_t k = 0; k < kMains; ++k) {
        const Vec3 middle = raised(plan.between[k], edge);
        planes.push_back(planeThrough(raised(plan.main[k], edge), middle, tip[k], tag));
        planes.push_back(planeThrough(middle, raised(plan.main[next(k)], edge), tip[k], tag));
    }
}

/// The polygon of the girdle, with a corner at every main and half-way to the next.
void addGirdle(std::vector<Plane>& planes, const Outline& outline, const Plan& plan) {
    for (std::size_t k = 0; k < kMains; ++k) {
        const Arc& arc = outline[k];
        const Vec3 spoke = plan.between[k] - arc.centre;
        const double turn = std::remainder(std::atan2(spoke.y, spoke.x) - arc.from, 2 * kPi);
        Vec3 last = plan.main[k];
        for (int i = 1; i <= 2 * kGirdleParts; ++i) {
            const double share = static_cast<double>(i % kGirdleParts) / kGirdleParts;
            const double angle = i < kGirdleParts ? arc.from + share * turn
                                                  : arc.from + turn + share * (arc.to - arc.from - turn);
            const Vec3 corner = i == kGirdleParts       ? plan.between[k]
                                : i == 2 * kGirdleParts ? plan.main[next(k)]
                                                        : at(arc, angle);
            planes.push_back(planeThrough(last, corner, raised(corner, 1), {Feature::Girdle}));
            last = corner;
        }
    }
}

void addPavilion(std::vector<Plane>& planes, const design::Stone& stone, const Plan& plan) {
    const Tag tag{Feature::Pavilion};
    const double edge = -halfGirdle(stone);
    const double apex = -stone.diameter / 2 * std::tan(radians(stone.pavilionAngle));
    for (std::size_t k = 0; k < kMains; ++k) {
        const double girdle = length(plan.between[k]) / length(plan.crossing[k]);
        const double share = (1 - stone.lowerLength / 100) * girdle;
        const Vec3 tip = raised(share * plan.crossing[k], edge + (1 - share) * apex);
        const Vec3 middle = raised(plan.between[k], edge);
        planes.push_back(planeThrough(raised(plan.main[k], edge), middle, tip, tag));
        planes.push_back(planeThrough(middle, raised(plan.main[next(k)], edge), tip, tag));
    }
    for (std::size_t k = 0; k < kMains; ++k)
        planes.push_back(mainFacet(plan, k, edge, apex, tag));
}

}  // namespace

std::vector<Plane> brilliant(const design::Stone& stone) {
    const Outline outline = outlineOf(stone);
    const Plan plan = planOf(outline);
    std::vector<Plane> planes;
    planes.reserve(121);
    addCrown(planes, stone, plan);
    addGirdle(planes, outline, plan);
    addPavilion(planes, stone, plan);
    if (stone.cut != design::StoneCut::Oval || !(stone.length > 0)) return planes;
    return stretched(std::move(planes), stone.length / stone.diameter);
}

}  // namespace bandwright::geometry
