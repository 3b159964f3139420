#include "geometry/wall.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <map>
#include <optional>
#include <unordered_map>
#include <utility>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/tolerance.hpp"
#include "section_rows.hpp"
#include "setting.hpp"

namespace bandwright::geometry {

namespace {

constexpr double kNothing = 1e-7;       // mm: a contact nearer than this is the place itself
constexpr double kBehindChords = 5e-3;  // mm, twice what a mesh made for the screen stands off its surface
constexpr double kFacing = -0.5;        // cosine of the least angle between two normals of a wall

// std::hypot guards against overflow, which lengths of millimetres do not need,
// and costs ten times as much.
double norm(double a, double b) {
    return std::sqrt(a * a + b * b);
}

/// A place of the surface and the way into the metal there; a unit vector.
template <class Vec>
struct Start {
    Vec place, inward;
    Vec centre(double radius) const { return place + radius * inward; }
};
using Start2 = Start<Vec2>;
using Start3 = Start<Vec3>;

/// Whether a ball that touches at `start` and at `foot`, its centre at
/// `centre`, is stopped there.
template <class Vec>
bool faces(const Start<Vec>& start, const Vec& foot, const Vec& centre, double radius) {
    return dot(start.inward, centre - foot) <= kFacing * radius;
}

/// The radius at which distance(radius) - radius passes through 0 between 0 and
/// `most`, where it is negative. It never rises: a distance grows no faster
/// than the centre moves (Illinois variant of regula falsi).
template <class Distance>
double touching(Distance&& distanceAt, double most) {
    double low = 0;
    double high = most;
    double fLow = distanceAt(low);
    double fHigh = distanceAt(high) - high;
    int side = 0;
    for (int i = 0; i < 60 && high - low > 1e-9; ++i) {
        const double t = (low * fHigh - high * fLow) / (fHigh - fLow);
        const double f = distanceAt(t) - t;
        if (std::abs(f) < 1e-10) return t;
        if (f > 0) {
            low = t;
            fLow = f;
            if (side == 1) fHigh /= 2;
            side = 1;
        } else {
            high = t;
            fHigh = f;
            if (side == -1) fLow /= 2;
            side = -1;
        }
    }
    return (low + high) / 2;
}

/// A hole as it stands in the ring.
struct PlacedWall {
    const HoleProfile* profile;
    double angle, cosine, sine;
    double widest;                            ///< radius within the ring
    std::int64_t view = 0, mirroredView = 0;  ///< the same where the ring looks the same from it

    Vec3 toOwn(const Vec3& p) const { return {cosine * p.x + sine * p.y, cosine * p.y - sine * p.x, p.z}; }
    /// Whether a ball with this middle and radius stays clear of the hole.
    bool isClearOf(const Vec3& middle, double radius) const {
        const double y = cosine * middle.y - sine * middle.x;
        return square(y) + square(middle.z - profile->offset) > square(widest + radius) ||
               cosine * middle.x + sine * middle.y < -radius;
    }
    Vec3 onAxis() const { return {0, 0, profile->offset}; }
};

double across(const Vec3& q) {
    return norm(q.y, q.z);
}

/// The cylinder of this radius about the x axis.
double meetingCylinder(const Start3& start, double radius) {
    const Vec3& p = start.place;
    const Vec3& n = start.inward;
    const double a = square(n.y) + square(n.z) - 1;
    const double b = p.y * n.y + p.z * n.z - radius;
    const double c = square(p.y) + square(p.z) - square(radius);
    const double root = square(b) - a * c;
    if (root < 0) return kNever;
    const double closing = std::sqrt(root) - b;
    return closing > 0 ? c / closing : kNever;
}

/// A place and the way into the metal there, in steps so small that starts in the same step have the same
/// wall.
template <std::size_t Count>
struct Standing {
    std::array<std::int64_t, Count> steps;
    bool operator==(const Standing&) const = default;
};

std::int64_t placeStep(double mm) {
    return std::llround(mm / 1e-7);
}
std::int64_t wayStep(double part) {
    return std::llround(part / 1e-6);
}

struct HashOfStanding {
    template <std::size_t Count>
    std::size_t operator()(const Standing<Count>& standing) const {
        std::uint64_t hash = 0;
        for (const std::int64_t step : standing.steps)
            hash = (hash ^ static_cast<std::uint64_t>(step)) * 0x9e3779b97f4a7c15U;
        return static_cast<std::size_t>(hash ^ (hash >> 32));
    }
};

template <std::size_t Count>
using Stops = std::unordered_map<Standing<Count>, double, HashOfStanding>;

/// Unit, into the metal, which lies to the left of the outline's way.
Vec2 normalInto(const Segment& s, Vec2 foot) {
    if (s.isArc()) return (s.ccw ? 1 : -1) / s.radius * (s.centre - foot);
    const Vec2 way = tangentAt(s, 0);
    return {-way.r, way.z};
}

/// Between the nearest and the farthest place of a section from the ring's axis.
double heightOf(const Section& section) {
    double least = kNever;
    double most = 0;
    for (const Loop& loop : section) {
        for (const Segment& s : loop) {
            for (const double side : {-2.0, 2.0}) {
                const Vec2 p = s.isArc() ? nearestOn(s, s.centre + Vec2{0, side * s.radius}) : s.from;
                least = std::min(least, p.r);
                most = std::max(most, p.r);
            }
        }
    }
    return most - least;
}

class WallField {
  public:
    WallField(const design::Design& design, design::Stage stage)
        : WallField(design, workpiece(design, stage)) {}

