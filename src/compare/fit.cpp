#include "fit.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>
#include <numeric>
#include <unordered_map>

#include "geometry/tolerance.hpp"
#include "in_parts.hpp"

namespace bandwright::compare {

namespace {

using Rows = std::array<Vec3, 3>;

Vec3 times(const Rows& m, const Vec3& v) {
    return {dot(m[0], v), dot(m[1], v), dot(m[2], v)};
}
Rows transposed(const Rows& m) {
    return {{{m[0].x, m[1].x, m[2].x}, {m[0].y, m[1].y, m[2].y}, {m[0].z, m[1].z, m[2].z}}};
}
Rows times(const Rows& a, const Rows& b) {
    const Rows columns = transposed(b);
    return transposed({times(a, columns[0]), times(a, columns[1]), times(a, columns[2])});
}
/// Turns about an axis through the origin by its length, radians (Rodrigues).
Rows turnBy(const Vec3& w) {
    const double angle = length(w);
    const Vec3 k = angle > 0 ? 1 / angle * w : Vec3{0, 0, 1};
    const double c = std::cos(angle), s = std::sin(angle);
    const auto turned = [&](const Vec3& v) { return c * v + s * cross(k, v) + (1 - c) * dot(k, v) * k; };
    return transposed({turned({1, 0, 0}), turned({0, 1, 0}), turned({0, 0, 1})});
}

/// Rows made unit and square to each other again.
Rows squared(const Rows& m) {
    const Vec3 x = unit(m[0]);
    const Vec3 y = unit(m[1] - dot(m[1], x) * x);
    return {x, y, cross(x, y)};
}

/// What a body encloses: its volume, middle, and second moments about the middle.
struct Moments {
    double volume = 0;
    Vec3 middle;
    Rows second{};
};

Moments momentsOf(const std::vector<Vec3>& points, const std::vector<Corners>& triangles) {
    Moments m;
    const Vec3 from = points.front();
    Vec3 first;
    const auto add = [](Rows& to, double f, const Vec3& v) {
        to[0] = to[0] + f * v.x * v;
        to[1] = to[1] + f * v.y * v;
        to[2] = to[2] + f * v.z * v;
    };
    for (const Corners& t : triangles) {
        const Vec3 a = points[t[0]] - from, b = points[t[1]] - from, c = points[t[2]] - from;
        const double six = dot(a, cross(b, c));
        const Vec3 sum = a + b + c;
        m.volume += six / 6;
        first = first + six / 24 * sum;
        for (const Vec3& v : {a, b, c, sum})
            add(m.second, six / 120, v);
    }
    const Vec3 middle = 1 / m.volume * first;
    add(m.second, -m.volume, middle);
    m.middle = from + middle;
    return m;
}

/// The directions of a symmetric matrix, those of its least value first, by Jacobi's rotations.
Rows directionsOf(Rows m) {
    Rows v{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
    const auto at = [](Rows& r, int i, int k) -> double& {
        Vec3& row = r[static_cast<std::size_t>(i)];
        return k == 0 ? row.x : k == 1 ? row.y : row.z;
    };
    constexpr int kSweeps = 30;
    for (int sweep = 0; sweep < kSweeps; ++sweep) {
        for (const auto& [p, q] : {std::pair{0, 1}, {0, 2}, {1, 2}}) {
            const double off = at(m, p, q);
            if (off == 0) continue;
            const double theta = (at(m, q, q) - at(m, p, p)) / (2 * off);
            const double t = (theta < 0 ? -1 : 1) / (std::abs(theta) + std::hypot(theta, 1));
            const double c = 1 / std::hypot(t, 1), s = t * c;
            Rows g{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
            at(g, p, p) = c;
            at(g, q, q) = c;
            at(g, p, q) = s;
            at(g, q, p) = -s;
            m = times(transposed(g), times(m, g));
            v = times(v, g);
        }
    }
    Rows columns = transposed(v);
    std::array<int, 3> order = {0, 1, 2};
    std::ranges::sort(order, {}, [&](int i) { return at(m, i, i); });
    return {columns[static_cast<std::size_t>(order[0])], columns[static_cast<std::size_t>(order[1])],
            columns[static_cast<std::size_t>(order[2])]};
}

/// A point of the body, in its own frame.
struct Sample {
    Vec3 point, normal;
    double weight = 0;
};

std::vector<Sample> cornersOf(const geometry::Triangles& body) {
    std::vector<Sample> samples(body.points.size());
    for (std::size_t i = 0; i < samples.size(); ++i)
        samples[i].point = body.points[i];
    for (const Corners& t : body.triangles) {
        const Vec3 twice =
            cross(body.points[t[1]] - body.points[t[0]], body.points[t[2]] - body.points[t[0]]);
        for (const std::uint32_t corner : t) {
            samples[corner].weight += length(twice) / 6;
            samples[corner].normal = samples[corner].normal + twice;
        }
    }
    for (Sample& s : samples)
        s.normal = unit(s.normal);
    return samples;
}

std::vector<Sample> spread(const std::vector<Sample>& all, std::size_t most) {
    if (all.size() <= most) return all;
    std::vector<Sample> some;
    some.reserve(most);
    for (std::size_t i = 0; i < most; ++i)
        some.push_back(all[all.size() * i / most]);
    return some;
}

/// The least value that at least half of the weight does not exceed.
double median(std::vector<std::pair<double, double>>& valueAndWeight) {
    double whole = 0;
    for (const auto& [value, weight] : valueAndWeight)
        whole += weight;
    std::ranges::sort(valueAndWeight);
    double sum = 0;
    for (const auto& [value, weight] : valueAndWeight) {
        sum += weight;
        if (2 * sum >= whole) return value;
    }
    return 0;
}

// What a step may change: three turns, three shifts, the size.
constexpr std::size_t kFreedoms = 7;
using Row = std::array<double, kFreedoms>;
using Freedoms = std::array<bool, kFreedoms>;

/// Solves the normal equations by Gauss's way for those that are free; what they do not settle stays 0.
Row solved(std::array<Row, kFreedoms> a, Row b, const Freedoms& isFree) {
    Row x{};
    std::array<bool, kFreedoms> done{};
    std::array<std::size_t, kFreedoms> pivots{};
    std::size_t count = 0;
    double largest = 0;
    for (std::size_t i = 0; i < kFreedoms; ++i)
        if (isFree[i]) largest = std::max(largest, a[i][i]);
    for (;;) {
        std::size_t pivot = kFreedoms;
        for (std::size_t i = 0; i < kFreedoms; ++i)
            if (isFree[i] && !done[i] && (pivot == kFreedoms || a[i][i] > a[pivot][pivot])) pivot = i;
        constexpr double kSingular = 1e-14;
        if (pivot == kFreedoms || !(a[pivot][pivot] > kSingular * largest)) break;
        done[pivot] = true;
        pivots[count++] = pivot;
        for (std::size_t i = 0; i < kFreedoms; ++i) {
            if (!isFree[i] || done[i]) continue;
            const double f = a[i][pivot] / a[pivot][pivot];
            for (std::size_t k = 0; k < kFreedoms; ++k)
                a[i][k] -= f * a[pivot][k];
            b[i] -= f * b[pivot];
        }
    }
    while (count-- > 0) {
        const std::size_t i = pivots[count];
        double rest = b[i];
        for (std::size_t k = 0; k < kFreedoms; ++k)
            if (k != i) rest -= a[i][k] * x[k];
        x[i] = rest / a[i][i];
    }
    return x;
}

class Fitter {
  public:
    Fitter(const Nominal& nominal, const FitOptions& options) : nominal_(nominal), options_(options) {
        free_.fill(true);
        if (options.holdAxis) free_ = {false, false, true, false, false, true, true};
        if (nominal.isTurned()) free_[2] = false;
        free_[6] = options.scale;
    }

    /// How the points lie in a pose: mean distance, large ones counted as `cap`.
    double misfit(const std::vector<Sample>& samples, const Pose& pose, double cap) const {
        double sum = 0, whole = 0;
        for (const Sample& s : samples) {
            sum += s.weight * nominal_.roughDistance(pose(s.point), cap);
            whole += s.weight;
        }
        return sum / whole;
    }

    struct Improved {
        Pose pose;
        double typical = 0, leftOut = 0, misfit = 0;
    };

    /// Newton's steps on the distances, each weighted by Tukey's biweight, whose reach narrows from `reach`
    /// to some deviations of what most of the points do.
    Improved improved(const std::vector<Sample>& samples, Pose pose, double reach, int mostSteps) const {
        constexpr double kNarrowing = 0.5, kLeastReach = 1e-6, kEnd = 1e-13;
        constexpr double kTukey = 4.685, kDeviationOfMedian = 1.4826;  // of normal errors (Huber, 1981)
        Improved result;
        std::vector<NominalPlace> places(samples.size());
        std::vector<std::pair<double, double>> sizes(samples.size());
        for (int step = 0;; ++step) {
            inParts(samples.size(), [&](std::size_t from, std::size_t to) {
                for (std::size_t i = from; i < to; ++i)
                    places[i] = placeOf(samples[i], pose, places[i].triangle);
            });
            for (std::size_t i = 0; i < samples.size(); ++i)
                sizes[i] = {std::abs(places[i].distance), samples[i].weight};
            result.typical = median(sizes);
            const double floor = std::max(kTukey * kDeviationOfMedian * result.typical, kLeastReach);
            const bool isNarrow = reach <= floor;
            const double limit = std::max(reach, floor);
            reach *= kNarrowing;
            std::array<Row, kFreedoms> a{};
            Row b{};
            double without = 0, whole = 0, sum = 0;
            for (std::size_t i = 0; i < samples.size(); ++i) {
                const double d = places[i].distance;
                whole += samples[i].weight;
                sum += samples[i].weight * std::min(std::abs(d), kCap);
                if (std::abs(d) >= limit) {
                    without += samples[i].weight;
                    continue;
                }
                const double share = 1 - d * d / (limit * limit);
                const double weight = samples[i].weight * share * share;
                const Vec3 p = pose(samples[i].point);
                const Vec3 n = places[i].normal;
                const Vec3 w = cross(p, n);
                const Row row = {w.x, w.y, w.z, n.x, n.y, n.z, dot(n, p)};
                for (std::size_t r = 0; r < kFreedoms; ++r) {
                    for (std::size_t c = 0; c < kFreedoms; ++c)
                        a[r][c] += weight * row[r] * row[c];
                    b[r] -= weight * row[r] * d;
                }
            }
            result.pose = pose;
            result.leftOut = without / whole;
            result.misfit = sum / whole;
            if (step == mostSteps) return result;
            const Row x = solved(a, b, free_);
            const Rows turn = turnBy({x[0], x[1], x[2]});
            pose.turn = squared(times(turn, pose.turn));
            pose.scale *= 1 + x[6];
            pose.shift = (1 + x[6]) * times(turn, pose.shift) + Vec3{x[3], x[4], x[5]};
            const double moved = std::inner_product(x.begin(), x.end(), x.begin(), 0.0);
            if (isNarrow && moved < kEnd * kEnd) return result;
        }
    }

    static constexpr double kCap = 0.3;  // mm; farther is no nearer to a match

  private:
    NominalPlace placeOf(const Sample& s, const Pose& pose, std::uint32_t guess) const {
        return nominal_.hasSeveralParts() ? nominal_.at(pose(s.point), pose.direction(s.normal))
                                          : nominal_.at(pose(s.point), guess);
    }

    const Nominal& nominal_;
    const FitOptions& options_;
    Freedoms free_{};
};

/// Points of the body, spread over all of it, and as many again of those that tell how far it is turned about
/// its axis: where along the ring's circle only a part is like them.
std::vector<Sample> tellingPoints(const geometry::Triangles& body, const Pose& pose) {
    constexpr double kLongest = 0.25, kCell = 0.1;  // mm
    constexpr std::size_t kWay = 64, kMost = 300;
    constexpr double kWhole = 0.6;
    struct Piece {
        Sample sample;
        std::uint64_t cell = 0;
    };
    std::vector<Piece> pieces;
    std::unordered_map<std::uint64_t, std::uint64_t> seen;
    for (const Corners& t : body.triangles) {
        const std::array<Vec3, 3> corners = {body.points[t[0]], body.points[t[1]], body.points[t[2]]};
        forEachPiece(corners, kLongest / pose.scale, [&](const Vec3& middle, double area) {
            const Vec3 p = pose(middle);
            const auto z = static_cast<std::int32_t>(std::floor(p.z / kCell));
            const auto r = static_cast<std::int32_t>(std::floor(std::hypot(p.x, p.y) / kCell));
            const double turn = std::atan2(p.y, p.x) / (2 * std::numbers::pi) + 0.5;
            const auto way = std::min<std::size_t>(kWay - 1, static_cast<std::size_t>(turn * kWay));
            const std::uint64_t cell =
                (std::uint64_t{static_cast<std::uint32_t>(z)} << 32U) | static_cast<std::uint32_t>(r);
            seen[cell] |= std::uint64_t{1} << way;
            pieces.push_back({{middle, normalOf(corners), area}, cell});
        });
    }
    std::vector<Sample> all, telling;
    for (const Piece& piece : pieces) {
        all.push_back(piece.sample);
        if (std::popcount(seen[piece.cell]) < kWhole * kWay) telling.push_back(piece.sample);
    }
    std::vector<Sample> chosen = spread(all, kMost);
    const std::vector<Sample> some = spread(telling, 2 * kMost);
    chosen.insert(chosen.end(), some.begin(), some.end());
    return chosen;
}

/// The middle of the body on the middle of the design, its axis along the design's, and turned about that.
class Starts {
  public:
    Starts(const Nominal& nominal, const geometry::Triangles& body, const FitOptions& options)
        : design_(momentsOf(nominal.points(), nominal.triangles())),
          body_(momentsOf(body.points, body.triangles)),
          options_(options) {
        const Rows own = directionsOf(design_.second), theirs = directionsOf(body_.second);
        std::size_t axis = 0;
        for (std::size_t i = 1; i < 3; ++i)
            if (std::abs(own[i].z) > std::abs(own[axis].z)) axis = i;
        designFrame_ = frame(own, axis);
        bodyFrame_ = frame(theirs, axis);
        scale_ = options.scale ? std::cbrt(design_.volume / body_.volume) : options.mmPerUnit;
    }

    Pose at(double turn, bool otherWayRound) const {
        Pose pose;
        pose.scale = scale_;
        if (options_.holdAxis) {
            pose.turn = turnBy({0, 0, turn});
            const Vec3 away = design_.middle - scale_ * times(pose.turn, body_.middle);
            pose.shift = {0, 0, away.z};
            return pose;
        }
        Rows between = turnBy({0, 0, turn});
        if (otherWayRound) between = times(between, Rows{{{1, 0, 0}, {0, -1, 0}, {0, 0, -1}}});
        pose.turn = squared(times(transposed(designFrame_), times(between, bodyFrame_)));
        pose.shift = design_.middle - scale_ * times(pose.turn, body_.middle);
        return pose;
    }

  private:
    /// Rows x, y and the axis, right-handed, the axis upwards.
    static Rows frame(const Rows& directions, std::size_t axis) {
        const Vec3 z = directions[axis].z < 0 ? -1.0 * directions[axis] : directions[axis];
        const Vec3 x = directions[(axis + 1) % 3];
        return {x, cross(z, x), z};
    }

    Moments design_, body_;
    const FitOptions& options_;
    Rows designFrame_{}, bodyFrame_{};
    double scale_ = 1;
};

/// A start is given up where its points lie so much worse than those of the best.
constexpr double kHopeless = 1.5;

struct Candidate {
    Pose pose;
    double misfit = 0;
};

/// The best turns of a coarse search, refined on few points; best first.
std::vector<Candidate> roughFits(const Fitter& fitter, const Starts& starts, const Nominal& nominal,
                                 const geometry::Triangles& body, const FitOptions& options) {
    constexpr std::size_t kMostAWay = 16;
    constexpr int kSteps = 8;
    const std::vector<Sample> points = tellingPoints(body, starts.at(0, false));
    const std::size_t turns = nominal.isTurned() ? 1 : 180;
    std::vector<Candidate> result;
    for (const bool otherWay : {false, true}) {
        if (otherWay && options.holdAxis) break;
        std::vector<Candidate> tried(turns);
        inParts(turns, [&](std::size_t from, std::size_t to) {
            for (std::size_t i = from; i < to; ++i) {
                const double turn =
                    2 * std::numbers::pi * static_cast<double>(i) / static_cast<double>(turns);
                tried[i].pose = starts.at(turn, otherWay);
                tried[i].misfit = fitter.misfit(points, tried[i].pose, Fitter::kCap);
            }
        });
        std::vector<Candidate> lowest;
        for (std::size_t i = 0; i < turns; ++i) {
            if (tried[i].misfit <= tried[(i + 1) % turns].misfit &&
                tried[i].misfit <= tried[(i + turns - 1) % turns].misfit)
                lowest.push_back(tried[i]);
        }
        std::ranges::stable_sort(lowest, {}, &Candidate::misfit);
        if (lowest.size() > kMostAWay) lowest.resize(kMostAWay);
        for (const Candidate& start : lowest) {
            if (start.misfit > kHopeless * lowest.front().misfit) break;
            const Fitter::Improved better = fitter.improved(points, start.pose, 1.0, kSteps);
            result.push_back({better.pose, better.misfit});
            if (options.progress)
                options.progress(0.5 * static_cast<double>(result.size()) / (2 * kMostAWay));
        }
    }
    std::ranges::stable_sort(result, {}, &Candidate::misfit);
    return result;
}

bool isSamePose(const Pose& a, const Pose& b) {
    constexpr double kSame = 1e-3;
    double away = 0;
    for (std::size_t i = 0; i < 3; ++i)
        away = std::max(away, length(a.turn[i] - b.turn[i]));
    return away < kSame;
}

}  // namespace

Vec3 normalOf(const std::array<Vec3, 3>& t) {
    return unit(cross(t[1] - t[0], t[2] - t[0]));
}

void forEachPiece(const std::array<Vec3, 3>& t, double longest,
                  const std::function<void(const Vec3&, double)>& take) {
    std::size_t side = 0;
    double most = -1;
    for (std::size_t i = 0; i < 3; ++i) {
        const Vec3 edge = t[(i + 1) % 3] - t[i];
        if (dot(edge, edge) <= most) continue;
        most = dot(edge, edge);
        side = i;
    }
    if (most <= longest * longest) {
        take(1.0 / 3 * (t[0] + t[1] + t[2]), 0.5 * length(cross(t[1] - t[0], t[2] - t[0])));
        return;
    }
    const Vec3 a = t[side], b = t[(side + 1) % 3], c = t[(side + 2) % 3], middle = 0.5 * (a + b);
    forEachPiece({a, middle, c}, longest, take);
    forEachPiece({middle, b, c}, longest, take);
}

Vec3 Pose::direction(const Vec3& v) const {
    return times(turn, v);
}

Fit fitted(const Nominal& nominal, const geometry::Triangles& body, const FitOptions& options) {
    constexpr std::size_t kMostPoints = 40'000, kMostFinals = 16;
    constexpr int kSteps = 60;
    constexpr double kAlike = 0.01, kNoise = 1e-4, kReach = 0.2;
    const Fitter fitter(nominal, options);
    const std::vector<Candidate> rough =
        roughFits(fitter, Starts(nominal, body, options), nominal, body, options);
    const std::vector<Sample> points = spread(cornersOf(body), kMostPoints);
    std::vector<Fitter::Improved> finals;
    for (const Candidate& candidate : rough) {
        if (finals.size() == kMostFinals || candidate.misfit > kHopeless * rough.front().misfit + kNoise)
            break;
        if (std::ranges::any_of(finals, [&](const auto& f) { return isSamePose(f.pose, candidate.pose); }))
            continue;
        finals.push_back(fitter.improved(points, candidate.pose, kReach, kSteps));
        if (options.progress) options.progress(0.5 + 0.5 * static_cast<double>(finals.size()) / kMostFinals);
    }
    const auto best = std::ranges::min_element(finals, {}, &Fitter::Improved::misfit);
    Fit result;
    result.pose = best->pose;
    result.factor = best->pose.scale / options.mmPerUnit;
    result.turnIsFree = nominal.isTurned();
    result.alike = static_cast<std::size_t>(std::ranges::count_if(
        finals, [&](const auto& f) { return f.misfit <= (1 + kAlike) * best->misfit + geometry::kFilm; }));
    result.typical = best->typical;
    result.leftOut = best->leftOut;
    return result;
}

Fit fit(const Designed& designed, const geometry::Triangles& body, const FitOptions& options) {
    return fitted(designed.nominal(), body, options);
}

}  // namespace bandwright::compare
