#include "geometry/land.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>
#include <vector>

#include "arc.hpp"
#include "arithmetic.hpp"
#include "geometry/tolerance.hpp"

/// The frame of a pair of holes: m points outwards half-way between their axes, y round the band towards the
/// first of them, z along the ring's axis. A place at (m, y, z) stands at r = sqrt(m m + y y) in the section.
namespace bandwright::geometry {

namespace {

constexpr double kLeastMargin = -1e-9;  // mm: rounding at the ends of pieces

double planeNorm(double a, double b) {
    return std::sqrt(a * a + b * b);
}

/// A stretch of the outline as a height over z: of an arc the half on one side of its centre.
struct Branch {
    const Segment* segment = nullptr;
    double side = 0;  ///< of an arc: 1 above its centre, -1 below

    double at(double z) const {
        const Segment& s = *segment;
        if (!s.isArc()) return s.from.r + (z - s.from.z) / (s.to.z - s.from.z) * (s.to.r - s.from.r);
        return s.centre.r + side * std::sqrt(std::max(0.0, square(s.radius) - square(z - s.centre.z)));
    }
};

/// Metal between two branches, over a stretch of z.
struct LandCell {
    double from = 0, to = 0;
    Branch low, high;
};

bool isMouth(const Branch& branch) {
    const Region region = regionOf(branch.segment->tag.feature);
    return region == Region::Outside || region == Region::Edge;
}

/// What stands over one z, from the axis outwards.
void addCells(TurnedMetal metal, double from, double to, std::vector<LandCell>& cells) {
    const double middle = (from + to) / 2;
    struct Crossed {
        double r;
        Branch branch;
    };
    std::vector<Crossed> crossed;
    for (const Section* section : metal) {
        for (const Loop& loop : *section) {
            for (const Segment& s : loop) {
                if (!s.isArc()) {
                    if ((s.from.z < middle) == (s.to.z < middle)) continue;
                    const Branch branch{&s, 0};
                    crossed.push_back({branch.at(middle), branch});
                    continue;
                }
                if (std::abs(middle - s.centre.z) >= s.radius) continue;
                for (const double side : {-1.0, 1.0}) {
                    const Branch branch{&s, side};
                    const double r = branch.at(middle);
                    if (onSweep(s, {middle, r})) crossed.push_back({r, branch});
                }
            }
        }
    }
    std::sort(crossed.begin(), crossed.end(), [](const Crossed& a, const Crossed& b) { return a.r < b.r; });
    for (std::size_t i = 0; i + 1 < crossed.size(); i += 2) {
        // Band and liner that lie on each other are one.
        const bool goesOn = i > 0 && crossed[i].r - crossed[i - 1].r < 2 * kFilm;
        if (goesOn) {
            cells.back().high = crossed[i + 1].branch;
        } else {
            cells.push_back({from, to, crossed[i].branch, crossed[i + 1].branch});
        }
    }
}

/// The metal over a stretch of z, cut where something begins or ends; branches rise or fall all through a
/// cell. `places` are cuts to make besides.
std::vector<LandCell> cellsOf(TurnedMetal metal, double from, double to, std::vector<double> places) {
    places.push_back(from);
    places.push_back(to);
    for (const Section* section : metal) {
        for (const Loop& loop : *section) {
            for (const Segment& s : loop) {
                places.push_back(s.from.z);
                if (!s.isArc()) continue;
                for (const double side : {-1.0, 0.0, 1.0})
                    places.push_back(s.centre.z + side * s.radius);
            }
        }
    }
    std::erase_if(places, [&](double z) { return z < from || z > to; });
    std::sort(places.begin(), places.end());
    std::vector<LandCell> cells;
    double last = places.front();
    for (const double z : places) {
        if (z - last < kSamePoint) continue;
        addCells(metal, last, z, cells);
        last = z;
    }
    return cells;
}

/// The least of a function with one lowest place, by golden section (Kiefer, Sequential minimax search for a
/// maximum, 1953); where it lies.
double lowestPlace(auto&& function, double low, double high) {
    constexpr double kShare = 1 / std::numbers::phi;
    double left = high - kShare * (high - low);
    double right = low + kShare * (high - low);
    double atLeft = function(left);
    double atRight = function(right);
    while (high - low > 1e-7) {
        if (atLeft < atRight) {
            high = right;
            right = left;
            atRight = atLeft;
            left = high - kShare * (high - low);
            atLeft = function(left);
        } else {
            low = left;
            left = right;
            atLeft = atRight;
            right = low + kShare * (high - low);
            atRight = function(right);
        }
    }
    return (low + high) / 2;
}

/// One end of a land square to the plane y = 0. It is there where `margin`, mm, is not negative.
struct End {
    double m = 0, y = kNever, margin = -kNever;
};

double slopeOf(const HolePiece& piece) {
    return (piece.radius1 - piece.radius0) / (piece.x1 - piece.x0);
}

/// The ways between two holes that mirror each other in y = 0; one end of each, on the hole at `half` radians
/// from there.
class Twins {
  public:
    Twins(const HoleProfile& profile, double half, double below)
        : profile_(profile), cosine_(std::cos(half)), sine_(std::sin(half)), best_(below / 2) {}

