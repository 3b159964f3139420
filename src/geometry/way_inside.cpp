#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <utility>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/section.hpp"
#include "geometry/tolerance.hpp"
#include "land_cells.hpp"
#include "latest.hpp"

/// The shortest straight way through a material. The shortest join of the two groups mostly is one. Where
/// something lies in its way, the shortest passes a corner of the outline or touches an arc of it; so it is
/// sought among the lines through each corner and the tangents of each arc. As such a line turns, what its
/// two ends lie on changes only when it passes another corner or touches another arc: in between the length
/// is smooth, and has one least.
namespace bandwright::geometry {

namespace {

using Segments = std::span<const Segment>;

Vec2 headed(double angle) {
    return {std::cos(angle), std::sin(angle)};
}

/// How far the whole line or circle of a segment lies from p in direction d, with the places behind p
/// negative; for a circle the nearer to `about`.
double reach(const Segment& s, Vec2 p, Vec2 d, double about) {
    if (!s.isArc()) {
        const Vec2 along = s.to - s.from;
        return cross(s.from - p, along) / cross(d, along);
    }
    const double ahead = dot(s.centre - p, d);
    const double root = std::sqrt(std::max(0.0, square(s.radius) - square(cross(d, s.centre - p))));
    return std::abs(ahead - root - about) < std::abs(ahead + root - about) ? ahead - root : ahead + root;
}

/// Where a ray first meets the outline.
struct Stop {
    double at = kNever;
    const Segment* on = nullptr;
};

/// A corner of the outline, and the directions from it that lead into the material: counter-clockwise from
/// `first`.
struct Wedge {
    Vec2 at;
    double first, sweep;  ///< radians
    double least;         ///< no way that passes here is shorter
};

Wedge wedgeBetween(const Segment& before, const Segment& after, double least) {
    const Vec2 out = tangentAt(after, 0), back = -1 * tangentAt(before, 1);
    const double first = std::atan2(out.r, out.z);
    return {after.from, first, positive(std::atan2(back.r, back.z) - first), least};
}

/// Rounding of the directions, radians.
constexpr double kWedgeRounding = 1e-7;

bool leadsInside(const Wedge& corner, double angle) {
    return positive(angle - corner.first + kWedgeRounding) <= corner.sweep + 2 * kWedgeRounding;
}

class WaysInside {
  public:
    WaysInside(const Section& metal, Segments from, Segments to)
        : metal_(metal), from_(from), to_(to), all_(segmentsWhere(metal, [](Tag) { return true; })) {}

    /// The shortest join, where it lies inside.
    std::optional<Gap> direct() {
        for (const Segment& a : from_) {
            for (const Segment& b : to_) {
                const Gap gap = geometry::shortest(a, b);
                if (gap.value < kSamePoint) return gap;
                joins_.push_back(gap);
            }
        }
        if (joins_.empty()) return std::nullopt;
        std::sort(joins_.begin(), joins_.end(), [](const Gap& a, const Gap& b) { return a.value < b.value; });
        if (isInside(joins_.front())) return joins_.front();
        return std::nullopt;
    }

    /// Where something lies in the way of the shortest join.
    std::optional<Gap> aside() {
        // A join of two places inside of both segments passes no corner.
        for (const Gap& gap : joins_) {
            if (!isInside(gap)) continue;
            best_ = gap;
            break;
        }
        passCorners();
        touchArcs();
        return best_;
    }

  private:
    double enough() const {
        if (best_) return best_->value;
        return kNever;
    }

    bool isOutline(Vec2 p) const {
        return std::any_of(all_.begin(), all_.end(), [&](const Segment& s) {
            return distance(nearestOn(s, p), p) < kCrossingRounding;
        });
    }

    /// Whether a segment cannot meet what lies in a rectangle.
    static bool isFarFrom(const Rectangle& place, const Segment& s) {
        Rectangle round{{std::min(s.from.z, s.to.z), std::min(s.from.r, s.to.r)},
                        {std::max(s.from.z, s.to.z), std::max(s.from.r, s.to.r)}};
        if (s.isArc()) {
            const Vec2 reach{s.radius, s.radius};
            round = {s.centre - reach, s.centre + reach};
        }
        return round.low.z > place.high.z + kFilm || round.high.z < place.low.z - kFilm ||
               round.low.r > place.high.r + kFilm || round.high.r < place.low.r - kFilm;
    }