    WallField(const design::Design& design, const Workpiece& piece)
        : band_(sections(design, piece).band), reach_(heightOf(band_) / 2) {
        profiles_.reserve(design.settings.size());
        for (std::size_t i = 0; piece.drilled && i < design.settings.size(); ++i) {
            profiles_.push_back(settingHole(design, i));
            double widest = 0;
            for (const HolePiece& part : profiles_.back().pieces) {
                if (part.x0 < piece.outside) widest = std::max(widest, part.radius1);
            }
            for (const double degrees : design::placedAngles(design.settings[i].placement)) {
                const double angle = degrees * kPi / 180;
                holes_.push_back({&profiles_.back(), angle, std::cos(angle), std::sin(angle), widest});
            }
        }
        for (const Loop& loop : band_) {
            for (std::size_t i = 0; i < loop.size(); ++i) {
                const Segment& before = loop[(i + loop.size() - 1) % loop.size()];
                // Only corners that point into the metal can stop a ball.
                if (cross(tangentAt(before, 1), tangentAt(loop[i], 0)) < -kSameDirection)
                    corners_.push_back(loop[i].from);
            }
        }
        numberViews();
    }

    /// `turned`: on a surface turned about the ring's axis; else on the wall of a hole.
    double at(const Start3& start, bool turned) {
        const double free = stoppedByBand(start, turned);
        const Vec3 centre = start.centre(free);
        if (std::all_of(holes_.begin(), holes_.end(),
                        [&](const PlacedWall& other) { return other.isClearOf(centre, free); }))
            return 2 * free;
        // Holes that see the same holes beside them share the answer, and so do the two halves of each.
        const PlacedWall& hole = nearest(start.place);
        const Vec3 place = hole.toOwn(start.place);
        const Vec3 inward = hole.toOwn(start.inward);
        const double side = place.y < 0 ? -1 : 1;
        const auto [known, isNew] = byHole_.try_emplace(
            {place.y < 0 ? hole.mirroredView : hole.view, placeStep(place.x), placeStep(side * place.y),
             placeStep(place.z), wayStep(inward.x), wayStep(side * inward.y), wayStep(inward.z)},
            0);
        if (isNew) known->second = stoppedByHoles(start, free);
        return 2 * known->second;
    }

    /// The nearest place that the tag made of the section turned about the ring's axis.
    std::optional<Start3> onTurned(Tag tag, const Vec3& place) const {
        const double around = norm(place.x, place.y);
        const Vec2 flat{place.z, around};
        std::optional<Start3> found;
        double least = kNever;
        for (const Loop& loop : band_) {
            for (const Segment& s : loop) {
                if (s.tag != tag) continue;
                const Vec2 foot = nearestOn(s, flat);
                const double off = distance(foot, flat);
                if (off >= least) continue;
                least = off;
                const Vec2 inward = normalInto(s, foot);
                const double c = place.x / around, sine = place.y / around;
                found =
                    Start3{{c * foot.r, sine * foot.r, foot.z}, {c * inward.r, sine * inward.r, inward.z}};
            }
        }
        return found;
    }

