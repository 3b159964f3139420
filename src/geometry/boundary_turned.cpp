#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <stdexcept>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "boundary_build.hpp"
#include "hole_clusters.hpp"
#include "hole_cut.hpp"
#include "ring_layout.hpp"

namespace bandwright::geometry {

namespace {

/// Lines that rise or fall by less, in mm, count as level or upright; their ends still lie on the surface.
constexpr double kLevel = 1e-10;

/// Holes nearer to each other than this, in mm, are refused, as in the meshes; points of their curves are
/// compared.
constexpr double kChord = 0.01;

/// Points per curve for telling what lies in what.
constexpr int kPlaces = 32;

Vec3 turned(const Vec3& p, double angle) {
    const double c = std::cos(angle);
    const double s = std::sin(angle);
    return {c * p.x - s * p.y, s * p.x + c * p.y, p.z};
}

/// The arc through exactly its ends: clearing a section of films may have moved a corner off it.
Segment seated(Segment s) {
    if (!s.isArc()) return s;
    const Vec2 half = 0.5 * (s.to - s.from);
    const double h = length(half);
    if (h == 0) return s;
    const Vec2 middle = 0.5 * (s.from + s.to);
    const Vec2 across = (1 / h) * Vec2{-half.r, half.z};
    const double off = std::sqrt(std::max(0.0, (s.radius - h) * (s.radius + h)));
    s.centre = middle + std::copysign(off, dot(s.centre - middle, across)) * across;
    s.radius = std::max(s.radius, h);
    return s;
}

/// The surface that a segment of the section leaves when it is turned about the z axis.
FaceSurface surfaceOf(const Segment& s) {
    FaceSurface surface;
    if (s.isArc()) {
        surface.place.origin = {0, 0, s.centre.z};
        surface.radius = s.radius;
        surface.major = s.centre.r;
        surface.kind = std::abs(s.centre.r) > 1e-12 * s.radius ? SurfaceKind::Torus : SurfaceKind::Sphere;
        return surface;
    }
    const Vec2 way = s.to - s.from;
    const Vec2 middle = 0.5 * (s.from + s.to);
    if (std::abs(way.z) <= kLevel) {
        surface.place = {{0, 0, middle.z}, {0, 0, way.r > 0 ? 1.0 : -1.0}, {1, 0, 0}};
        surface.kind = SurfaceKind::Plane;
        return surface;
    }
    surface.place.origin = {0, 0, s.from.z};
    surface.radius = s.from.r;
    if (std::abs(way.r) <= kLevel) {
        surface.kind = SurfaceKind::Cylinder;
        surface.radius = middle.r;
        return surface;
    }
    surface.kind = SurfaceKind::Cone;
    surface.slope = way.r / way.z;
    if (surface.slope < 0) surface.place.axis.z = -1;
    surface.slope = std::abs(surface.slope);
    return surface;
}

/// The material lies on the left of the segment.
bool isReversed(const Segment& s, SurfaceKind kind) {
    if (kind == SurfaceKind::Plane) return false;
    return s.isArc() ? !s.ccw : s.to.z > s.from.z;
}

/// The frame of a hole: its axis outwards, x round the band; angles about it turn towards the ring's own
/// axis.
AxisPlacement holePlace(double angle, double x, double offset) {
    const Vec3 out{std::cos(angle), std::sin(angle), 0};
    return {{x * out.x, x * out.y, offset}, out, {-out.y, out.x, 0}};
}

FaceSurface surfaceOf(const HolePiece& piece, double angle, double offset) {
    FaceSurface surface;
    surface.place = holePlace(angle, piece.x0, offset);
    if (piece.isFlat()) return surface;
    surface.radius = piece.radius0;
    surface.kind = piece.isCylinder() ? SurfaceKind::Cylinder : SurfaceKind::Cone;
    surface.slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
    return surface;
}

/// How far beyond the end of a stretch, in shares, the hole's curve along it would come to a tip, as the
/// square of its distance from the plane of both axes falls; at most the stretch's own length. `inwards` is
/// that length, positive from its beginning and negative from its end.
double shareToTip(const Segment& s, const HolePiece& piece, double offset, double end, double inwards) {
    constexpr double kStep = 1e-4;
    const auto square = [&](double share) {
        const double y = pointOnPiece(piece, offset, pointAt(s, share)).y;
        return y * y;
    };
    const double here = square(end);
    const double rise = (square(end + kStep * inwards) - here) / kStep;
    const double most = std::abs(inwards);
    return rise > here ? here / rise * most : most;
}

/// The share of the segment's length at a parameter of the curve. At a tip the curve runs off like a square
/// root, along this it does not: the cosine of an angle, between the tips.
double shareOn(const MouthCurve& mouth, double t) {
    const double whole = mouth.tipBefore + mouth.to - mouth.from + mouth.tipBeyond;
    const double first = std::asin(std::sqrt(mouth.tipBefore / whole));
    const double last = std::acos(std::sqrt(mouth.tipBeyond / whole));
    const double sine = std::sin(first + t * (last - first));
    return std::clamp(mouth.from + whole * sine * sine - mouth.tipBefore, mouth.from, mouth.to);
}

class TurnedBuilder {
  public:
    TurnedBuilder(const Section& section, std::span<const HoleRow> rows) : section_(section) {
        for (Loop& loop : section_) {
            for (Segment& s : loop)
                s = seated(s);
        }
        if (!rows.empty()) cutHoles(rows);
    }

