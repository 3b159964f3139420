#include "short_way.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/tolerance.hpp"

namespace bandwright::geometry {

namespace {

constexpr std::size_t kMoves = 4;
constexpr double kTouch = 5e-7;            // mm: half a film; what a descent may leave
using Moves = std::array<double, kMoves>;  ///< along and round the first wall, then the second, mm
using Matrix = std::array<Moves, kMoves>;

double dot(const Moves& a, const Moves& b) {
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
}

/// A wall's piece, with places on it in mm along and round it.
class Strip {
  public:
    explicit Strip(const WallPiece& piece)
        : piece_(piece), length_(piece.length()), radius_(std::max(piece.radius0, piece.radius1)) {
        if (length_ == 0) return;
        out_ = (piece.x1 - piece.x0) / length_;
        wider_ = (piece.radius1 - piece.radius0) / length_;
    }

    double length() const { return length_; }
    Vec3 at(double along, double round) const { return piece_.at(shareOf(along), round / radius_); }
    /// How the place moves with either.
    std::array<Vec3, 2> tangents(double along, double round) const {
        const double turn = round / radius_, c = std::cos(turn), s = std::sin(turn);
        const double here = (piece_.radius0 + wider_ * along) / radius_;
        return {inFrame(out_, wider_ * c, wider_ * s), inFrame(0, -here * s, here * c)};
    }
    /// Where the middle of a patch of it lies.
    std::array<double, 2> middleOf(const WallPatch& p) const {
        return {planeNorm((p.x0 + p.x1) / 2 - piece_.x0, (p.radius0 + p.radius1) / 2 - piece_.radius0),
                (p.from + p.to) / 2 * radius_};
    }

  private:
    double shareOf(double along) const { return length_ > 0 ? along / length_ : 0; }
    Vec3 inFrame(double along, double across, double z) const {
        return {along * piece_.hole->cosine - across * piece_.hole->sine,
                along * piece_.hole->sine + across * piece_.hole->cosine, z};
    }

    WallPiece piece_;
    double length_, radius_;
    double out_ = 0, wider_ = 0;  ///< mm for each mm along it
};

/// A condition that must not be negative, mm, and how it changes.
struct Condition {
    double value = 0;
    Moves change;
    unsigned key = 0;  ///< of a Nearness, or one of those below
    Support support;   ///< without its force
};
/// Keys of conditions on z at the way's ends, and on places along a piece.
constexpr unsigned kStretch = 0x20000, kBounds = kStretch + 4;

/// All there is to know of a way to find a shorter one beside it.
struct Outlook {
    Way way;
    double value = 0;  ///< half of the squared length, mm2
    Moves change{};
    std::vector<Condition> conditions;
    double broken = 0;  ///< mm, of all conditions together
};

/// Downhill by quadratic steps with the conditions kept as far as they are linear (sequential quadratic
/// programming: Nocedal and Wright, Numerical Optimization, 2006, chapter 18).
class Descent {
  public:
    Descent(const LandMetal& metal, const WallPatch& a, const WallPatch& b)
        : metal_(metal), a_(a.whole), b_(b.whole) {
        const auto [alongA, roundA] = a_.middleOf(a);
        const auto [alongB, roundB] = b_.middleOf(b);
        at_ = {alongA, roundA, alongB, roundB};
        here_ = lookAt(at_);
    }

    ShortWay end() {
        constexpr int kMostSteps = 40;
        constexpr double kClose = 1e-10;  // mm
        for (int i = 0; i < kMostSteps; ++i) {
            const Moves step = bestStep();
            if (std::sqrt(dot(step, step)) < kClose || !take(step)) break;
        }
        ShortWay result{here_.way, kNever, {}};
        if (here_.broken > kTouch || metal_.outside(here_.way) > kTouch) return result;
        result.length = distance(here_.way.from, here_.way.to);
        bestStep();
        for (std::size_t i = 0; i < here_.conditions.size(); ++i) {
            const Condition& c = here_.conditions[i];
            if (forces_[i] <= 0 || c.key >= kBounds) continue;
            result.supports.push_back(c.support);
            result.supports.back().force = forces_[i] / std::max(kSamePoint, result.length);
        }
        return result;
    }