  private:
    const PlacedWall& nearest(const Vec3& place) const {
        const PlacedWall* best = &holes_.front();
        double ahead = -kNever;
        for (const PlacedWall& hole : holes_) {
            const double x = hole.cosine * place.x + hole.sine * place.y;
            if (x <= ahead) continue;
            ahead = x;
            best = &hole;
        }
        return *best;
    }

    /// Numbers what each hole sees: the holes of every setting by how far round the band they stand from it.
    void numberViews() {
        using View = std::vector<std::pair<std::size_t, std::int64_t>>;
        std::map<View, std::int64_t> numbers;
        const auto seen = [&](const PlacedWall& from, double side) {
            View view;
            view.reserve(holes_.size());
            for (const PlacedWall& hole : holes_) {
                const double apart = std::remainder(side * (hole.angle - from.angle), kTurn);
                view.emplace_back(hole.profile - profiles_.data(), std::llround(apart / 1e-9));
            }
            std::sort(view.begin(), view.end());
            return numbers.try_emplace(std::move(view), numbers.size()).first->second;
        };
        for (PlacedWall& hole : holes_) {
            hole.view = seen(hole, 1);
            hole.mirroredView = seen(hole, -1);
        }
    }

    /// The band looks the same from all round.
    double stoppedByBand(const Start3& start, bool turned) {
        const double r = norm(start.place.x, start.place.y);
        const double radial = (start.place.x * start.inward.x + start.place.y * start.inward.y) / r;
        // A normal that is only nearly in the half-plane must not make the ball larger than it is.
        const double unit = 1 / norm(start.inward.z, radial);
        const Start2 flat{{start.place.z, r}, {unit * start.inward.z, unit * radial}};
        const auto [known, isNew] = byBand_.try_emplace({placeStep(flat.place.z), placeStep(flat.place.r),
                                                         wayStep(flat.inward.z), wayStep(flat.inward.r)},
                                                        0);
        if (isNew) known->second = turned ? stoppedByBand(flat) : stoppedByBand(start);
        return known->second;
    }

    double stoppedByBand(const Start2& start) const {
        double best = reach_;
        const auto offer = [&](double radius, Vec2 foot) {
            if (faces(start, foot, start.centre(radius), radius)) best = radius;
        };
        for (const Loop& loop : band_) {
            for (const Segment& s : loop) {
                const double radius = touchingRadius(s, start.place, start.inward);
                if (!(radius > kNothing && radius < best)) continue;
                const Vec2 centre = start.centre(radius);
                const Vec2 foot = nearestOn(s, centre);
                if (std::abs(distance(foot, centre) - radius) < kNothing) offer(radius, foot);
            }
        }
        for (const Vec2 corner : corners_) {
            const double radius = touchingRadius(corner, start.place, start.inward);
            if (radius > kNothing && radius < best) offer(radius, corner);
        }
        return best;
    }

    double stoppedByBand(const Start3& start) const {
        double best = reach_;
        for (const Loop& loop : band_) {
            for (const Segment& s : loop) {
                const auto distanceAt = [&](double t) {
                    const Vec3 c = start.centre(t);
                    const Vec2 flat{c.z, norm(c.x, c.y)};
                    return distance(flat, nearestOn(s, flat));
                };
                if (distanceAt(best) >= best || distanceAt(0) < kNothing) continue;
                const double radius = touching(distanceAt, best);
                const Vec3 c = start.centre(radius);
                const double r = norm(c.x, c.y);
                const Vec2 foot = nearestOn(s, {c.z, r});
                if (faces(start, Vec3{c.x / r * foot.r, c.y / r * foot.r, foot.z}, c, radius)) best = radius;
            }
        }
        return best;
    }

    double stoppedByHoles(const Start3& start, double best) const {
        for (const PlacedWall& hole : holes_) {
            if (!hole.isClearOf(start.centre(best), best))
                best = stoppedByHole(asSeenFrom(hole, start), *hole.profile, best);
        }
        return best;
    }

    static Start3 asSeenFrom(const PlacedWall& hole, const Start3& start) {
        return {hole.toOwn(start.place) - hole.onAxis(), hole.toOwn(start.inward)};
    }