    Boundary run() {
        for (const Loop& loop : section_) {
            const std::size_t first = corners_.size();
            for (const Segment& s : loop)
                addCorner(s.from);
            for (std::size_t j = 0; j < loop.size(); ++j)
                addSegment(loop[j], corners_[first + j], corners_[first + (j + 1) % loop.size()]);
        }
        for (Hole& hole : holes_)
            addWalls(hole);
        findShells(body_);
        return std::move(body_);
    }

  private:
    /// Vertices at the same place on both sides of a hole's axis round the band; one where they meet.
    struct Pair {
        std::uint32_t before = 0, after = 0;
    };

    /// A circle between two pieces of a hole passes a vertex there.
    struct Stop {
        double angle;
        std::uint32_t vertex;
    };

    struct Hole {
        const HoleProfile* profile;
        double angle;
        std::vector<std::vector<Stop>> stops;      ///< for each joint
        std::vector<std::vector<StripUse>> walls;  ///< for each piece
    };

    struct Arc {
        std::uint32_t edge;
        double start, sweep;
    };

    /// A corner of the section, with what holes leave of its circle.
    struct Corner {
        Vec2 place;
        std::vector<Arc> arcs;
        std::vector<std::optional<Pair>> cuts;  ///< for each hole
    };

    void cutHoles(std::span<const HoleRow> rows) {
        const SectionRows points = rowsOf(section_, kChord / 2);
        std::vector<HoleCut> cuts;
        for (const HoleRow& row : rows) {
            CutRow cut = cutApart(section_, points, row.profile, kChord);
            if (cut.cut.touches())
                body_.larger =
                    std::max(body_.larger, row.profile.pieces.back().x1 - cut.profile.pieces.back().x1);
            profiles_.push_back(std::move(cut.profile));
            cuts.push_back(std::move(cut.cut));
        }
        std::vector<SectorHole> placed;
        for (std::size_t i = 0; i < rows.size(); ++i) {
            if (!cuts[i].touches()) continue;
            const std::size_t pieces = profiles_[i].pieces.size();
            for (const double angle : rows[i].angles) {
                placed.push_back({&profiles_[i], &cuts[i], angle});
                holes_.push_back({&profiles_[i], angle, std::vector<std::vector<Stop>>(pieces),
                                  std::vector<std::vector<StripUse>>(pieces)});
            }
        }
        requireApart(placed, kChord, 0);
        findQuiet(clustersOf(rows, cuts));
    }

    /// Circles that no hole meets have their vertex in the middle of the widest gap between holes.
    void findQuiet(const std::vector<HoleCluster>& clusters) {
        double widest = 0;
        for (std::size_t i = 0; i < clusters.size(); ++i) {
            const double next = i + 1 < clusters.size() ? clusters[i + 1].from : clusters[0].from + kTurn;
            if (next - clusters[i].to <= widest) continue;
            widest = next - clusters[i].to;
            quiet_ = positive(clusters[i].to + widest / 2);
        }
    }

