#include "hole_cut.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "triangulate.hpp"

namespace bandwright::geometry {

namespace {

/// A place of the grid nearer than this share of a step to another point is left out.
constexpr double kClear = 0.1;
constexpr double kGap = 1 + 2 * kClear;

/// A point of the wall in a piece's own flat coordinates.
struct Unrolled {
    double u, v;
};

/// A place on one of the lines where the plane of mirroring cuts the wall.
struct ColumnStop {
    double along;
    std::uint32_t point;
};

/// The curve of a joint between two pieces passes a point of the cut there.
struct JointStop {
    double angle;
    std::uint32_t point;
};

class Cutter {
  public:
    Cutter(const Section& section, const SectionRows& rows, const HoleProfile& hole, double sagitta)
        : section_(section), rows_(rows), hole_(hole), sagitta_(sagitta) {
        double outermost = 0;
        for (const Vec2& p : rows.points)
            outermost = std::max(outermost, p.r);
        ringStepTangent_ = std::tan(stepFor(outermost, sagitta));
        double widest = 0;
        for (const HolePiece& piece : hole.pieces) {
            if (piece.x0 < outermost) widest = std::max(widest, widestWithin(piece, outermost));
        }
        // Slightly finer than asked: places of the grid too near to another point are left out, so a chord
        // may span more than one step.
        const int quarter = static_cast<int>(std::ceil(kQuarter / stepFor(widest, sagitta / (kGap * kGap))));
        step_ = kQuarter / quarter;
        steps_ = 2 * quarter;
        cut_.pointOfRow.assign(rows.points.size(), -1);
        cut_.points.reserve(256);
        columns_.resize(2 * hole.pieces.size());
        joints_.resize(hole.pieces.size());
        edges_.resize(hole.pieces.size());
    }

    std::optional<HoleCut> run() {
        for (const RowedSegment& segment : rows_.segments) {
            const HoleEvents events = holeEvents(segment, hole_);
            if (!events.apart) return std::nullopt;
            cut_.curves.push_back(followSegment(segment, events.list));
        }
        if (!cut_.touches()) return std::move(cut_);
        for (std::size_t joint = 0; joint + 1 < hole_.pieces.size(); ++joint)
            followJoint(joint);
        cut_.walls.resize(hole_.pieces.size());
        for (std::size_t piece = 0; piece < hole_.pieces.size(); ++piece) {
            followColumns(piece);
            fillWall(piece);
        }
        std::sort(cut_.chords.begin(), cut_.chords.end());
        // The bottom of a blind hole takes a wider angle than its mouth.
        Vec3 farthest{1, 0, 0};
        for (const Vec3& p : cut_.points) {
            if (p.y * farthest.x > farthest.y * p.x) farthest = p;
        }
        cut_.halfAngle = std::atan2(farthest.y, farthest.x);
        return std::move(cut_);
    }

  private:
    std::uint32_t addPoint(const Vec3& p) {
        cut_.points.push_back(p);
        return static_cast<std::uint32_t>(cut_.points.size() - 1);
    }

    /// The largest radius of a piece below a height.
    static double widestWithin(const HolePiece& piece, double height) {
        if (piece.x1 <= height || piece.isCylinder()) return piece.radius1;
        const double share = (height - piece.x0) / (piece.x1 - piece.x0);
        return piece.radius0 + share * (piece.radius1 - piece.radius0);
    }

    double gridAngle(int k) const { return k * step_ - kQuarter; }

    std::uint32_t pointAtEvent(const RowedSegment& segment, const HoleEvent& event, std::size_t piece) {
        if (event.kind == HoleEvent::Row) {
            int& point = cut_.pointOfRow[segment.rows[event.number]];
            if (point < 0)
                point =
                    static_cast<int>(addPoint(pointOnPiece(hole_.pieces[piece], hole_.offset, event.place)));
            return static_cast<std::uint32_t>(point);
        }
        if (event.kind == HoleEvent::Tip) {
            const HolePiece& wall = hole_.pieces[event.number];
            const double zeta = event.place.z - hole_.offset;
            const std::uint32_t point = addPoint({event.place.r, 0, event.place.z});
            const double along = wall.isFlat() ? std::abs(zeta) : event.place.r;
            columns_[2 * event.number + (zeta > 0 ? 1 : 0)].push_back({along, point});
            return point;
        }
        if (event.kind == HoleEvent::Joint) {
            const HolePiece& lower = hole_.pieces[event.number];
            const double zeta = event.place.z - hole_.offset;
            const double y = std::sqrt(std::max(0.0, lower.radius1 * lower.radius1 - zeta * zeta));
            const std::uint32_t point = addPoint({lower.x1, y, event.place.z});
            joints_[event.number].push_back({std::atan2(zeta, y), point});
            return point;
        }
        return addPoint(pointOnPiece(hole_.pieces[piece], hole_.offset, event.place));
    }

