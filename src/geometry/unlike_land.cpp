#include "unlike_land.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <queue>
#include <set>
#include <utility>
#include <vector>

#include "geometry/tolerance.hpp"
#include "land_demand.hpp"
#include "short_way.hpp"

namespace bandwright::geometry {

namespace {

/// No way is shorter than the one told by more, mm.
constexpr double kProven = 2e-5;

/// How much of each mm that a place must be moved to meet a demand a way gets longer.
struct Pressure {
    Demand demand;
    double force = 0;
};

/// No way between the patches that meets the demands is shorter, whatever the direction n (of length 1) and
/// the forces: each adds what is not negative where its demand is met (weak duality, as in Boyd and
/// Vandenberghe, Convex Optimization, 2004, section 5.1.3).
double leastWith(const LandPatch& a, const LandPatch& b, const Vec3& n, const std::vector<Pressure>& on) {
    Vec3 alongA = n, alongB = -1.0 * n;
    double sum = 0;
    for (const auto& [demand, force] : on) {
        alongA = alongA - (force * (1 - demand.share)) * demand.gradient;
        alongB = alongB - (force * demand.share) * demand.gradient;
        sum += force * demand.least;
    }
    return a.wall.leastAlong(alongA) + b.wall.leastAlong(alongB) + sum;
}

/// How far places of a patch lie from its middle at most, along it and round it.
std::array<Vec3, 2> reachOf(const WallPatch& wall) {
    const double turn = (wall.from + wall.to) / 2;
    const Vec3 across = wall.at(0.5, turn + kQuarter) - wall.at(0.5, turn - kQuarter);
    return {0.5 * (wall.at(1, turn) - wall.at(0, turn)), (wall.to - wall.from) / 4 * across};
}

/// Sets the forces, one after the other, to what bounds the way best as far as walls are flat.
void balance(const LandPatch& a, const LandPatch& b, const Vec3& n, std::vector<Pressure>& on) {
    const auto reachA = reachOf(a.wall), reachB = reachOf(b.wall);
    using Pull = std::array<double, 4>;
    const auto pullOf = [&](const Vec3& p, const Vec3& q) {
        return Pull{dot(p, reachA[0]), dot(p, reachA[1]), dot(q, reachB[0]), dot(q, reachB[1])};
    };
    const Vec3 middleA = a.wall.middle(), middleB = b.wall.middle();
    Pull pull = pullOf(n, -1.0 * n);
    constexpr int kRounds = 3;
    for (int round = 0; round < kRounds; ++round) {
        for (auto& [demand, force] : on) {
            const double share = demand.share;
            const Pull g = pullOf((1 - share) * demand.gradient, share * demand.gradient);
            const double slack = dot(demand.gradient, middleA + share * (middleB - middleA)) - demand.least;
            for (std::size_t k = 0; k < g.size(); ++k)
                pull[k] += force * g[k];
            const auto bound = [&](double f) {
                double sum = -f * slack;
                for (std::size_t k = 0; k < g.size(); ++k)
                    sum -= std::abs(pull[k] - f * g[k]);
                return sum;
            };
            // It is concave with a kink wherever a pull vanishes.
            force = 0;
            double most = bound(0);
            for (std::size_t k = 0; k < g.size(); ++k) {
                const double f = g[k] == 0 ? 0 : pull[k] / g[k];
                if (f <= 0 || bound(f) <= most) continue;
                most = bound(f);
                force = f;
            }
            for (std::size_t k = 0; k < g.size(); ++k)
                pull[k] -= force * g[k];
        }
    }
}

double apart(const PlaceBox& a, const PlaceBox& b) {
    const auto gap = [](double low, double high, double from, double to) {
        return std::max({0.0, from - high, low - to});
    };
    return length(Vec3{gap(a.low.x, a.high.x, b.low.x, b.high.x), gap(a.low.y, a.high.y, b.low.y, b.high.y),
                       gap(a.low.z, a.high.z, b.low.z, b.high.z)});
}

/// The patches of one hole's wall, each cut in halves where asked for.
class Wall {
  public:
    Wall(const LandMetal& metal, double share) : metal_(metal), share_(share) {}

    void add(const WallPatch& wall) {
        if (auto patch = landPatch(metal_, wall, share_)) nodes_.push_back({std::move(*patch), 0, 0});
    }
    std::size_t size() const { return nodes_.size(); }
    const LandPatch& operator[](std::size_t i) const { return nodes_[i].patch; }