    std::uint32_t addVertex(const Vec3& p) {
        body_.vertices.push_back(p);
        return static_cast<std::uint32_t>(body_.vertices.size() - 1);
    }

    Pair addPair(const Vec3& p, double angle) {
        if (p.y == 0) {
            const std::uint32_t vertex = addVertex(turned(p, angle));
            return {vertex, vertex};
        }
        return {addVertex(turned({p.x, -p.y, p.z}, angle)), addVertex(turned(p, angle))};
    }

    std::uint32_t addEdge(std::uint32_t from, std::uint32_t to, const EdgeCurve& curve) {
        body_.edges.push_back({from, to, curve});
        return static_cast<std::uint32_t>(body_.edges.size() - 1);
    }

    void addCorner(Vec2 place) {
        Corner& corner = corners_.emplace_back(Corner{place, {}, {}});
        corner.cuts.resize(holes_.size());
        struct Gap {
            double from, to;
            Pair pair;
        };
        std::vector<Gap> gaps;
        for (std::size_t h = 0; h < holes_.size(); ++h) {
            const Hole& hole = holes_[h];
            const auto piece = pieceAt(*hole.profile, place);
            if (!piece) continue;
            const Vec3 p = pointOnPiece(hole.profile->pieces[*piece], hole.profile->offset, place);
            const double half = std::atan2(p.y, p.x);
            const double from = positive(hole.angle - half);
            gaps.push_back({from, from + 2 * half, addPair(p, hole.angle)});
            corner.cuts[h] = gaps.back().pair;
        }
        std::sort(gaps.begin(), gaps.end(), [](const Gap& a, const Gap& b) { return a.from < b.from; });
        const auto arc = [&](double start, double sweep) {
            return EdgeCurve{.kind = CurveKind::Circle,
                             .place = {{0, 0, place.z}, {0, 0, 1}, {std::cos(start), std::sin(start), 0}},
                             .radius = place.r,
                             .sweep = sweep,
                             .mouth = {}};
        };
        if (gaps.empty()) {
            const std::uint32_t vertex = addVertex(turned({place.r, 0, place.z}, quiet_));
            corner.arcs.push_back({addEdge(vertex, vertex, arc(quiet_, kTurn)), quiet_, kTurn});
        }
        for (std::size_t i = 0; i < gaps.size(); ++i) {
            const bool last = i + 1 == gaps.size();
            const Gap& next = gaps[last ? 0 : i + 1];
            const double start = gaps[i].to;
            const double sweep = next.from + (last ? kTurn : 0) - start;
            if (sweep <= 0) throw std::logic_error("holes that were found apart meet");
            corner.arcs.push_back(
                {addEdge(gaps[i].pair.after, next.pair.before, arc(start, sweep)), start, sweep});
        }
    }

    /// Places along an edge at equal shares of its parameter, without the end; backwards when not `forward`.
    template <class At>
    static std::vector<StripPlace> placesAlong(bool forward, const At& at) {
        std::vector<StripPlace> places;
        places.reserve(kPlaces);
        for (int k = 0; k < kPlaces; ++k)
            places.push_back(at(static_cast<double>(forward ? k : kPlaces - k) / kPlaces));
        return places;
    }

    static void addArcs(Strip& strip, const Corner& corner, bool end) {
        for (const Arc& arc : corner.arcs) {
            strip.uses.push_back({{arc.edge, end}, placesAlong(end, [&](double t) {
                                      return StripPlace{end ? 1.0 : 0.0, arc.start + t * arc.sweep};
                                  })});
        }
    }

    void addSegment(const Segment& s, const Corner& start, const Corner& end) {
        Strip strip{.surface = surfaceOf(s), .tag = s.tag};
        strip.reversed = isReversed(s, strip.surface.kind);
        strip.widens = s.to.r > s.from.r;
        addArcs(strip, start, false);
        addArcs(strip, end, true);
        for (std::size_t h = 0; h < holes_.size(); ++h)
            addMouth(strip, s, h, start.cuts[h], end.cuts[h]);
        addFaces(body_, strip);
    }