    std::vector<HoleCurve> followSegment(const RowedSegment& segment, const std::vector<HoleEvent>& events) {
        std::vector<HoleCurve> curves;
        bool open = false;
        for (std::size_t i = 0; i + 1 < events.size(); ++i) {
            const HoleEvent& from = events[i];
            const HoleEvent& to = events[i + 1];
            const Vec2 middle = pointAt(*segment.segment, (from.share + to.share) / 2);
            const auto piece = pieceAt(hole_, middle);
            if (!piece) {
                open = false;
                continue;
            }
            if (!open) {
                constexpr std::size_t kUsual = 32;
                curves.emplace_back();
                curves.back().shares.reserve(kUsual);
                curves.back().points.reserve(kUsual);
                curves.back().shares.push_back(from.share);
                curves.back().points.push_back(pointAtEvent(segment, from, *piece));
                open = true;
            }
            HoleCurve& curve = curves.back();
            const std::uint32_t start = curve.points.back();
            const std::size_t before = curve.points.size();
            const Stretch stretch{*segment.segment, hole_.pieces[*piece]};
            sample(stretch, from, to, curve);
            if (from.kind == HoleEvent::Tip && to.kind == HoleEvent::Tip && curve.points.size() == before) {
                // An opening is never a line, however small.
                append(stretch, (from.share + to.share) / 2, curve);
            }
            append(stretch, to.share, pointAtEvent(segment, to, *piece), curve);
            curve.pieces.resize(curve.points.size() - 1, static_cast<std::uint8_t>(*piece));
            addEdges(*piece, curve, start);
        }
        return curves;
    }

    /// The wall's share of the new stretch of a curve; the wall lies on the left of the segment's direction.
    void addEdges(std::size_t piece, const HoleCurve& curve, std::uint32_t start) {
        std::size_t i = curve.points.size() - 1;
        while (curve.points[i] != start)
            --i;
        for (; i + 1 < curve.points.size(); ++i)
            edges_[piece].push_back({curve.points[i], curve.points[i + 1]});
    }

    /// A segment and the piece of the hole's wall that crosses its surface.
    struct Stretch {
        const Segment& segment;
        const HolePiece& piece;
    };

    Vec3 onCurve(const Stretch& stretch, double share) const {
        return pointOnPiece(stretch.piece, hole_.offset, pointAt(stretch.segment, share));
    }

    void append(const Stretch& stretch, double share, HoleCurve& curve) {
        append(stretch, share, addPoint(onCurve(stretch, share)), curve);
    }

    /// Adds a point to a curve, and points between it and the one before when they stand far apart round the
    /// ring: the curve may be straight there, but in the unrolled surface it is not.
    void append(const Stretch& stretch, double share, std::uint32_t point, HoleCurve& curve) {
        constexpr double kLeastStretch = 1e-6;
        const double before = curve.shares.back();
        if (share - before > kLeastStretch &&
            areWideApart(cut_.points[point], cut_.points[curve.points.back()])) {
            append(stretch, (before + share) / 2, curve);
            append(stretch, share, point, curve);
            return;
        }
        curve.shares.push_back(share);
        curve.points.push_back(point);
    }

    /// Round the ring.
    bool areWideApart(const Vec3& p, const Vec3& q) const {
        const double along = p.x * q.x + p.y * q.y;
        const double across = std::abs(p.x * q.y - p.y * q.x);
        return across > ringStepTangent_ * along;
    }