    bool isInside(const Gap& gap) const {
        const Segment way = line(gap.from, gap.to, {});
        std::vector<double> shares{0, 1};
        const Rectangle round = rectangleRound(way);
        for (const Segment& s : all_) {
            if (isFarFrom(round, s)) continue;
            for (const Crossing& c : crossings(way, s))
                shares.push_back(c.ta);
            for (const Vec2 end : {s.from, s.to}) {
                const Vec2 foot = nearestOn(way, end);
                if (distance(foot, end) < kCrossingRounding) shares.push_back(shareAt(way, foot));
            }
        }
        std::sort(shares.begin(), shares.end());
        for (std::size_t i = 1; i < shares.size(); ++i) {
            if ((shares[i] - shares[i - 1]) * gap.value < kFilm) continue;
            const Vec2 middle = pointAt(way, (shares[i] + shares[i - 1]) / 2);
            if (!contains(metal_, middle) && !isOutline(middle)) return false;
        }
        return true;
    }

    static double apart(Segments group, Vec2 p) {
        double least = kNever;
        for (const Segment& s : group)
            least = std::min(least, distance(nearestOn(s, p), p));
        return least;
    }

    /// The places at which a ray from p meets a segment.
    static void meet(const Segment& s, Vec2 p, Vec2 d, auto&& offer) {
        const auto offerIfOn = [&](double at) {
            const Vec2 place = p + at * d;
            if (at > kCrossingRounding && distance(nearestOn(s, place), place) < kSamePoint) offer(at);
        };
        if (!s.isArc()) {
            const Vec2 along = s.to - s.from;
            const double turn = cross(d, along);
            if (turn == 0) return;
            const double size = length(along), on = size * cross(s.from - p, d) / turn;
            if (on > -kSamePoint && on < size + kSamePoint) {
                const double at = cross(s.from - p, along) / turn;
                if (at > kCrossingRounding) offer(at);
            }
            return;
        }
        constexpr double kBrushes = 1e-12;  // mm: rounding of a tangent
        const double ahead = dot(s.centre - p, d), off = std::abs(cross(d, s.centre - p));
        if (off > s.radius - kBrushes) return;
        const double root = std::sqrt(square(s.radius) - square(off));
        offerIfOn(ahead - root);
        offerIfOn(ahead + root);
    }

    static bool meetsAny(Segments group, Vec2 p, Vec2 d) {
        bool meets = false;
        for (const Segment& s : group)
            meet(s, p, d, [&](double) { meets = true; });
        return meets;
    }

    /// What a way shorter than the best can meet that passes p no further off than this.
    void lookNear(Vec2 p, double off) {
        near_.clear();
        const double most = enough() + off;
        std::copy_if(all_.begin(), all_.end(), std::back_inserter(near_),
                     [&](const Segment& s) { return distance(nearestOn(s, p), p) <= most; });
    }

    /// The first place at which a ray from p meets what lies near; none where it does not begin in the
    /// material.
    Stop stopOf(Vec2 p, Vec2 d) const {
        Stop stop;
        for (const Segment& s : near_) {
            meet(s, p, d, [&](double at) {
                if (at < stop.at) stop = {at, &s};
            });
        }
        if (stop.on != nullptr && !contains(metal_, p + stop.at / 2 * d)) return {};
        return stop;
    }

    static bool holds(Segments group, const Segment& s) {
        return std::find(group.begin(), group.end(), s) != group.end();
    }

    /// Directions at which lines that turn about a corner pass another corner or touch an arc.
    std::vector<double> turnsAbout(Vec2 corner) const {
        std::vector<double> turns;
        const auto add = [&](Vec2 d) {
            if (length(d) > kSamePoint) turns.push_back(std::atan2(d.r, d.z));
        };
        for (const Segment& s : near_) {
            add(s.from - corner);
            add(s.to - corner);
            if (!s.isArc()) continue;
            const Vec2 w = s.centre - corner;
            const double sine = s.radius / std::max(length(w), kSamePoint);
            const double towards = std::atan2(w.r, w.z);
            if (sine > 1 + kSameDirection) continue;
            for (const double side : {-1.0, 1.0})
                turns.push_back(std::remainder(towards + side * std::asin(std::min(1.0, sine)), kTurn));
        }
        return turns;
    }