    /// The curves along which one hole's wall crosses one segment's surface.
    void addMouth(Strip& strip, const Segment& s, std::size_t h, const std::optional<Pair>& start,
                  const std::optional<Pair>& end) {
        Hole& hole = holes_[h];
        const HoleProfile& profile = *hole.profile;
        if (isBeside(rectangleRound(s), profile)) return;
        std::vector<HoleEvent> events = holeEvents({&s, {0, 1}, {0, 1}}, profile).list;
        std::erase_if(events, [](const HoleEvent& e) { return e.kind == HoleEvent::Turn; });
        Pair from;
        bool open = false;
        for (std::size_t i = 0; i + 1 < events.size(); ++i) {
            const HoleEvent& a = events[i];
            const HoleEvent& b = events[i + 1];
            const auto piece = pieceAt(profile, pointAt(s, (a.share + b.share) / 2));
            if (!piece) {
                open = false;
                continue;
            }
            const auto vertices = [&](const HoleEvent& e) {
                if (e.kind != HoleEvent::Row) return pairAt(hole, e);
                const std::optional<Pair>& corner = e.number == 0 ? start : end;
                if (!corner) throw std::logic_error("a corner of the section lies on a hole");
                return *corner;
            };
            if (!open) from = vertices(a);
            open = true;
            const Pair to = vertices(b);
            MouthCurve mouth{.segment = s,
                             .piece = profile.pieces[*piece],
                             .offset = profile.offset,
                             .angle = hole.angle,
                             .from = a.share,
                             .to = b.share};
            const double length = b.share - a.share;
            if (a.kind != HoleEvent::Tip)
                mouth.tipBefore = shareToTip(s, mouth.piece, mouth.offset, a.share, length);
            if (b.kind != HoleEvent::Tip)
                mouth.tipBeyond = shareToTip(s, mouth.piece, mouth.offset, b.share, -length);
            addSides(strip, hole.walls[*piece], mouth, from, to);
            from = to;
        }
    }

    /// Vertices where the curve of a hole meets its mirror image or passes to another piece of the wall.
    Pair pairAt(Hole& hole, const HoleEvent& event) {
        if (event.kind == HoleEvent::Tip) return addPair({event.place.r, 0, event.place.z}, hole.angle);
        const HolePiece& lower = hole.profile->pieces[event.number];
        const double zeta = event.place.z - hole.profile->offset;
        const double y = std::sqrt(std::max(0.0, lower.radius1 * lower.radius1 - zeta * zeta));
        const Pair pair = addPair({lower.x1, y, event.place.z}, hole.angle);
        hole.stops[event.number].push_back({std::atan2(zeta, y), pair.after});
        hole.stops[event.number].push_back({positive(std::atan2(zeta, -y)), pair.before});
        return pair;
    }

    void addSides(Strip& strip, std::vector<StripUse>& wall, MouthCurve mouth, const Pair& from,
                  const Pair& to) {
        const Segment& s = mouth.segment;
        // There the surfaces cross in a line.
        const bool straight = !s.isArc() && ((mouth.piece.isCylinder() && s.from.z == s.to.z) ||
                                             (mouth.piece.isFlat() && s.from.r == s.to.r));
        for (const bool after : {false, true}) {
            mouth.after = after;
            EdgeCurve curve{
                .kind = straight ? CurveKind::Line : CurveKind::Intersection, .place = {}, .mouth = mouth};
            const std::uint32_t edge =
                addEdge(after ? from.after : from.before, after ? to.after : to.before, curve);
            // Off the hole on the larger side the surface lies above the curve along the segment.
            strip.uses.push_back(
                {{edge, after}, placesAlong(after, [&](double t) {
                     const Vec3 p = onMouth(mouth, t);
                     return StripPlace{shareOn(mouth, t), mouth.angle + std::atan2(p.y, p.x)};
                 })});
            wall.push_back({{edge, !after}, placesAlong(!after, [&](double t) {
                                const Vec3 p = onMouth(mouth, t);
                                const double zeta = p.z - mouth.offset;
                                return StripPlace{mouth.piece.isFlat() ? std::hypot(p.y, zeta) : p.x,
                                                  std::atan2(zeta, p.y)};
                            })});
        }
    }

