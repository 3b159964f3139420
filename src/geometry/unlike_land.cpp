#include "unlike_land.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

std::optional<Hit> hit(const SeenHole& hole, const Line& line) {
    std::optional<Hit> best;
    const double x0 = hole.along(line.at0), xs = hole.along(line.step);
    const double q0 = hole.across(line.at0), qs = hole.across(line.step);
    const double d0 = line.at0.z - hole.profile->offset, ds = line.step.z;
    const auto offer = [&](double w, const HolePiece& piece) {
        if (!best || hole.side * w < hole.side * best->w) best = Hit{w, &piece};
    };
    for (const HolePiece& piece : hole.profile->pieces) {
        if (piece.isFlat()) {
            if (xs == 0) continue;
            const double w = (piece.x0 - x0) / xs;
            const double radius = planeNorm(q0 + w * qs, d0 + w * ds);
            if (radius >= piece.radius0 + kLeastMargin && radius <= piece.radius1 - kLeastMargin)
                offer(w, piece);
            continue;
        }
        const double k = slopeOf(piece);
        const double radius = piece.radius0 + k * (x0 - piece.x0);
        const double a = square(qs) + square(ds) - square(k * xs);
        const double b = q0 * qs + d0 * ds - k * xs * radius;
        const double c = square(q0) + square(d0) - square(radius);
        const double root = square(b) - a * c;
        if (root < 0 || a == 0) continue;
        for (const double sign : {-1.0, 1.0}) {
            const double w = (-b + sign * std::sqrt(root)) / a;
            const double x = x0 + w * xs;
            if (x >= piece.x0 + kLeastMargin && x <= piece.x1 - kLeastMargin && x > 0) offer(w, piece);
        }
    }
    return best;
}

namespace {

/// The ways between two holes that have nothing in common.
class Strangers {
  public:
    Strangers(std::span<const LandCell> cells, const SeenHole& a, const SeenHole& b)
        : cells_(cells), a_(a), b_(b) {
        level_ = kNever;
        for (const LandCell& cell : cells)
            level_ = std::min({level_, cell.low.at(cell.from), cell.low.at(cell.to)});
        for (const SeenHole& hole : {a, b}) {
            for (const HolePiece& piece : hole.profile->pieces)
                flares_ = flares_ || (!piece.isFlat() && !piece.isCylinder());
        }
        const Vec3 atA = level_ * Vec3{a.cosine, a.sine, 0} + Vec3{0, 0, a.profile->offset};
        const Vec3 atB = level_ * Vec3{b.cosine, b.sine, 0} + Vec3{0, 0, b.profile->offset};
        const Vec3 way = atA - atB;
        apart_ = planeNorm(way.y, way.z);
        if (apart_ < kSamePoint) return;
        u_ = {0, way.y / apart_, way.z / apart_};
        v_ = {0, -u_.z, u_.y};
        const double clear = apart_ - widestOf(a) - widestOf(b);
        middle_ = atB + (widestOf(b) + clear / 2) * u_;
        middle_.x = 0;
    }

    double apart() const { return apart_; }

    std::optional<Land> shortest(LandEnds ends) {
        search(std::array{turnTo(a_, -1), turnTo(b_, 1)}, std::array{0.2, 0.2}, kFine,
               [&](const auto& turns) { return mouths(turns); });
        if (ends == LandEnds::Anywhere) seekAnywhere();
        if (!std::isfinite(best_.value)) return std::nullopt;
        return best_;
    }

  private:
    /// Of lines that lie beside each other outwards: how far aside of the middle they pass, how much they
    /// rise outwards, and how much they slant.
    using Direction = std::array<double, 3>;

    struct Start {
        double value;
        Direction direction;
    };
    static constexpr double kWithinReach = 0.2;  // mm: how far a way falls from a start at most

    /// From each start roughly, and on from the lowest of the places found.
    void seekAnywhere() {
        using Found = std::pair<double, Direction>;
        const double r = std::min(widestOf(a_), widestOf(b_));
        const auto roughly = [&](const Direction& d) { return ways(d, kRough.close); };
        const auto finely = [&](const Direction& d) { return ways(d, kFine.close); };
        std::vector<Found> found;
        for (const Start& start : starts()) {
            if (start.value > best_.value + kWithinReach) break;
            found.push_back(search(start.direction, Direction{0.1 * r, 0.02, 0.05}, kRough, roughly));
        }
        std::sort(found.begin(), found.end(),
                  [](const Found& p, const Found& q) { return p.first < q.first; });
        constexpr std::size_t kRefined = 3;
        constexpr double kSlack = 0.03;  // mm: more than a rough search leaves
        for (std::size_t i = 0; i < std::min(kRefined, found.size()); ++i) {
            if (found[i].first > best_.value + kSlack) break;
            search(found[i].second, Direction{0.01 * r, 0.002, 0.005}, kFine, finely);
        }
    }