  private:
    /// Goes as much of a step as leads to a shorter way or to one that keeps the conditions better.
    bool take(const Moves& step) {
        weight_ = std::max(weight_, 2 * *std::max_element(forces_.begin(), forces_.end()));
        constexpr int kMostHalvings = 10;
        double share = 1;
        for (int i = 0; i < kMostHalvings; ++i, share /= 2) {
            Outlook there = lookAt(moved(at_, step, share));
            if (there.value + weight_ * there.broken >= here_.value + weight_ * here_.broken) continue;
            at_ = moved(at_, step, share);
            here_ = std::move(there);
            return true;
        }
        return false;
    }

    static Moves moved(Moves at, const Moves& step, double share) {
        for (std::size_t k = 0; k < kMoves; ++k)
            at[k] += share * step[k];
        return at;
    }

    Outlook lookAt(const Moves& at) const {
        constexpr double kSeenFrom = 0.3;  // mm
        Outlook result;
        const Way& way = result.way = {a_.at(at[0], at[1]), b_.at(at[2], at[3])};
        const auto ofA = a_.tangents(at[0], at[1]), ofB = b_.tangents(at[2], at[3]);
        const auto moves = [&](const Vec3& from, const Vec3& to) {
            return Moves{geometry::dot(from, ofA[0]), geometry::dot(from, ofA[1]), geometry::dot(to, ofB[0]),
                         geometry::dot(to, ofB[1])};
        };
        const Vec3 off = way.from - way.to;
        result.value = geometry::dot(off, off) / 2;
        result.change = moves(off, -1.0 * off);
        const auto add = [&](double value, const Moves& change, unsigned key, const Support& support) {
            result.conditions.push_back({value, change, key, support});
            result.broken += std::max(0.0, -value);
        };
        std::vector<Nearness> near;
        metal_.addEnds(way, kSeenFrom, near);
        metal_.addBetween(way, kSeenFrom, near);
        for (const Nearness& n : near) {
            const Vec3 g = n.gradient(way);
            add(n.margin, moves((1 - n.share) * g, n.share * g), n.key, {n});
        }
        const Vec3 still;
        for (unsigned k = 0; k < 2; ++k) {
            const Vec3& end = k == 0 ? way.from : way.to;
            const LandMetal::EndStretch stretch = metal_.stretchAt(end);
            Nearness there;
            there.share = k;
            for (const double side : {1.0, -1.0}) {
                const double wall = side > 0 ? stretch.to : stretch.from;
                const Vec3 back{0, 0, -side};
                add(side * (wall - end.z), moves(k == 0 ? back : still, k == 0 ? still : back),
                    kStretch + 2 * k + (side > 0 ? 0 : 1), {there, side, wall});
            }
        }
        for (const std::size_t along : {0U, 2U}) {
            const double length = (along == 0 ? a_ : b_).length();
            const unsigned key = kBounds + static_cast<unsigned>(along);
            Moves unit{};
            unit[along] = 1;
            add(at[along], unit, key, {});
            unit[along] = -1;
            add(length - at[along], unit, key + 1, {});
        }
        return result;
    }

    /// How the length and what the forces hold change with the place.
    Moves pullAt(const Moves& at) const {
        const Outlook there = lookAt(at);
        Moves result = there.change;
        for (std::size_t i = 0; i < here_.conditions.size(); ++i) {
            if (forces_[i] <= 0) continue;
            const auto same =
                std::find_if(there.conditions.begin(), there.conditions.end(),
                             [&](const Condition& c) { return c.key == here_.conditions[i].key; });
            const Moves& change = same == there.conditions.end() ? here_.conditions[i].change : same->change;
            result = moved(result, change, -forces_[i]);
        }
        return result;
    }