    void seekIn(const LandCell& cell, LandEnds ends) {
        for (const HolePiece& piece : profile_.pieces) {
            const double most = acrossNear(cell, piece.radius1);
            if (most < 0) continue;
            if (ends == LandEnds::AtOutside) {
                if (isMouth(cell.high)) seekOnHigh(cell, piece);
                continue;
            }
            const double lowest = std::min(cell.low.at(cell.from), cell.low.at(cell.to));
            if (piece.isFlat() || (lowest * sine_ - most) / cosine_ < best_) seekOnLow(cell, piece);
            if (!piece.isCylinder()) seekOnHigh(cell, piece);
            if (piece.x0 > 0) seekOnRim(cell, piece.x0, piece.radius0, piece.tag);
            if (!piece.isCylinder()) seekOnRim(cell, piece.x1, piece.radius1, piece.tag);
        }
    }

    bool found() const { return found_; }
    double value() const { return 2 * std::max(0.0, best_); }
    Vec3 end() const { return end_; }  ///< m, y, z
    Tag tag() const { return tag_; }

  private:
    /// Half the hole's width round the band where it is widest in the cell; negative where it does not reach.
    double acrossNear(const LandCell& cell, double radius) const {
        const double z = std::clamp(profile_.offset, cell.from, cell.to) - profile_.offset;
        const double within = square(radius) - square(z);
        return within > 0 ? std::sqrt(within) : -1;
    }

    /// The lowest end in the cell among those that are there.
    void seek(const LandCell& cell, Tag tag, double guess, auto&& endAt) {
        const auto isThere = [&](double z) { return endAt(z).margin >= kLeastMargin; };
        const auto offer = [&](double z) {
            const End end = endAt(z);
            if (!(end.margin >= kLeastMargin && end.y < best_)) return;
            best_ = end.y;
            end_ = {end.m, std::max(0.0, end.y), z};
            tag_ = tag;
            found_ = true;
        };
        /// The place nearest to `wanted` where there still is an end.
        const auto offerTowards = [&](double there, double wanted) {
            while (std::abs(wanted - there) > 1e-10) {
                const double middle = (there + wanted) / 2;
                (isThere(middle) ? there : wanted) = middle;
            }
            offer(there);
        };
        if (isThere(guess)) return offer(guess);
        bool any = false;
        for (const double z : {cell.from, cell.to}) {
            if (!isThere(z)) continue;
            any = true;
            offerTowards(z, guess);
        }
        if (any) return;
        const double likely = lowestPlace([&](double z) { return -endAt(z).margin; }, cell.from, cell.to);
        if (isThere(likely)) offerTowards(likely, guess);
    }
    void seek(const LandCell& cell, Tag tag, auto&& endAt) {
        seek(cell, tag, lowestPlace([&](double z) { return endAt(z).y; }, cell.from, cell.to), endAt);
    }

    /// Ways that touch the metal's lower side half-way.
    void seekOnLow(const LandCell& cell, const HolePiece& piece) {
        seek(cell, piece.tag, [&](double z) {
            const double m = cell.low.at(z);
            const double off = z - profile_.offset;
            End end{.m = m};
            double along = 0;
            if (piece.isFlat()) {
                end.y = (piece.x0 - m * cosine_) / sine_;
                const double radius = planeNorm(end.y * cosine_ - m * sine_, off);
                along = std::min(radius - piece.radius0, piece.radius1 - radius);
            } else {
                const double k = slopeOf(piece);
                const double radius = piece.radius0 + k * (m * cosine_ - piece.x0);
                const double a = square(cosine_) - square(k * sine_);
                const double b = m * sine_ * cosine_ + k * sine_ * radius;
                const double c = square(m * sine_) + square(off) - square(radius);
                const double root = square(b) - a * c;
                if (root < 0 || a <= 0) return End{};
                end.y = (b - std::sqrt(root)) / a;
                const double x = m * cosine_ + end.y * sine_;
                along = std::min(x - piece.x0, piece.x1 - x);
            }
            end.margin = std::min(along, cell.high.at(z) - planeNorm(m, end.y));
            return end;
        });
    }