    Direction directionOf(const Vec3& from, const Vec3& to) const {
        const Vec3 way = to - from;
        const double run = dot(way, u_);
        const Vec3 off = from - middle_;
        return {dot(off, v_) - dot(off, u_) * dot(way, v_) / run, way.x / run, dot(way, v_) / run};
    }

    /// Places spread over a hole's wall, above all along its rims and where it leaves the metal.
    std::vector<Vec3> placesOn(const SeenHole& hole) const {
        constexpr int kTurns = 32;
        std::vector<Vec3> places;
        for (const HolePiece& piece : hole.profile->pieces) {
            for (int i = 0; i < kTurns; ++i) {
                const double turn = kTurn * i / kTurns;
                // A straight way to the other hole leaves this one on the side that faces it.
                const double away = hole.side * (u_.z * std::sin(turn) + u_.y * hole.cosine * std::cos(turn));
                if (away > 0.5) continue;
                const auto add = [&](double x, double radius) {
                    const double across = radius * std::cos(turn);
                    const Vec3 p{x * hole.cosine - across * hole.sine, x * hole.sine + across * hole.cosine,
                                 hole.profile->offset + radius * std::sin(turn)};
                    if (isMetal(p)) places.push_back(p);
                };
                add(piece.x0, piece.radius0);
                add(piece.x1, piece.radius1);
                if (piece.isFlat()) continue;
                const double z = hole.profile->offset + piece.radius0 * std::sin(turn);
                const double across = square(piece.radius0 * std::cos(turn));
                for (const LandCell& cell : cells_) {
                    if (z < cell.from || z > cell.to) continue;
                    for (const double r : {cell.low.at(z), cell.high.at(z)}) {
                        const double x = std::sqrt(std::max(0.0, square(r) - across));
                        if (x > piece.x0 && x < piece.x1)
                            add(x, piece.radius0 + slopeOf(piece) * (x - piece.x0));
                    }
                }
            }
        }
        for (int i = 0; i < kTurns; ++i)
            if (const auto end = mouth(hole, kTurn * i / kTurns)) places.push_back(end->first);
        return places;
    }

    /// Directions to begin from: those of the shortest ways between places on the walls.
    std::vector<Start> starts() {
        const std::vector<Vec3> as = placesOn(a_), bs = placesOn(b_);
        std::vector<Start> tried;
        const auto seek = [&](const std::vector<Vec3>& from, const std::vector<Vec3>& to, double sign) {
            for (const Vec3& p : from) {
                Start best{kNever, {}};
                for (const Vec3& q : to) {
                    const double value = distance(p, q);
                    if (value < best.value && sign * dot(q - p, u_) > 0.1 * value && runsUnderOutside(p, q))
                        best = {value, directionOf(p, q)};
                }
                if (std::isfinite(best.value)) tried.push_back(best);
            }
        };
        seek(as, bs, -1);
        seek(bs, as, 1);
        const auto byValue = [](const Start& a, const Start& b) { return a.value < b.value; };
        constexpr std::size_t kTried = 60;
        std::sort(tried.begin(), tried.end(), byValue);
        if (tried.size() > kTried) tried.resize(kTried);
        for (Start& start : tried)
            start.value = ways(start.direction, kRough.close);
        std::sort(tried.begin(), tried.end(), byValue);
        std::vector<Start> result;
        for (const Start& start : tried) {
            if (!std::isfinite(start.value) || result.size() == 5) break;
            const bool isNew = std::none_of(result.begin(), result.end(), [&](const Start& known) {
                return std::abs(known.direction[0] - start.direction[0]) < 0.1 &&
                       std::abs(known.direction[1] - start.direction[1]) < 0.15 &&
                       std::abs(known.direction[2] - start.direction[2]) < 0.15;
            });
            if (isNew) result.push_back(start);
        }
        return result;
    }

    static double widestOf(const SeenHole& hole) {
        double widest = 0;
        for (const HolePiece& piece : hole.profile->pieces)
            if (piece.isCylinder()) widest = std::max(widest, piece.radius0);
        return widest;
    }

