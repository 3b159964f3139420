#include "crossing.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <numeric>

#include "arithmetic.hpp"

namespace bandwright::geometry {

namespace {

/// Heights over a plane below this are rounding, mm.
constexpr double kOnIt = 1e-12;

struct Box {
    Vec3 least, most;
};

bool overlap(const Box& a, const Box& b) {
    return a.least.x <= b.most.x && b.least.x <= a.most.x && a.least.y <= b.most.y && b.least.y <= a.most.y &&
           a.least.z <= b.most.z && b.least.z <= a.most.z;
}

/// A pair of triangles: first those corners of each that the other has too, in the same order.
struct Pair {
    std::array<Vec3, 3> a, b;
    int shared = 0;
};

struct Flat {
    double u, v;
};

double turn(Flat a, Flat b, Flat c) {
    return (b.u - a.u) * (c.v - a.v) - (b.v - a.v) * (c.u - a.u);
}

bool isOpposite(double p, double q) {
    return (p > 0 && q < 0) || (p < 0 && q > 0);
}

double onIt(double height) {
    return std::abs(height) < kOnIt ? 0 : height;
}

/// A triangle, the plane it lies in, and that plane seen from where least of it is lost.
class Face {
  public:
    explicit Face(const std::array<Vec3, 3>& corners) : corners_(corners) {
        const Vec3 across = cross(corners[1] - corners[0], corners[2] - corners[0]);
        const double size = length(across);
        normal_ = (size > 0 ? 1 / size : 0) * across;
        for (std::size_t k = 0; k < 3; ++k)
            flat_[k] = flat(corners[k]);
    }

    double height(const Vec3& p) const { return onIt(dot(normal_, p - corners_[0])); }

    /// Of a place in the plane; the outline is part of it.
    bool holds(const Vec3& p) const {
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 side = corners_[(k + 1) % 3] - corners_[k];
            if (dot(cross(side, p - corners_[k]), normal_) < -kOnIt * length(side)) return false;
        }
        return true;
    }

    bool hasInside(const Vec3& p) const {
        for (std::size_t k = 0; k < 3; ++k) {
            const Vec3 side = corners_[(k + 1) % 3] - corners_[k];
            if (dot(cross(side, p - corners_[k]), normal_) <= kOnIt * length(side)) return false;
        }
        return true;
    }

    /// Whether a line in the plane, between its ends, crosses the outline.
    bool isCrossedBy(const Vec3& from, const Vec3& to) const {
        const Flat p = flat(from), q = flat(to);
        for (std::size_t k = 0; k < 3; ++k) {
            const Flat r = flat_[k], s = flat_[(k + 1) % 3];
            if (isOpposite(onIt(turn(p, q, r)), onIt(turn(p, q, s))) &&
                isOpposite(onIt(turn(r, s, p)), onIt(turn(r, s, q))))
                return true;
        }
        return false;
    }

    /// Whether a third corner lies in the plane on the same side of the first edge.
    bool foldsOver(const Vec3& third) const {
        return onIt(turn(flat_[0], flat_[1], flat_[2])) * onIt(turn(flat_[0], flat_[1], flat(third))) > 0;
    }

  private:
    Flat flat(const Vec3& p) const {
        const double x = std::abs(normal_.x), y = std::abs(normal_.y), z = std::abs(normal_.z);
        if (z >= x && z >= y) return {p.x, p.y};
        return x >= y ? Flat{p.y, p.z} : Flat{p.z, p.x};
    }

    const std::array<Vec3, 3>& corners_;
    Vec3 normal_;
    std::array<Flat, 3> flat_{};
};

/// Whether an edge of one triangle meets another, but for the first corner where they share it.
bool meets(const std::array<Vec3, 3>& edges, const Face& face, int shared) {
    for (std::size_t k = 0; k < 3; ++k) {
        const Vec3& p = edges[k];
        const Vec3& q = edges[(k + 1) % 3];
        const double from = face.height(p);
        const double to = face.height(q);
        if (from == 0 && to == 0) {
            if (face.isCrossedBy(p, q) || face.hasInside(p) || face.hasInside(q)) return true;
            continue;
        }
        const bool leavesShared = shared == 1 && (k == 0 || k == 2);
        if (leavesShared || from * to > 0) continue;
        if (face.holds(p + (from / (from - to)) * (q - p))) return true;
    }
    return false;
}

bool meetInMoreThanTheShared(const Pair& pair) {
    const Face a(pair.a);
    if (pair.shared == 2) return a.height(pair.b[2]) == 0 && a.foldsOver(pair.b[2]);
    const Face b(pair.b);
    return meets(pair.b, a, pair.shared) || meets(pair.a, b, pair.shared);
}

/// Corners in another order of the same way round, `first` in front.
std::array<Vec3, 3> ordered(std::span<const Vec3> points, const Corners& t,
                            const std::array<bool, 3>& isShared) {
    std::array<Vec3, 3> result{};
    std::size_t at = 0;
    for (const bool wanted : {true, false}) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (isShared[k] == wanted) result[at++] = points[t[k]];
        }
    }
    return result;
}

bool cross(std::span<const Vec3> points, const Corners& a, const Corners& b) {
    std::array<bool, 3> inA{}, inB{};
    Pair pair;
    Corners sharedOfB{};
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (a[i] != b[k]) continue;
            inA[i] = inB[k] = true;
            sharedOfB[static_cast<std::size_t>(pair.shared++)] = b[k];
        }
    }
    if (pair.shared == 3) return true;
    pair.a = ordered(points, a, inA);
    pair.b = ordered(points, b, inB);
    // The two shared corners in the same order.
    if (pair.shared == 2 && !(points[sharedOfB[0]] == pair.b[0])) std::swap(pair.b[0], pair.b[1]);
    return meetInMoreThanTheShared(pair);
}

}  // namespace

bool anyCross(std::span<const Vec3> points, std::span<const Corners> triangles, std::size_t suspects) {
    std::vector<Box> boxes;
    boxes.reserve(triangles.size());
    for (const Corners& t : triangles) {
        Box box{points[t[0]], points[t[0]]};
        for (const std::uint32_t corner : t) {
            const Vec3& p = points[corner];
            box.least = {std::min(box.least.x, p.x), std::min(box.least.y, p.y), std::min(box.least.z, p.z)};
            box.most = {std::max(box.most.x, p.x), std::max(box.most.y, p.y), std::max(box.most.z, p.z)};
        }
        boxes.push_back(box);
    }
    std::vector<std::uint32_t> order(triangles.size());
    std::iota(order.begin(), order.end(), 0U);
    std::sort(order.begin(), order.end(),
              [&](std::uint32_t a, std::uint32_t b) { return boxes[a].least.z < boxes[b].least.z; });
    std::vector<std::uint32_t> suspected;
    std::copy_if(order.begin(), order.end(), std::back_inserter(suspected),
                 [&](std::uint32_t t) { return t < suspects; });
    const auto crossesOne = [&](std::uint32_t a, const std::vector<std::uint32_t>& others, std::size_t k) {
        for (; k < others.size() && boxes[others[k]].least.z <= boxes[a].most.z; ++k) {
            if (overlap(boxes[a], boxes[others[k]]) && cross(points, triangles[a], triangles[others[k]]))
                return true;
        }
        return false;
    };
    std::size_t passed = 0;  // of the suspected
    for (std::size_t i = 0; i < order.size(); ++i) {
        const std::uint32_t a = order[i];
        if (a < suspects) ++passed;
        if (a < suspects ? crossesOne(a, order, i + 1) : crossesOne(a, suspected, passed)) return true;
    }
    return false;
}

}  // namespace bandwright::geometry