    /// Points between two events, ends left out.
    void sample(const Stretch& stretch, const HoleEvent& from, const HoleEvent& to, HoleCurve& curve) {
        if (stretch.piece.isCylinder()) {
            sampleCylinder(stretch, from, to, curve);
        } else {
            const auto at = [&](const HoleEvent& e) {
                return e.kind == HoleEvent::Tip ? Vec3{e.place.r, 0, e.place.z} : onCurve(stretch, e.share);
            };
            refine(stretch, from.share, to.share, {0, at(from)}, {kQuarter * 2, at(to)}, 0, curve);
        }
    }

    /// Places of the common grid of angles, so that the points of a wall's two ends lie above each other.
    void sampleCylinder(const Stretch& stretch, const HoleEvent& from, const HoleEvent& to,
                        HoleCurve& curve) {
        const double radius = stretch.piece.radius0;
        const auto angleAt = [&](const HoleEvent& e) {
            return std::asin(std::clamp((e.place.z - hole_.offset) / radius, -1.0, 1.0));
        };
        const double a = angleAt(from) / step_;
        const double b = angleAt(to) / step_;
        const int direction = b > a ? 1 : -1;
        const double middle = (from.share + to.share) / 2;
        for (int k = static_cast<int>(direction > 0 ? std::ceil(a + kClear) : std::floor(a - kClear));
             direction > 0 ? k < b - kClear : k > b + kClear; k += direction) {
            const double z = hole_.offset + radius * std::sin(k * step_);
            const Vec2 p = placeAtZ(stretch.segment, z, middle);
            const std::uint32_t point = addPoint(pointOnPiece(stretch.piece, hole_.offset, p));
            append(stretch, shareAt(stretch.segment, p), point, curve);
        }
    }

    /// The place on a stretch of a segment along which z only rises or only falls, `within` being a share
    /// inside it.
    static Vec2 placeAtZ(const Segment& s, double z, double within) {
        if (!s.isArc()) {
            const double share = (z - s.from.z) / (s.to.z - s.from.z);
            return {z, s.from.r + share * (s.to.r - s.from.r)};
        }
        const double run = z - s.centre.z;
        const double rise = std::sqrt(std::max(0.0, s.radius * s.radius - run * run));
        return {z, pointAt(s, within).r > s.centre.r ? s.centre.r + rise : s.centre.r - rise};
    }

    struct Stop {
        double angle;
        Vec3 point;
    };

    /// Whether chords on a cone that reach as far round it as from one point to the other would stand off it
    /// by more than they may; a point near the cone's own may be far from its neighbours.
    bool isWide(const HolePiece& piece, const Vec3& a, const Vec3& b) const {
        if (piece.isFlat()) return false;
        const Vec2 p{a.z - hole_.offset, a.y};
        const Vec2 q{b.z - hole_.offset, b.y};
        const double angle = std::abs(std::atan2(p.z, p.r) - std::atan2(q.z, q.r));
        const double radius = std::max(length(p), length(q));
        return angle > step_ && radius * (1 - std::cos(angle)) > 0.8 * sagitta_;
    }

    /// Halves a stretch until its chord is near enough. Places are spaced by the cosine of an angle: near
    /// a tip the curve runs off like a square root.
    void refine(const Stretch& stretch, double from, double to, const Stop& a, const Stop& b, int depth,
                HoleCurve& curve) {
        constexpr int kLeastDepth = 1;
        constexpr int kMostDepth = 12;
        if (depth == kMostDepth) return;
        const double angle = (a.angle + b.angle) / 2;
        const double share = from + (to - from) * (1 - std::cos(angle)) / 2;
        const Stop middle{angle, onCurve(stretch, share)};
        const Vec3 chord = b.point - a.point;
        const double off = length(cross(chord, middle.point - a.point)) / std::max(length(chord), 1e-12);
        const bool wide = isWide(stretch.piece, a.point, b.point);
        if (depth >= kLeastDepth && off < 0.8 * sagitta_ && !wide) return;
        if (length(middle.point - a.point) < kFilm || length(middle.point - b.point) < kFilm) return;
        refine(stretch, from, to, a, middle, depth + 1, curve);
        if (off >= 0.1 * sagitta_ || wide) append(stretch, share, addPoint(middle.point), curve);
        refine(stretch, from, to, middle, b, depth + 1, curve);
    }

    bool inMaterial(Vec2 p) const { return contains(section_, p); }