    Matrix bend() const {
        constexpr double kAside = 1e-5;  // mm
        Matrix result{};
        for (std::size_t k = 0; k < kMoves; ++k) {
            Moves unit{};
            unit[k] = 1;
            const Moves up = pullAt(moved(at_, unit, kAside)), down = pullAt(moved(at_, unit, -kAside));
            for (std::size_t j = 0; j < kMoves; ++j) {
                result[k][j] += (up[j] - down[j]) / (4 * kAside);
                result[j][k] += (up[j] - down[j]) / (4 * kAside);
            }
        }
        return result;
    }

    /// The inverse of a matrix with so much added on the diagonal; nothing where that is not positive
    /// definite.
    static std::optional<Matrix> inverse(Matrix a, double more) {
        constexpr double kPositive = 1e-7;
        Matrix result{};
        for (std::size_t k = 0; k < kMoves; ++k) {
            a[k][k] += more;
            result[k][k] = 1;
        }
        for (std::size_t k = 0; k < kMoves; ++k) {
            if (!(a[k][k] > kPositive)) return std::nullopt;
            const double scale = 1 / a[k][k];
            for (std::size_t j = 0; j < kMoves; ++j) {
                a[k][j] *= scale;
                result[k][j] *= scale;
            }
            for (std::size_t i = 0; i < kMoves; ++i) {
                if (i == k) continue;
                const double by = a[i][k];
                a[i] = moved(a[i], a[k], -by);
                result[i] = moved(result[i], result[k], -by);
            }
        }
        return result;
    }

    /// The step to the least of the quadratic that fits here, with every condition kept.
    Moves bestStep() {
        forces_.assign(here_.conditions.size(), 0.0);
        for (std::size_t i = 0; i < forces_.size(); ++i) {
            for (const auto& [key, force] : known_)
                if (key == here_.conditions[i].key) forces_[i] = force;
        }
        const Matrix bent = bend();
        std::optional<Matrix> softness;
        constexpr double kStiffest = 1e12;
        for (double more = 1e-6; !softness; more *= 4) {
            if (more > kStiffest) return {};
            softness = inverse(bent, more);
        }
        const auto yielding = [&](const Moves& v) {
            const Matrix& m = *softness;
            return Moves{dot(m[0], v), dot(m[1], v), dot(m[2], v), dot(m[3], v)};
        };
        free_ = moved({}, yielding(here_.change), -1);
        towards_.clear();
        for (const Condition& c : here_.conditions)
            towards_.push_back(yielding(c.change));
        forces_.assign(here_.conditions.size(), 0.0);
        const Moves step = keptStep();
        known_.clear();
        for (std::size_t i = 0; i < forces_.size(); ++i)
            if (forces_[i] > 0) known_.emplace_back(here_.conditions[i].key, forces_[i]);
        constexpr double kMost = 1;  // mm at once
        return moved({}, step, std::min(1.0, kMost / std::max(kSamePoint, std::sqrt(dot(step, step)))));
    }

    /// Holds one condition after the other, the most broken first (Goldfarb and Idnani, A numerically stable
    /// dual method for solving strictly convex quadratic programs, 1983).
    Moves keptStep() {
        constexpr double kKept = 1e-11;  // mm
        constexpr int kMostHeld = 40;
        std::vector<std::size_t> held;
        std::vector<bool> given(forces_.size(), false);
        Moves step = free_;
        for (int i = 0; i < kMostHeld; ++i) {
            std::optional<std::size_t> worst;
            double most = kKept;
            for (std::size_t k = 0; k < forces_.size(); ++k) {
                const double broken = -(here_.conditions[k].value + dot(here_.conditions[k].change, step));
                if (broken <= most || given[k] || std::find(held.begin(), held.end(), k) != held.end())
                    continue;
                most = broken;
                worst = k;
            }
            if (!worst) break;
            given[*worst] = !hold(*worst, held);
            step = free_;
            for (const std::size_t k : held)
                step = moved(step, towards_[k], forces_[k]);
        }
        return step;
    }