    struct Range {
        std::size_t begin, end;
    };
    Range halvesOf(std::size_t i) {
        if (nodes_[i].end == 0) {
            const std::size_t begin = nodes_.size();
            for (const WallPatch& half : halves(nodes_[i].patch.wall))
                add(half);
            nodes_[i].begin = begin;
            nodes_[i].end = nodes_.size();
        }
        return {nodes_[i].begin, nodes_[i].end};
    }

  private:
    struct Node {
        LandPatch patch;
        std::size_t begin, end;  ///< of its halves
    };
    const LandMetal& metal_;
    double share_;
    std::vector<Node> nodes_;
};

/// Branch and bound: pairs of patches of the two walls, the one with the least bound first, until none can
/// hold a way that is shorter than the shortest known (Land and Doig 1960).
class Search {
  public:
    /// Where ways only just clear what they run along, hardly anything can be proven: then it ends after so
    /// many pairs.
    Search(const LandMetal& metal, const SeenHole& a, const SeenHole& b, std::size_t mostTaken)
        : metal_(metal), a_(metal, 0), b_(metal, 1), mostTaken_(mostTaken) {
        double low = kNever, high = 0;
        std::vector<double> places;
        for (const CellStack& stack : metal.inside()) {
            for (const double z : {stack.from, stack.to}) {
                places.push_back(z);
                low = std::min(low, stack.cells.front().low.at(z));
                high = std::max(high, stack.cells.back().high.at(z));
            }
        }
        for (const WallPatch& p : patchesOf(a, low, high, places))
            a_.add(p);
        for (const WallPatch& p : patchesOf(b, low, high, places))
            b_.add(p);
    }

    std::optional<Land> shortest() {
        for (std::size_t i = 0; i < a_.size(); ++i) {
            for (std::size_t j = 0, count = b_.size(); j < count; ++j)
                look(i, j);
        }
        std::size_t taken = 0, nextDescent = 1;
        for (; !open_.empty() && taken < mostTaken_; ++taken) {
            const Pair pair = open_.top();
            if (pair.least >= enough()) break;
            open_.pop();
            const bool isNew = tried_.emplace(a_[pair.a].wall.piece, b_[pair.b].wall.piece).second;
            if (isNew || taken + 1 == nextDescent) {
                if (!isNew) nextDescent *= 2;
                offer(shortWayFrom(metal_, a_[pair.a].wall, b_[pair.b].wall), a_[pair.a].wall,
                      b_[pair.b].wall);
            }
            split(pair);
        }
        if (!std::isfinite(best_.length)) return std::nullopt;
        if (best_.supports.empty()) offer(shortWayFrom(metal_, bestA_, bestB_), bestA_, bestB_);
        const bool apart = best_.length > kProven;
        return Land{apart ? best_.length : 0, best_.way.from, apart ? best_.way.to : best_.way.from,
                    bestA_.piece->tag, bestB_.piece->tag};
    }

  private:
    struct Pair {
        double least;  ///< mm: no way between them is shorter
        std::size_t a, b;
        bool operator<(const Pair& other) const { return least > other.least; }
    };

    double enough() const { return best_.length - kProven; }

    void offer(ShortWay way, const WallPatch& a, const WallPatch& b) {
        if (way.length >= best_.length) return;
        best_ = std::move(way);
        bestA_ = a;
        bestB_ = b;
    }

    void offerEnds(const LandPatch& a, const LandPatch& b) {
        if (!a.end || !b.end) return;
        const Way way{*a.end, *b.end};
        const double value = distance(way.from, way.to);
        if (value < best_.length && metal_.outside(way) < kSamePoint) offer({way, value, {}}, a.wall, b.wall);
        if (isInside(*b.wall.hole, *a.end)) offer({{*a.end, *a.end}, 0, {}}, a.wall, b.wall);
        if (isInside(*a.wall.hole, *b.end)) offer({{*b.end, *b.end}, 0, {}}, a.wall, b.wall);
    }