    /// The same for tangents that roll round an arc, as the directions from its centre to where they touch.
    std::vector<double> turnsRound(const Segment& arc) const {
        std::vector<double> turns;
        for (const Segment& s : near_) {
            for (const Vec2 end : {s.from, s.to}) {
                const Vec2 w = end - arc.centre;
                const double cosine = arc.radius / std::max(length(w), kSamePoint);
                if (cosine > 1) continue;
                for (const double side : {-1.0, 1.0})
                    turns.push_back(std::atan2(w.r, w.z) + side * std::acos(cosine));
            }
            if (!s.isArc() || s.centre == arc.centre) continue;
            const Vec2 to = s.centre - arc.centre;
            for (const double other : {-s.radius, s.radius}) {
                const double c = (arc.radius + other) / length(to);
                if (std::abs(c) > 1) continue;
                for (const double side : {-1.0, 1.0})
                    turns.push_back(std::atan2(to.r, to.z) + side * std::acos(c));
            }
        }
        return turns;
    }

    struct Ray {
        Vec2 p, d;
    };

    /// Whether the line meets both groups, or one of them from a place of the other, whatever lies between.
    bool canJoin(Vec2 p, Vec2 d, bool beginsAtP) const {
        const bool from = meetsAny(from_, p, d), to = meetsAny(to_, p, d);
        if (!from && !to) return false;
        if (beginsAtP && ((to && hasEndAt(from_, p)) || (from && hasEndAt(to_, p)))) return true;
        return (to && meetsAny(from_, p, -1 * d)) || (from && meetsAny(to_, p, -1 * d));
    }

    /// Offers the shortest of the lines that `rayAt` gives between two angles.
    void offerBetween(double low, double high, bool beginsAtP, auto&& rayAt) {
        const auto [p, d] = rayAt((low + high) / 2);
        if (!canJoin(p, d, beginsAtP)) return;
        const Stop ahead = stopOf(p, d);
        if (ahead.on == nullptr) return;
        if (beginsAtP) {
            for (const auto& [ends, begins] : {std::pair{to_, from_}, {from_, to_}}) {
                if (!holds(ends, *ahead.on)) continue;
                const auto start = std::find_if(begins.begin(), begins.end(), [&, at = p](const Segment& s) {
                    return s.from == at || s.to == at;
                });
                if (start != begins.end())
                    offerLeast(low, high, *start, 0, ahead, rayAt, begins.data() == from_.data());
            }
        }
        const bool isFrom = holds(from_, *ahead.on);
        if (!isFrom && !holds(to_, *ahead.on)) return;
        const Stop behind = stopOf(p, -1 * d);
        if (behind.on == nullptr || !holds(isFrom ? to_ : from_, *behind.on)) return;
        offerLeast(low, high, *behind.on, -behind.at, ahead, rayAt, !isFrom);
    }

    /// `back` is where the line ends behind its place, 0 where it begins there.
    void offerLeast(double low, double high, const Segment& start, double back, const Stop& ahead,
                    auto&& rayAt, bool forward) {
        const auto endsAt = [&](double angle) {
            const auto [p, d] = rayAt(angle);
            const double first = back == 0 ? 0 : reach(start, p, d, back);
            return std::pair{p + first * d, p + reach(*ahead.on, p, d, ahead.at) * d};
        };
        const auto lengthAt = [&](double angle) {
            const auto [a, b] = endsAt(angle);
            const double value = distance(a, b);
            return std::isfinite(value) ? value : kNever;
        };
        const double least = lowestPlace(lengthAt, low, high);
        for (const double angle : {low, least, high}) {
            auto [a, b] = endsAt(angle);
            if (!(distance(a, b) < enough())) continue;
            a = nearestOn(start, a);
            b = nearestOn(*ahead.on, b);
            if (!forward) std::swap(a, b);
            const Gap gap{distance(a, b), a, b, forward ? start.tag : ahead.on->tag,
                          forward ? ahead.on->tag : start.tag};
            if (gap.value < enough() && isInside(gap)) best_ = gap;
        }
    }