    /// Holds one more condition and lets go of those that then pull; false where it cannot be held.
    bool hold(std::size_t added, std::vector<std::size_t>& held) {
        const auto letGo = [&] {
            std::erase_if(held, [&](std::size_t k) {
                constexpr double kNone = 1e-14;
                if (forces_[k] > kNone) return false;
                forces_[k] = 0;
                return true;
            });
        };
        while (true) {
            std::vector<std::size_t> all = held;
            all.push_back(added);
            const std::vector<double> wanted = balanced(all, [&](std::size_t k) {
                return -(here_.conditions[k].value + dot(here_.conditions[k].change, free_));
            });
            if (wanted.empty()) {
                if (!exchange(added, held)) return false;
                letGo();
                continue;
            }
            double share = 1;
            for (std::size_t k = 0; k < held.size(); ++k) {
                if (wanted[k] <= 0)
                    share = std::min(share, forces_[held[k]] / (forces_[held[k]] - wanted[k]));
            }
            for (std::size_t k = 0; k < all.size(); ++k)
                forces_[all[k]] += share * (wanted[k] - forces_[all[k]]);
            if (share == 1) {
                held = all;
                return true;
            }
            letGo();
        }
    }

    /// Gives a condition that follows from those held the place of one of them.
    bool exchange(std::size_t added, const std::vector<std::size_t>& held) {
        constexpr double kNone = 1e-12;
        const std::vector<double> shares =
            balanced(held, [&](std::size_t k) { return dot(here_.conditions[k].change, towards_[added]); });
        double least = kNever;
        for (std::size_t k = 0; k < shares.size(); ++k) {
            if (shares[k] > kNone) least = std::min(least, forces_[held[k]] / shares[k]);
        }
        if (!std::isfinite(least)) return false;
        for (std::size_t k = 0; k < shares.size(); ++k)
            forces_[held[k]] -= least * shares[k];
        forces_[added] += least;
        return true;
    }

    /// The forces on the conditions held that together do what is asked of each; nothing where these depend
    /// on each other.
    std::vector<double> balanced(const std::vector<std::size_t>& held, auto&& asked) const {
        constexpr double kIndependent = 1e-9;
        const std::size_t n = held.size();
        if (n > kMoves) return {};
        std::array<std::array<double, kMoves + 1>, kMoves> m{};
        for (std::size_t i = 0; i < n; ++i) {
            for (std::size_t j = 0; j < n; ++j)
                m[i][j] = dot(here_.conditions[held[i]].change, towards_[held[j]]);
            m[i][n] = asked(held[i]);
        }
        for (std::size_t k = 0; k < n; ++k) {
            const double alone = dot(here_.conditions[held[k]].change, towards_[held[k]]);
            if (!(m[k][k] > kIndependent * alone)) return {};
            for (std::size_t i = 0; i < n; ++i) {
                if (i == k) continue;
                const double by = m[i][k] / m[k][k];
                for (std::size_t j = k; j <= n; ++j)
                    m[i][j] -= by * m[k][j];
            }
        }
        std::vector<double> result;
        for (std::size_t k = 0; k < n; ++k)
            result.push_back(m[k][n] / m[k][k]);
        return result;
    }

    const LandMetal& metal_;
    Strip a_, b_;
    Moves at_{};
    Outlook here_;
    double weight_ = 1;                               ///< of what is broken against the length
    std::vector<double> forces_;                      ///< on each condition, mm
    std::vector<std::pair<unsigned, double>> known_;  ///< forces by key, of the step before
    Moves free_{};                                    ///< the step without conditions
    std::vector<Moves> towards_;                      ///< how the step gives way to a force on each
};

}  // namespace

ShortWay shortWayFrom(const LandMetal& metal, const WallPatch& a, const WallPatch& b) {
    return Descent(metal, a, b).end();
}

}  // namespace bandwright::geometry