    static double stoppedByHole(const Start3& own, const HoleProfile& profile, double best) {
        for (std::size_t i = 0; i < profile.pieces.size(); ++i) {
            const HolePiece& piece = profile.pieces[i];
            best = stoppedByPiece(own, piece, best);
            if (i + 1 < profile.pieces.size()) best = stoppedByRim(own, piece.x1, piece.radius1, best);
        }
        return best;
    }

    static double stoppedByPiece(const Start3& start, const HolePiece& piece, double best) {
        double radius = kNever;
        if (piece.isFlat()) {
            radius = (piece.x0 - start.place.x) / (1 + start.inward.x);
        } else if (piece.isCylinder()) {
            radius = meetingCylinder(start, piece.radius0);
        } else {
            const auto distanceAt = [&](double t) { return toPiece(start.centre(t), piece); };
            if (distanceAt(0) < kNothing || distanceAt(best) >= best) return best;
            radius = touching(distanceAt, best);
        }
        if (!(radius > kNothing && radius < best)) return best;
        const Vec3 centre = start.centre(radius);
        const Vec3 foot = footOn(centre, piece);
        const bool touches = std::abs(distance(foot, centre) - radius) < kNothing;
        return touches && faces(start, foot, centre, radius) ? radius : best;
    }

    /// The circle where two pieces of a hole meet.
    static double stoppedByRim(const Start3& start, double x, double rim, double best) {
        const auto distanceAt = [&](double t) {
            const Vec3 c = start.centre(t);
            return norm(across(c) - rim, x - c.x);
        };
        if (distanceAt(0) < kNothing || distanceAt(best) >= best) return best;
        const double radius = touching(distanceAt, best);
        const Vec3 c = start.centre(radius);
        const double scale = rim / std::max(across(c), 1e-12);
        return faces(start, Vec3{x, c.y * scale, c.z * scale}, c, radius) ? radius : best;
    }

    /// The nearest place of a piece in the plane through the hole's axis and q.
    static Vec3 footOn(const Vec3& q, const HolePiece& piece) {
        const Segment outline = line({piece.radius0, piece.x0}, {piece.radius1, piece.x1}, piece.tag);
        const double out = across(q);
        const Vec2 foot = nearestOn(outline, {out, q.x});
        const double scale = out > 0 ? foot.z / out : 0;
        return {foot.r, q.y * scale, q.z * scale};
    }

    static double toPiece(const Vec3& q, const HolePiece& piece) { return distance(q, footOn(q, piece)); }

    Section band_;
    double reach_;  ///< no ball in the band has a larger radius
    std::vector<HoleProfile> profiles_;
    std::vector<PlacedWall> holes_;
    std::vector<Vec2> corners_;  ///< that point into the metal
    Stops<4> byBand_;            ///< radius at which the band stops a ball
    Stops<7> byHole_;            ///< radius at which anything does, as seen from the nearest hole
};

}  // namespace

std::vector<float> wallMap(const Part& band, const design::Design& design, design::Stage stage,
                           double factor) {
    WallField field(design, stage);
    const Mesh& mesh = band.mesh;
    std::vector<float> walls(mesh.pointOf.size(), -1);
    for (const MeshFace& face : mesh.faces) {
        const bool isHole = isHoleWall(face.tag.feature);
        for (std::uint32_t t = face.firstTriangle; t < face.firstTriangle + face.triangleCount; ++t) {
            for (const std::uint32_t v : mesh.triangles[t]) {
                if (walls[v] >= 0) continue;
                const auto& n = mesh.normals[v];
                const Vec3 outward{n[0], n[1], n[2]};
                const Start3 start{1 / factor * mesh.points[mesh.pointOf[v]], -1 / length(outward) * outward};
                walls[v] = static_cast<float>(field.at(start, !isHole));
            }
        }
    }
    return walls;
}

double wallAt(const design::Design& design, design::Stage stage, Tag tag, const Vec3& place,
              const Vec3& outward) {
    WallField field(design, stage);
    const bool isHole = isHoleWall(tag.feature);
    if (const auto start = field.onTurned(tag, place); start && !isHole) return field.at(*start, true);
    // A place on the chord of a hole's wall lies before the metal, where the wall itself would stop the ball.
    const Vec3 inward = -1 / length(outward) * outward;
    return field.at({place + kBehindChords * inward, inward}, !isHole);
}

}  // namespace bandwright::geometry