    void addWalls(Hole& hole) {
        const std::vector<HolePiece>& pieces = hole.profile->pieces;
        for (std::size_t joint = 0; joint + 1 < pieces.size(); ++joint)
            addJoint(hole, joint);
        for (std::size_t i = 0; i < pieces.size(); ++i) {
            const bool flat = pieces[i].isFlat();
            addFaces(body_, {.surface = surfaceOf(pieces[i], hole.angle, hole.profile->offset),
                             .reversed = !flat,
                             .tag = pieces[i].tag,
                             .widens = true,
                             .reachesAxis = pieces[i].radius0 == 0,
                             .uses = std::move(hole.walls[i])});
        }
    }

    /// The stretches of the circle between two pieces of a hole's wall that lie in the material.
    void addJoint(Hole& hole, std::size_t joint) {
        const HolePiece& lower = hole.profile->pieces[joint];
        const double offset = hole.profile->offset;
        std::vector<Stop>& stops = hole.stops[joint];
        const auto isInside = [&](double angle) {
            const double y = lower.radius1 * std::cos(angle);
            const double z = offset + lower.radius1 * std::sin(angle);
            return contains(section_, {z, std::hypot(lower.x1, y)});
        };
        if (stops.empty()) {
            if (!isInside(0)) return;
            const std::uint32_t vertex = addVertex(turned({lower.x1, 0, offset + lower.radius1}, hole.angle));
            addJointArc(hole, joint, {kQuarter, vertex}, {kQuarter + kTurn, vertex});
            return;
        }
        for (Stop& stop : stops)
            stop.angle = positive(stop.angle);
        std::sort(stops.begin(), stops.end(), [](const Stop& a, const Stop& b) { return a.angle < b.angle; });
        stops.push_back({stops.front().angle + kTurn, stops.front().vertex});
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            if (isInside((stops[i].angle + stops[i + 1].angle) / 2))
                addJointArc(hole, joint, stops[i], stops[i + 1]);
        }
    }

    void addJointArc(Hole& hole, std::size_t joint, const Stop& from, const Stop& to) {
        const HolePiece& lower = hole.profile->pieces[joint];
        const HolePiece& upper = hole.profile->pieces[joint + 1];
        EdgeCurve curve{.kind = CurveKind::Circle,
                        .place = holePlace(hole.angle, lower.x1, hole.profile->offset),
                        .radius = lower.radius1,
                        .sweep = to.angle - from.angle,
                        .mouth = {}};
        curve.place.x = std::cos(from.angle) * curve.place.x + std::sin(from.angle) * Vec3{0, 0, 1};
        const std::uint32_t edge = addEdge(from.vertex, to.vertex, curve);
        const auto use = [&](bool forward, double along) {
            return StripUse{{edge, forward}, placesAlong(forward, [&](double t) {
                                return StripPlace{along, from.angle + t * (to.angle - from.angle)};
                            })};
        };
        hole.walls[joint].push_back(use(true, lower.isFlat() ? lower.radius1 : lower.x1));
        hole.walls[joint + 1].push_back(use(false, upper.isFlat() ? upper.radius0 : upper.x0));
    }

    Section section_;
    Boundary body_;
    double quiet_ = 0;
    std::vector<HoleProfile> profiles_;
    std::vector<Hole> holes_;
    std::vector<Corner> corners_;
};

}  // namespace

Vec3 onMouth(const MouthCurve& mouth, double t) {
    Vec3 p = pointOnPiece(mouth.piece, mouth.offset, pointAt(mouth.segment, shareOn(mouth, t)));
    if (!mouth.after) p.y = -p.y;
    return p;
}

Boundary turnedBoundary(const Section& section, std::span<const HoleRow> holes) {
    return TurnedBuilder(section, holes).run();
}

}  // namespace bandwright::geometry
