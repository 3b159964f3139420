#include "crossing.hpp"

#include <algorithm>
#include <cmath>

#include "arithmetic.hpp"

namespace bandwright::geometry {

namespace {

/// Heights over a plane below this are rounding, mm.
constexpr double kOnIt = 1e-12;

struct Bounds {
    Vec3 least, most;
};

Vec3 least(const Vec3& a, const Vec3& b) {
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::min(a.z, b.z)};
}

Vec3 most(const Vec3& a, const Vec3& b) {
    return {std::max(a.x, b.x), std::max(a.y, b.y), std::max(a.z, b.z)};
}

bool overlap(const Bounds& a, const Bounds& b) {
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

/// The shared corners in front.
std::array<Vec3, 3> ordered(const std::array<Vec3, 3>& places, const std::array<bool, 3>& isShared) {
    std::array<Vec3, 3> result{};
    std::size_t at = 0;
    for (const bool wanted : {true, false}) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (isShared[k] == wanted) result[at++] = places[k];
        }
    }
    return result;
}

struct Candidate {
    CornerPoints corners{};
    std::array<Vec3, 3> places{};
    Vec3 normal;
    Bounds box;
    bool isSuspect = false;
};

Candidate candidate(std::span<const Vec3> points, const CornerPoints& corners) {
    Candidate c{corners, {points[corners[0]], points[corners[1]], points[corners[2]]}, {}, {}, false};
    const Vec3 across = cross(c.places[1] - c.places[0], c.places[2] - c.places[0]);
    const double size = length(across);
    c.normal = (size > 0 ? 1 / size : 0) * across;
    c.box = {least(least(c.places[0], c.places[1]), c.places[2]),
             most(most(c.places[0], c.places[1]), c.places[2])};
    return c;
}

/// Whether all of b but for the shared corners lies strictly on one side of a: most neighbours do.
bool isToOneSide(const Candidate& a, const Candidate& b, int shared) {
    int above = 0;
    int below = 0;
    for (const Vec3& p : b.places) {
        const double height = dot(a.normal, p - a.places[0]);
        above += height > kOnIt ? 1 : 0;
        below += height < -kOnIt ? 1 : 0;
    }
    return above == 3 - shared || below == 3 - shared;
}

bool doCross(const Candidate& a, const Candidate& b) {
    std::array<bool, 3> inA{}, inB{};
    int shared = 0;
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t k = 0; k < 3; ++k) {
            if (a.corners[i] != b.corners[k]) continue;
            inA[i] = inB[k] = true;
            ++shared;
        }
    }
    if (shared == 3) return true;
    if (isToOneSide(a, b, shared) || isToOneSide(b, a, shared)) return false;
    Pair pair{ordered(a.places, inA), ordered(b.places, inB), shared};
    // The two shared corners in the same order.
    if (shared == 2 && !(pair.a[0] == pair.b[0])) std::swap(pair.b[0], pair.b[1]);
    return meetInMoreThanTheShared(pair);
}

}  // namespace

bool anyCross(std::span<const Vec3> points, std::span<const CornerPoints> triangles, std::size_t suspects) {
    std::vector<Candidate> all;
    all.reserve(triangles.size());
    Bounds around;  // of the suspects
    for (std::size_t t = 0; t < triangles.size(); ++t) {
        Candidate made = candidate(points, triangles[t]);
        made.isSuspect = t < suspects;
        if (t == 0) around = made.box;
        if (made.isSuspect) around = {least(around.least, made.box.least), most(around.most, made.box.most)};
        if (made.isSuspect || overlap(made.box, around)) all.push_back(made);
    }
    std::sort(all.begin(), all.end(),
              [](const Candidate& a, const Candidate& b) { return a.box.least.y < b.box.least.y; });
    std::vector<const Candidate*> suspected;
    for (const Candidate& c : all) {
        if (c.isSuspect) suspected.push_back(&c);
    }
    const auto reaches = [](const Candidate& a, const Candidate& b) { return b.box.least.y <= a.box.most.y; };
    const auto crosses = [](const Candidate& a, const Candidate& b) {
        return overlap(a.box, b.box) && doCross(a, b);
    };
    std::size_t passed = 0;  // of the suspected
    for (std::size_t i = 0; i < all.size(); ++i) {
        const Candidate& a = all[i];
        if (a.isSuspect) {
            ++passed;
            for (std::size_t k = i + 1; k < all.size() && reaches(a, all[k]); ++k) {
                if (crosses(a, all[k])) return true;
            }
        } else {
            for (std::size_t k = passed; k < suspected.size() && reaches(a, *suspected[k]); ++k) {
                if (crosses(a, *suspected[k])) return true;
            }
        }
    }
    return false;
}

}  // namespace bandwright::geometry