    /// The turn about the hole's axis that faces the other hole.
    double turnTo(const SeenHole& hole, double sign) const {
        return std::atan2(sign * u_.z, sign * u_.y * hole.cosine);
    }

    const LandCell* cellAt(double z, double r) const {
        const LandCell* found = nullptr;
        for (const LandCell& cell : cells_) {
            if (z < cell.from || z > cell.to) continue;
            if (found == nullptr) found = &cell;
            if (r >= cell.low.at(z) - kFilm && r <= cell.high.at(z) + kFilm) return &cell;
        }
        return found;
    }
    /// How far inside the metal a place lies, along r; negative outside.
    double clearance(const Vec3& p) const {
        const double r = planeNorm(p.x, p.y);
        const LandCell* cell = cellAt(p.z, r);
        return cell == nullptr ? -kNever : std::min(r - cell->low.at(p.z), cell->high.at(p.z) - r);
    }
    static constexpr double kTouch = 1e-7;  // mm: what a search leaves
    bool isMetal(const Vec3& p) const { return clearance(p) >= -kTouch; }

    bool seemsInMetal(const Vec3& from, const Vec3& to) const {
        constexpr int kSteps = 8;
        for (int i = 0; i <= kSteps; ++i)
            if (!isMetal(from + (1.0 * i / kSteps) * (to - from))) return false;
        return true;
    }
    /// Looks for the lowest clearance on the way.
    bool runsInMetal(const Vec3& from, const Vec3& to) const {
        constexpr int kSteps = 40;
        const auto clear = [&](double share) { return clearance(from + share * (to - from)); };
        std::array<double, kSteps + 1> at{};
        for (int i = 0; i <= kSteps; ++i) {
            at[static_cast<std::size_t>(i)] = clear(1.0 * i / kSteps);
            if (at[static_cast<std::size_t>(i)] < -kTouch) return false;
        }
        const double near = distance(from, to) / kSteps;  // nothing is nearer than a step allows
        for (std::size_t i = 0; i + 1 < at.size(); ++i) {
            if (at[i] + at[i + 1] > 4 * near) continue;
            const double low = static_cast<double>(i) / kSteps;
            const double lowest = lowestPlace(clear, low, low + 1.0 / kSteps);
            if (clear(lowest) < -kTouch) return false;
        }
        return true;
    }

    /// Whether nothing but the bore comes between.
    bool runsUnderOutside(const Vec3& from, const Vec3& to) const {
        constexpr int kSteps = 8;
        for (int i = 1; i < kSteps; ++i) {
            const Vec3 p = from + (1.0 * i / kSteps) * (to - from);
            const double r = planeNorm(p.x, p.y);
            const LandCell* cell = cellAt(p.z, r);
            if (cell == nullptr || r > cell->high.at(p.z) + kFilm) return false;
        }
        return true;
    }

    double lowAt(double z) const {
        const LandCell* cell = cellAt(z, 0);
        return cell == nullptr ? kNever : cell->low.at(z);
    }

    /// How far out a line with this direction, at these y and z, must lie to clear the metal's lower side.
    double grazing(const Line& line, double from, double to) const {
        const auto needed = [&](double w) {
            const Vec3 p = line.at(w);
            const double within = square(lowAt(p.z)) - square(p.y);
            return within > 0 ? std::sqrt(within) - w * line.step.x : -kNever;
        };
        constexpr int kSteps = 6;
        double best = -kNever;
        int where = 0;
        for (int i = 0; i <= kSteps; ++i) {
            const double here = needed(from + (to - from) * i / kSteps);
            if (here > best) {
                best = here;
                where = i;
            }
        }
        if (!std::isfinite(best)) return best;
        const double step = (to - from) / kSteps;
        const double w =
            lowestPlace([&](double at) { return -needed(at); }, from + step * std::max(0, where - 1),
                        from + step * std::min(kSteps, where + 1));
        return std::max(best, needed(w));
    }