    /// Takes up a pair unless its ways are too long or out of the metal.
    void look(std::size_t i, std::size_t j) {
        const LandPatch &a = a_[i], &b = b_[j];
        double least = apart(a.box, b.box);
        if (least >= enough()) return;
        const Way way{a.middle, b.middle};
        const double far = distance(way.from, way.to);
        const Vec3 n = far > 0 ? (1 / far) * (way.from - way.to) : Vec3{0, 1, 0};
        least = std::max(least, leastWith(a, b, n, {}));
        if (least >= enough()) return;
        if (!presses(a, b, way)) return;
        if (!pressures_.empty()) {
            balance(a, b, n, pressures_);
            least = std::max(least, leastWith(a, b, n, pressures_));
            if (least >= enough()) return;
        }
        if (std::isfinite(best_.length) && best_.length > kFilm) {
            if (!pressesAsBest(a, b)) return;
            const Vec3 m = (1 / best_.length) * (best_.way.from - best_.way.to);
            least = std::max(least, leastWith(a, b, m, pressures_));
            if (least >= enough()) return;
        }
        offerEnds(a, b);
        open_.push({least, i, j});
    }

    /// Collects the demands on ways between the patches; false where none can be in metal.
    bool presses(const LandPatch& a, const LandPatch& b, const Way& way) {
        constexpr double kSeenFrom = 1;  // mm
        pressures_.clear();
        for (const LandPatch* patch : {&a, &b}) {
            for (const Demand& demand : patch->demands)
                pressures_.push_back({demand, 0});
        }
        near_.clear();
        metal_.addBetween(way, kSeenFrom, near_);
        for (const Nearness& near : near_) {
            const auto [demand, possible] = demandBetween(metal_, a, b, near, way.at(near.share));
            if (!possible || (demand && demand->isMetNowhere(a.wall, b.wall))) return false;
            if (demand && !demand->isMetAllOver(a.wall, b.wall)) pressures_.push_back({*demand, 0});
        }
        return true;
    }

    /// The same with what holds the shortest way known, and its forces: near that way they bound best.
    bool pressesAsBest(const LandPatch& a, const LandPatch& b) {
        pressures_.clear();
        for (const Support& s : best_.supports) {
            const Vec3 place = best_.way.at(s.at.share);
            const bool isEnd = s.at.share == 0 || s.at.share == 1;
            const LandPatch& patch = s.at.share == 0 ? a : b;
            if (s.side != 0) {
                const double over = s.side > 0 ? patch.box.high.z - s.wall : s.wall - patch.box.low.z;
                if (over > kSamePoint) continue;
                pressures_.push_back({{s.at.share, {0, 0, -s.side}, -s.side * s.wall - kSamePoint}, s.force});
                continue;
            }
            const auto [demand, possible] =
                isEnd ? demandAtEnd(metal_, patch, s.at, place) : demandBetween(metal_, a, b, s.at, place);
            if (!possible) return false;
            if (demand) pressures_.push_back({*demand, s.force * s.at.scale});
        }
        return true;
    }

    void split(const Pair& pair) {
        if (a_[pair.a].wall.spread() >= b_[pair.b].wall.spread()) {
            const auto [begin, end] = a_.halvesOf(pair.a);
            for (std::size_t i = begin; i < end; ++i)
                look(i, pair.b);
        } else {
            const auto [begin, end] = b_.halvesOf(pair.b);
            for (std::size_t j = begin; j < end; ++j)
                look(pair.a, j);
        }
    }

    const LandMetal& metal_;
    Wall a_, b_;
    std::size_t mostTaken_;
    std::priority_queue<Pair> open_;
    std::set<std::pair<const HolePiece*, const HolePiece*>> tried_;
    std::vector<Nearness> near_;
    std::vector<Pressure> pressures_;
    ShortWay best_;
    WallPatch bestA_, bestB_;  ///< near its ends
};

/// The outside over each stretch of z, as a metal without thickness.
std::vector<LandCell> mouthsOf(std::span<const LandCell> cells) {
    std::vector<LandCell> mouths;
    for (const CellStack& stack : stacked(cells)) {
        const LandCell& top = stack.cells.back();
        if (isMouth(top.high)) mouths.push_back({top.from, top.to, top.high, top.high});
    }
    return mouths;
}

}  // namespace

std::optional<Land> unlikeLand(std::span<const LandCell> cells, const SeenHole& a, const SeenHole& b,
                               LandEnds ends) {
    if (ends == LandEnds::Anywhere) {
        const LandMetal metal(cells, cells, false);
        return Search(metal, a, b, 4000).shortest();
    }
    const std::vector<LandCell> mouths = mouthsOf(cells);
    if (mouths.empty()) return std::nullopt;
    const LandMetal metal(cells, mouths, true);
    return Search(metal, a, b, 1500).shortest();
}

}  // namespace bandwright::geometry