    /// Ways that end where the metal ends outwards.
    void seekOnHigh(const LandCell& cell, const HolePiece& piece) {
        seek(cell, piece.tag, [&](double z) {
            const double high = cell.high.at(z);
            const double off = z - profile_.offset;
            double x = piece.x0;
            double across = square(high) - square(x);
            double along = 0;
            if (piece.isFlat()) {
                const double radius = std::sqrt(std::max(0.0, across + square(off)));
                along = std::min(radius - piece.radius0, piece.radius1 - radius);
            } else {
                const double k = slopeOf(piece);
                const double foot = piece.radius0 - k * piece.x0;
                const double a = 1 + square(k);
                const double root = square(k * foot) - a * (square(foot) - square(off) - square(high));
                if (root < 0) return End{};
                x = (std::sqrt(root) - k * foot) / a;
                across = square(foot + k * x) - square(off);
                along = std::min(x - piece.x0, piece.x1 - x);
            }
            if (across < 0) return End{};
            const double c = std::sqrt(across);
            const double m = x * cosine_ + c * sine_;
            return End{m, x * sine_ - c * cosine_, std::min(along, m - cell.low.at(z))};
        });
    }

    /// Ways that end on the circle where two pieces of the hole meet.
    void seekOnRim(const LandCell& cell, double x, double radius, Tag tag) {
        const double most = acrossNear(cell, radius);
        if (most < 0 || x * sine_ - most * cosine_ >= best_) return;
        seek(cell, tag, std::clamp(profile_.offset, cell.from, cell.to), [&](double z) {
            const double c = std::sqrt(std::max(0.0, square(radius) - square(z - profile_.offset)));
            const double m = x * cosine_ + c * sine_;
            const double y = x * sine_ - c * cosine_;
            return End{m, y, std::min(m - cell.low.at(z), cell.high.at(z) - planeNorm(m, y))};
        });
    }

    const HoleProfile& profile_;
    double cosine_, sine_;
    double best_;
    bool found_ = false;
    Vec3 end_;
    Tag tag_;
};

/// A straight line: m, y and z at w mm along it.
struct Line {
    Vec3 at0, step;  ///< x is m
    Vec3 at(double w) const { return at0 + w * step; }
};

/// A hole seen in the frame of the pair.
struct SeenHole {
    const HoleProfile* profile;
    double cosine, sine;
    double side;  ///< 1: beyond the metal along the line, -1: before it