    /// The shortest way along lines of one direction that lie beside each other outwards.
    double ways(const Direction& direction, double close) {
        const auto& [aside, out, slant] = direction;
        Line line{middle_ + aside * v_, u_ + slant * v_ + Vec3{out, 0, 0}};
        line.at0.x = level_;
        double least = kNever;
        const auto offer = [&](double m) {
            line.at0.x = m;
            const auto beyond = hit(a_, line);
            const auto before = hit(b_, line);
            if (!beyond || !before) return;
            const Vec3 p = line.at(beyond->w), q = line.at(before->w);
            const bool apart = beyond->w > before->w;
            const double value = apart ? distance(p, q) : 0;
            if (value >= least || !seemsInMetal(q, p)) return;
            if (value < best_.value) {
                if (!runsInMetal(q, p)) return;
                best_ = {value, p, apart ? q : p, beyond->piece->tag, before->piece->tag};
            }
            least = value;
        };
        double low = level_;
        for (int pass = 0; pass < 3; ++pass) {
            line.at0.x = low;
            const auto beyond = hit(a_, line);
            const auto before = hit(b_, line);
            const double to = beyond ? beyond->w : apart_ / 2;
            const double from = before ? before->w : -apart_ / 2;
            const double last = std::exchange(low, grazing(line, std::min(from, to), std::max(from, to)));
            if (!std::isfinite(low)) return kNever;
            if (std::abs(low - last) < kTouch / 10) break;
        }
        offer(low);
        for (const SeenHole* hole : {&a_, &b_}) {
            std::pair<double, double> rim;  // of the piece before
            for (const HolePiece& piece : hole->profile->pieces) {
                for (const auto& [x, radius] :
                     {std::pair{piece.x0, piece.radius0}, {piece.x1, piece.radius1}}) {
                    if (x < level_ / 2 || radius == 0 || std::pair{x, radius} == rim) continue;
                    rim = {x, radius};
                    const double m = throughRim(*hole, line, x, radius);
                    if (m > low) offer(m);
                }
            }
        }
        // A cone that goes on to the outside comes nearer to what is beside it the farther out it is met; the
        // axes of all else part outwards.
        if (flares_) offer(std::min(highest(a_, line, low, close), highest(b_, line, low, close)));
        return least;
    }

    /// How far out a line of this direction lies that meets a circle of the hole; NaN for none.
    static double throughRim(const SeenHole& hole, const Line& line, double x, double radius) {
        // On the plane of the circle m = (x - y sine) / cosine, and so across = (y - x sine) / cosine.
        const double q0 = (line.at0.y - x * hole.sine) / hole.cosine, qs = line.step.y / hole.cosine;
        const double d0 = line.at0.z - hole.profile->offset, ds = line.step.z;
        const double a = square(qs) + square(ds);
        const double b = q0 * qs + d0 * ds;
        const double root = square(b) - a * (square(q0) + square(d0) - square(radius));
        if (root < 0) return std::nan("");
        const double w = (-b - hole.side * std::sqrt(root)) / a;
        return (x - (line.at0.y + w * line.step.y) * hole.sine) / hole.cosine - w * line.step.x;
    }

    /// The farthest out that a line of this direction still ends in the metal at this hole.
    double highest(const SeenHole& hole, Line line, double low, double close) const {
        constexpr double kOutOfReach = 20;  // mm above any band
        double high = low + kOutOfReach;
        while (high - low > close / 100) {
            const double middle = (low + high) / 2;
            line.at0.x = middle;
            const auto end = hit(hole, line);
            const bool ends = end && [&] {
                const Vec3 p = line.at(end->w);
                const LandCell* cell = cellAt(p.z, planeNorm(p.x, p.y));
                return cell != nullptr && planeNorm(p.x, p.y) <= cell->high.at(p.z);
            }();
            (ends ? low : high) = middle;
        }
        return low;
    }

    /// Where a hole leaves the outside, at a turn about its own axis.
    std::optional<std::pair<Vec3, const HolePiece*>> mouth(const SeenHole& hole, double turn) const {
        for (auto piece = hole.profile->pieces.rbegin(); piece != hole.profile->pieces.rend(); ++piece) {
            if (piece->isFlat()) continue;
            const double k = slopeOf(*piece);
            double x = piece->x0;
            double radius = piece->radius0;
            double z = 0;
            for (int i = 0; i < 60; ++i) {
                radius = std::max(0.0, piece->radius0 + k * (x - piece->x0));
                z = hole.profile->offset + radius * std::sin(turn);
                const LandCell* top = cellAt(z, kNever);
                for (const LandCell& cell : cells_)
                    if (z >= cell.from && z <= cell.to) top = &cell;
                if (top == nullptr || !isMouth(top->high)) return std::nullopt;
                const double before = x;
                x = std::sqrt(std::max(0.0, square(top->high.at(z)) - square(radius * std::cos(turn))));
                if (std::abs(x - before) < 1e-12) break;
            }
            if (x < piece->x0 + kLeastMargin) continue;
            const double across = radius * std::cos(turn);
            return std::pair{
                Vec3{x * hole.cosine - across * hole.sine, x * hole.sine + across * hole.cosine, z}, &*piece};
        }
        return std::nullopt;
    }