    /// The stretches of the circle between two pieces that lie inside the material.
    void followJoint(std::size_t joint) {
        const HolePiece& lower = hole_.pieces[joint];
        const double radius = lower.radius1;
        const double x = lower.x1;
        std::vector<JointStop>& stops = joints_[joint];
        stops.push_back({-kQuarter, kNoPoint});
        stops.push_back({kQuarter, kNoPoint});
        std::sort(stops.begin(), stops.end(),
                  [](const JointStop& a, const JointStop& b) { return a.angle < b.angle; });
        const auto onCircle = [&](double angle) {
            return Vec3{x, radius * std::cos(angle), hole_.offset + radius * std::sin(angle)};
        };
        for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
            const Vec3 middle = onCircle((stops[i].angle + stops[i + 1].angle) / 2);
            if (!inMaterial({middle.z, std::hypot(middle.x, middle.y)})) continue;
            std::uint32_t before = cornerOr(stops[i], joint);
            const int first = static_cast<int>(std::ceil(stops[i].angle / step_ + kClear));
            for (int k = first; k < stops[i + 1].angle / step_ - kClear; ++k) {
                const std::uint32_t point = addPoint(onCircle(k * step_));
                addJointEdge(joint, before, point);
                before = point;
            }
            addJointEdge(joint, before, cornerOr(stops[i + 1], joint));
        }
    }

    /// The stop's point; at the ends of the half circle it is made when first needed.
    std::uint32_t cornerOr(JointStop& stop, std::size_t joint) {
        if (stop.point != kNoPoint) return stop.point;
        const HolePiece& lower = hole_.pieces[joint];
        const HolePiece& upper = hole_.pieces[joint + 1];
        const double side = stop.angle > 0 ? 1 : -1;
        stop.point = addPoint({lower.x1, 0, hole_.offset + side * lower.radius1});
        const std::size_t column = stop.angle > 0 ? 1 : 0;
        columns_[2 * joint + column].push_back({lower.isFlat() ? lower.radius1 : lower.x1, stop.point});
        columns_[2 * (joint + 1) + column].push_back({upper.isFlat() ? upper.radius0 : upper.x0, stop.point});
        return stop.point;
    }

    void addJointEdge(std::size_t joint, std::uint32_t from, std::uint32_t to) {
        edges_[joint].push_back({to, from});
        edges_[joint + 1].push_back({from, to});
    }

    /// The stretches of the piece's two lines in the plane of mirroring that lie inside the material.
    void followColumns(std::size_t number) {
        const HolePiece& piece = hole_.pieces[number];
        for (const int side : {0, 1}) {
            std::vector<ColumnStop>& stops = columns_[2 * number + static_cast<std::size_t>(side)];
            if (number == 0 && piece.radius0 == 0) {
                const double sign = side == 1 ? 1 : -1;
                const double along = piece.isFlat() ? 0 : piece.x0;
                // Just beside the point of the hole: does it lie in the material?
                const double a = 1e-9;
                const Vec2 p{hole_.offset + sign * a * piece.radius1, piece.x0 + a * (piece.x1 - piece.x0)};
                if (inMaterial(p)) {
                    if (apex_ == kNoPoint) apex_ = addPoint({piece.x0, 0, hole_.offset});
                    stops.push_back({along, apex_});
                }
            }
            std::sort(stops.begin(), stops.end(),
                      [](const ColumnStop& a, const ColumnStop& b) { return a.along < b.along; });
            for (std::size_t i = 0; i + 1 < stops.size(); ++i) {
                const Vec3 middle = 0.5 * (cut_.points[stops[i].point] + cut_.points[stops[i + 1].point]);
                if (!inMaterial({middle.z, middle.x})) continue;
                if (side == 1) {
                    columnEdges_.push_back({stops[i].point, stops[i + 1].point});
                } else {
                    columnEdges_.push_back({stops[i + 1].point, stops[i].point});
                }
            }
        }
    }

    Unrolled unrolled(const HolePiece& piece, const Vec3& p) const {
        // To a grid finer than a picometre, so that what lies on a line of the grid does so to the bit.
        const auto snapped = [](double x) { return std::round(x * 0x1p40) * 0x1p-40; };
        const double zeta = p.z - hole_.offset;
        if (piece.isFlat()) return {snapped(zeta), snapped(p.y)};
        return {snapped(std::atan2(zeta, p.y) * piece.radius1), snapped(p.x)};
    }