    double along(const Vec3& p) const { return p.x * cosine + p.y * sine; }
    double across(const Vec3& p) const { return p.y * cosine - p.x * sine; }
};

/// Where the metal beside a hole ends along a line.
struct Hit {
    double w = 0;
    const HolePiece* piece = nullptr;
};

/// The first place of a hole along a line that comes from the metal on the hole's side of it.
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

double widest(const HoleProfile& profile, double outside) {
    double radius = 0;
    for (const HolePiece& piece : profile.pieces)
        radius =
            std::max(radius, piece.isFlat() || piece.isCylinder()
                                 ? piece.radius1
                                 : piece.radius0 + slopeOf(piece) * (std::min(piece.x1, outside) - piece.x0));
    return radius;
}

Section mirrored(const Section& section) {
    Section result;
    for (const Loop& loop : section) {
        Loop other;
        for (auto s = loop.rbegin(); s != loop.rend(); ++s) {
            Segment segment = *s;
            segment.from = {-s->to.z, s->to.r};
            segment.to = {-s->from.z, s->from.r};
            segment.centre = {-s->centre.z, s->centre.r};
            other.push_back(segment);
        }
        result.push_back(std::move(other));
    }
    return result;
}

bool isTwin(const StandingHole& a, const StandingHole& b) {
    return a.profile == b.profile;
}

}  // namespace

std::optional<Land> shortestLand(TurnedMetal metal, const StandingHole& a, const StandingHole& b,
                                 LandEnds ends, double below) {
    const double half = std::remainder(a.angle - b.angle, kTurn) / 2;
    if (std::abs(half) > kQuarter / 2 + kSameAngle) return std::nullopt;  // the finger lies between
    const double middle = b.angle + half;
    const Vec3 out{std::cos(middle), std::sin(middle), 0};
    const Vec3 round{-out.y, out.x, 0};
    const auto inRing = [&](const Vec3& p) { return p.x * out + p.y * round + Vec3{0, 0, p.z}; };

    double outside = 0;
    for (const Section* section : metal) {
        for (const Segment& s : segmentsWhere(*section, [](Tag) { return true; }))
            outside = std::max(outside, rectangleRound(s).high.r);
    }
    const double reachA = widest(*a.profile, outside), reachB = widest(*b.profile, outside);
    const double lowA = a.profile->offset - reachA, highA = a.profile->offset + reachA;
    const double lowB = b.profile->offset - reachB, highB = b.profile->offset + reachB;

    if (isTwin(a, b)) {
        if (half == 0) return std::nullopt;
        std::vector<double> places{a.profile->offset};
        for (const HolePiece& piece : a.profile->pieces) {
            for (const double radius : {piece.radius0, piece.radius1}) {
                places.push_back(a.profile->offset - radius);
                places.push_back(a.profile->offset + radius);
            }
        }
        std::vector<LandCell> cells = cellsOf(metal, lowA, highA, std::move(places));
        const auto away = [&](const LandCell& cell) {
            return std::abs(std::clamp(a.profile->offset, cell.from, cell.to) - a.profile->offset);
        };
        std::sort(cells.begin(), cells.end(),
                  [&](const LandCell& p, const LandCell& q) { return away(p) < away(q); });
        Twins twins(*a.profile, std::abs(half), below);
        for (const LandCell& cell : cells)
            twins.seekIn(cell, ends);
        if (!twins.found()) return std::nullopt;
        const double side = half > 0 ? 1 : -1;
        const Vec3 end = twins.end();
        return Land{twins.value(), inRing({end.x, side * end.y, end.z}),
                    inRing({end.x, -side * end.y, end.z}), twins.tag(), twins.tag()};
    }
    // Searched as seen from one side always, so that a ring and its mirror image measure alike.
    const double offA = a.profile->offset, offB = b.profile->offset;
    const bool flips = offA > offB || (offA == offB && offA < 0);
    const double round1 = half < 0 ? -1 : 1, along1 = flips ? -1 : 1;
    std::vector<Section> turnedRound;
    std::vector<const Section*> seen(metal.begin(), metal.end());
    HoleProfile profileA = *a.profile, profileB = *b.profile;
    double from = std::min(lowA, lowB), to = std::max(highA, highB);
    if (flips) {
        turnedRound.reserve(metal.size());
        for (std::size_t i = 0; i < metal.size(); ++i) {
            turnedRound.push_back(mirrored(*metal[i]));
            seen[i] = &turnedRound.back();
        }
        profileA.offset = -profileA.offset;
        profileB.offset = -profileB.offset;
        from = -std::exchange(to, -from);
    }
    const std::vector<LandCell> cells = cellsOf(seen, from, to, {});
    if (cells.empty()) return std::nullopt;
    const double cosine = std::cos(half), sine = std::sin(std::abs(half));
    Strangers strangers(cells, {&profileA, cosine, sine, 1}, {&profileB, cosine, -sine, -1});
    if (strangers.apart() < kSamePoint || strangers.apart() - reachA - reachB > below) return std::nullopt;
    std::optional<Land> land = strangers.shortest(ends);
    if (!land || land->value >= below) return std::nullopt;
    const auto back = [&](const Vec3& p) { return inRing({p.x, round1 * p.y, along1 * p.z}); };
    land->from = back(land->from);
    land->to = back(land->to);
    return land;
}

bool runsThrough(const StandingHole& hole, const Vec3& from, const Vec3& to) {
    constexpr double kEnd = 1e-6;
    const Line line{from, to - from};
    SeenHole seen{hole.profile, std::cos(hole.angle), std::sin(hole.angle), 1};
    const auto first = hit(seen, line);
    seen.side = -1;
    const auto last = hit(seen, line);
    return first && last && first->w < 1 - kEnd && last->w > kEnd;
}

}  // namespace bandwright::geometry