    double mouths(const std::array<double, 2>& turns) {
        const auto p = mouth(a_, turns[0]);
        const auto q = mouth(b_, turns[1]);
        if (!p || !q || !seemsInMetal(p->first, q->first)) return kNever;
        const double value = distance(p->first, q->first);
        if (value >= best_.value) return value;
        if (!runsInMetal(p->first, q->first)) return kNever;
        best_ = {value, p->first, q->first, p->second->tag, q->second->tag};
        return value;
    }

    /// How far a search goes: until its places lie within `close` of each other, and how often it may begin
    /// anew where that gains more than `gain`.
    struct Depth {
        double close, gain;
        int rounds;
    };
    static constexpr Depth kRough{1e-3, 1e-3, 2}, kFine{1e-6, 1e-7, 3};

    /// Downhill by a simplex of places (Nelder and Mead, A simplex method for function minimization, 1965),
    /// begun anew where it ends until that gains nothing.
    template <std::size_t N>
    static std::pair<double, std::array<double, N>> search(std::array<double, N> start,
                                                           std::array<double, N> step, const Depth& depth,
                                                           auto&& function) {
        using Place = std::array<double, N>;
        struct SimplexCorner {
            Place place;
            double value;
        };
        double before = kNever;
        for (int round = 0; round < depth.rounds; ++round) {
            std::array<SimplexCorner, N + 1> simplex;
            for (std::size_t i = 0; i <= N; ++i) {
                simplex[i].place = start;
                if (i > 0) simplex[i].place[i - 1] += step[i - 1];
                simplex[i].value = function(simplex[i].place);
            }
            const auto byValue = [](const SimplexCorner& a, const SimplexCorner& b) {
                return a.value < b.value;
            };
            for (int i = 0; i < 200; ++i) {
                std::sort(simplex.begin(), simplex.end(), byValue);
                double size = 0;
                for (std::size_t k = 0; k < N; ++k)
                    size = std::max(size, std::abs(simplex[N].place[k] - simplex[0].place[k]));
                if (size < depth.close) break;
                Place middle{};
                for (std::size_t k = 0; k < N; ++k) {
                    for (std::size_t j = 0; j < N; ++j)
                        middle[k] += simplex[j].place[k] / N;
                }
                const auto moved = [&](double by) {
                    SimplexCorner corner;
                    for (std::size_t k = 0; k < N; ++k)
                        corner.place[k] = middle[k] + by * (simplex[N].place[k] - middle[k]);
                    corner.value = function(corner.place);
                    return corner;
                };
                const SimplexCorner over = moved(-1);
                if (over.value < simplex[0].value) {
                    const SimplexCorner further = moved(-2);
                    simplex[N] = further.value < over.value ? further : over;
                } else if (over.value < simplex[N - 1].value) {
                    simplex[N] = over;
                } else {
                    const SimplexCorner nearer = moved(over.value < simplex[N].value ? -0.5 : 0.5);
                    if (nearer.value < std::min(over.value, simplex[N].value)) {
                        simplex[N] = nearer;
                    } else {
                        for (std::size_t j = 1; j <= N; ++j) {
                            for (std::size_t k = 0; k < N; ++k)
                                simplex[j].place[k] = (simplex[j].place[k] + simplex[0].place[k]) / 2;
                            simplex[j].value = function(simplex[j].place);
                        }
                    }
                }
            }
            std::sort(simplex.begin(), simplex.end(), byValue);
            start = simplex[0].place;
            const bool gains = simplex[0].value < before - depth.gain;
            before = std::min(before, simplex[0].value);
            if (!gains) break;
            for (double& s : step)
                s *= 0.3;
        }
        return {before, start};
    }

    std::span<const LandCell> cells_;
    SeenHole a_, b_;
    double level_ = 0, apart_ = 0;
    bool flares_ = false;
    Vec3 u_, v_, middle_;
    Land best_{.value = kNever, .from = {}, .to = {}, .fromTag = {}, .toTag = {}};
};

}  // namespace

double apartAtBore(std::span<const LandCell> cells, const SeenHole& a, const SeenHole& b) {
    return Strangers(cells, a, b).apart();
}

std::optional<Land> unlikeLand(std::span<const LandCell> cells, const SeenHole& a, const SeenHole& b,
                               LandEnds ends) {
    return Strangers(cells, a, b).shortest(ends);
}

}  // namespace bandwright::geometry
