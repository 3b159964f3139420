#include <algorithm>
#include <cmath>

#include "arithmetic.hpp"
#include "geometry/hole.hpp"
#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

/// Arcs drawn for each curved stretch of the outline.
constexpr int kArcs = 128;

/// The arc through three points, from the first to the last; a line where they lie on one.
Segment through(Vec2 from, Vec2 middle, Vec2 to, Tag tag) {
    const Vec2 chord = to - from;
    const double half = length(chord) / 2;
    const Vec2 along = (1 / (2 * half)) * chord;
    const Vec2 off = middle - 0.5 * (from + to);
    const double u = dot(off, along);
    const double bulge = -cross(along, off);  // to the right of the way
    if (std::abs(bulge) < 1e-12) return line(from, to, tag);
    const double h = std::abs(bulge);
    const double below = (half * half - u * u - h * h) / (2 * h);  // of the centre, from the chord
    const double sagitta = half * half / (std::hypot(half, below) + below);
    return arcBySagitta(from, to, std::copysign(sagitta, bulge), tag);
}

/// One side of the outline, z counted from the hole's middle, from the inside outwards.
class HoleSide {
  public:
    HoleSide(double angle) : tangent_(std::tan(angle)), cosine_(std::cos(angle)) {}

    bool reaches(double x, double radius) const { return radius > x * tangent_; }
    Vec2 at(double x, double radius) const {
        const double y = x * tangent_;
        return {std::sqrt(std::max(0.0, radius * radius - y * y)), x / cosine_};
    }

    void addFlat(const HolePiece& piece) {
        add(line(at(piece.x0, piece.radius0), at(piece.x0, piece.radius1), piece.tag));
    }

    /// The stretch of a cylinder or cone between two heights.
    void addCurve(const HolePiece& piece, double low, double high) {
        const double slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
        // Spaced by the cosine of an angle: where it closes the outline runs like a square root.
        const auto point = [&](double share) {
            const double x = low + (high - low) * (1 - std::cos(share * kPi)) / 2;
            return at(x, piece.radius0 + slope * (x - piece.x0));
        };
        for (int i = 0; i < kArcs; ++i)
            add(through(point(1.0 * i / kArcs), point((i + 0.5) / kArcs), point((i + 1.0) / kArcs),
                        piece.tag));
    }

    bool isEmpty() const { return segments_.empty(); }

    /// The loop of this side and its mirror image about z = offset.
    Loop closed(double offset) const {
        const auto mirrored = [&](Vec2 p) { return Vec2{offset - p.z, p.r}; };
        const auto moved = [&](Vec2 p) { return Vec2{offset + p.z, p.r}; };
        Loop loop;
        const auto join = [&](Vec2 from, Vec2 to, Tag tag) {
            if (distance(from, to) > kSamePoint) loop.push_back(line(from, to, tag));
        };
        const Segment& first = segments_.front();
        const Segment& last = segments_.back();
        join(mirrored(first.from), moved(first.from), first.tag);
        for (Segment s : segments_) {
            s.from = moved(s.from);
            s.to = moved(s.to);
            s.centre = moved(s.centre);
            loop.push_back(s);
        }
        join(moved(last.to), mirrored(last.to), last.tag);
        for (auto s = segments_.rbegin(); s != segments_.rend(); ++s) {
            Segment other = *s;
            other.from = mirrored(s->to);
            other.to = mirrored(s->from);
            other.centre = mirrored(s->centre);
            loop.push_back(other);
        }
        return loop;
    }

    double tangent() const { return tangent_; }

  private:
    void add(const Segment& s) {
        if (distance(s.from, s.to) > kSamePoint) segments_.push_back(s);
    }

    double tangent_, cosine_;
    std::vector<Segment> segments_;
};

}  // namespace

Section outlineAt(const HoleProfile& profile, double angle) {
    if (angle == 0) return meridian(profile);
    angle = std::abs(std::remainder(angle, kTurn));
    if (angle >= kPi / 2) return {};
    Section outline;
    HoleSide side(angle);
    const auto close = [&] {
        if (!side.isEmpty()) outline.push_back(side.closed(profile.offset));
        side = HoleSide(angle);
    };
    for (const HolePiece& piece : profile.pieces) {
        const bool before = side.reaches(piece.x0, piece.radius0);
        const bool after = side.reaches(piece.x1, piece.radius1);
        if (piece.isFlat()) {
            if (after) side.addFlat(piece);
            continue;
        }
        if (!before && !after) continue;
        const double slope = (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
        const double end = (piece.radius0 - slope * piece.x0) / (side.tangent() - slope);
        side.addCurve(piece, before ? piece.x0 : end, after ? piece.x1 : end);
        if (!after) close();
    }
    close();
    return outline;
}

}  // namespace bandwright::geometry