    static bool hasEndAt(Segments group, Vec2 p) {
        return std::any_of(group.begin(), group.end(),
                           [&](const Segment& s) { return s.from == p || s.to == p; });
    }

    void passCorners() {
        std::vector<Wedge> corners;
        for (const Loop& loop : metal_) {
            for (std::size_t i = 0; i < loop.size(); ++i) {
                const Vec2 p = loop[i].from;
                corners.push_back(wedgeBetween(loop[i == 0 ? loop.size() - 1 : i - 1], loop[i],
                                               apart(from_, p) + apart(to_, p)));
            }
        }
        std::sort(corners.begin(), corners.end(),
                  [](const Wedge& a, const Wedge& b) { return a.least < b.least; });
        for (const Wedge& corner : corners) {
            if (corner.least >= enough()) break;
            // A way goes past a corner of more than half a turn; at others it can but begin.
            const bool begins = hasEndAt(from_, corner.at) || hasEndAt(to_, corner.at);
            if (!begins && corner.sweep < kPi - kWedgeRounding) continue;
            lookNear(corner.at, 0);
            std::vector<double> turns = turnsAbout(corner.at);
            // Both ways along each line.
            for (std::size_t i = 0, count = turns.size(); i < count; ++i)
                turns.push_back(std::remainder(turns[i] + kPi, kTurn));
            forEachStretch(turns, [&](double low, double high) {
                const double middle = (low + high) / 2;
                if (!leadsInside(corner, middle) || (!begins && !leadsInside(corner, middle + kPi))) return;
                offerBetween(low, high, true, [&](double angle) { return Ray{corner.at, headed(angle)}; });
            });
        }
    }

    void touchArcs() {
        for (const Segment& arc : all_) {
            if (!arc.isArc() || arc.ccw) continue;  // no line in the material touches it from within
            if (apart(from_, arc.centre) + apart(to_, arc.centre) - 2 * arc.radius >= enough()) continue;
            lookNear(arc.centre, arc.radius);
            std::vector<double> turns = turnsRound(arc);
            const auto add = [&](Vec2 end) {
                turns.push_back(std::atan2(end.r - arc.centre.r, end.z - arc.centre.z));
            };
            add(arc.from);
            add(arc.to);
            forEachStretch(turns, [&](double low, double high) {
                if (!onSweep(arc, arc.centre + headed((low + high) / 2))) return;
                offerBetween(low, high, false, [&](double angle) {
                    const Vec2 out = headed(angle);
                    return Ray{arc.centre + arc.radius * out, {-out.r, out.z}};
                });
            });
        }
    }

    static void forEachStretch(std::vector<double>& turns, auto&& visit) {
        for (double& turn : turns)
            turn = positive(turn);
        std::sort(turns.begin(), turns.end());
        for (std::size_t i = 0; i < turns.size(); ++i) {
            const double next = i + 1 < turns.size() ? turns[i + 1] : turns.front() + kTurn;
            if (next - turns[i] < kSameAngle) continue;
            visit(turns[i], next);
        }
    }

    const Section& metal_;
    Segments from_, to_;
    std::vector<Segment> all_, near_;
    std::vector<Gap> joins_;  ///< of each of the one group with each of the other, the shortest first
    std::optional<Gap> best_;
};

struct AskedWay {
    std::vector<Segment> from, to;  // first, for they mostly tell
    Section metal;

    bool operator==(const AskedWay&) const = default;
};

/// A way round something takes a good part of a millisecond, and a section stays as it is over most steps of
/// the work and most numbers of a design that change.
Latest<AskedWay, std::optional<Gap>>& latestWays() {
    constexpr std::size_t kMost = 64;
    static Latest<AskedWay, std::optional<Gap>> latest(kMost, kMost);
    return latest;
}

}  // namespace

std::optional<Gap> shortestInside(const Section& metal, Segments from, Segments to) {
    WaysInside ways(metal, from, to);
    if (const auto gap = ways.direct()) return gap;
    if (from.empty() || to.empty()) return std::nullopt;
    const AskedWay asked{{from.begin(), from.end()}, {to.begin(), to.end()}, metal};
    return *latestWays().get(
        asked, [&] { return ways.aside(); }, [](const std::optional<Gap>&) { return std::size_t{1}; });
}

}  // namespace bandwright::geometry