    void fillWall(std::size_t number) {
        const HolePiece& piece = hole_.pieces[number];
        std::vector<std::array<std::uint32_t, 2>> edges = std::move(edges_[number]);
        edges.insert(edges.end(), columnEdges_.begin(), columnEdges_.end());
        columnEdges_.clear();
        if (edges.empty()) return;
        PlaneRegion region;
        region.vertices.reserve(edges.size());
        std::vector<std::uint32_t> pointOf;
        pointOf.reserve(edges.size());
        std::vector<std::uint32_t> vertexOf(cut_.points.size(), kNoPoint);
        const bool pointed = number == 0 && apex_ != kNoPoint && !piece.isFlat();
        const auto vertex = [&](std::uint32_t point) {
            if (vertexOf[point] == kNoPoint) {
                const Unrolled at = unrolled(piece, cut_.points[point]);
                vertexOf[point] = region.add(at.u, at.v);
                pointOf.push_back(point);
            }
            return vertexOf[point];
        };
        if (pointed) {
            // Unrolled, the point of a cone is a line: its vertices all stand for the one point.
            std::array<std::uint32_t, 2> ends{};
            std::uint32_t before = 0;
            for (int k = 0; k <= steps_; ++k) {
                const std::uint32_t v =
                    region.add(std::round(gridAngle(k) * piece.radius1 * 0x1p40) * 0x1p-40, piece.x0);
                pointOf.push_back(apex_);
                if (k > 0) region.join(before, v);
                if (k == 0) ends[0] = v;
                ends[1] = before = v;
            }
            for (const auto& [from, to] : edges) {
                if (from == apex_) {
                    region.join(ends[1], vertex(to));
                } else if (to == apex_) {
                    region.join(vertex(from), ends[0]);
                } else {
                    region.join(vertex(from), vertex(to));
                }
            }
        } else {
            for (const auto& [from, to] : edges) {
                const std::uint32_t a = vertex(from);
                region.join(a, vertex(to));
            }
        }
        const double widest =
            piece.isFlat() ? std::numeric_limits<double>::infinity() : kGap * step_ * piece.radius1;
        std::vector<std::array<std::uint32_t, 3>> triangles;
        triangulate(region, triangles);
        widenAngles(region, widest, triangles);
        for (const auto& t : triangles) {
            const std::array<std::uint32_t, 3> points = {pointOf[t[0]], pointOf[t[2]], pointOf[t[1]]};
            if (points[0] == points[1] || points[1] == points[2] || points[2] == points[0]) continue;
            cut_.walls[number].push_back(points);
            for (std::size_t k = 0; k < 3; ++k) {
                const std::uint32_t a = points[k];
                const std::uint32_t b = points[(k + 1) % 3];
                cut_.chords.push_back(chord(a, b));
            }
        }
    }

    const Section& section_;
    const SectionRows& rows_;
    const HoleProfile& hole_;
    double sagitta_;
    double step_ = 0;
    double ringStepTangent_ = 0;  ///< of the most that chords may reach round the ring, at most 60 degrees
    int steps_ = 0;               ///< of the grid of angles, from -90 to +90 degrees
    std::uint32_t apex_ = kNoPoint;
    HoleCut cut_;
    std::vector<std::vector<ColumnStop>>
        columns_;  ///< for each piece, the side of smaller z and that of larger
    std::vector<std::vector<JointStop>> joints_;
    std::vector<std::vector<std::array<std::uint32_t, 2>>> edges_;  ///< of each piece, the wall on the left
    std::vector<std::array<std::uint32_t, 2>> columnEdges_;
};

}  // namespace

bool hasChord(const HoleCut& cut, std::uint32_t a, std::uint32_t b) {
    return std::binary_search(cut.chords.begin(), cut.chords.end(), chord(a, b));
}

std::optional<HoleCut> cutHole(const Section& section, const SectionRows& rows, const HoleProfile& hole,
                               double sagitta) {
    return Cutter(section, rows, hole, sagitta).run();
}

}  // namespace bandwright::geometry
