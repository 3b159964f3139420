#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <limits>
#include <vector>

#include "geometry/vector.hpp"

/// A tree of boxes over triangles, asked for what is nearest to a point. Private to the room.
namespace bandwright::compare {

using geometry::Vec3;
using Corners = std::array<std::uint32_t, 3>;

/// Of length 1; of what has no length, some direction.
inline Vec3 unit(const Vec3& v) {
    const double size = length(v);
    return size > 0 ? 1 / size * v : Vec3{0, 0, 1};
}

/// The part of a triangle on which its nearest point lies: inside, or where it meets its neighbours.
enum class Site : std::uint8_t { Inside, Edge01, Edge12, Edge20, Corner0, Corner1, Corner2 };

struct Nearest {
    std::uint32_t triangle = std::numeric_limits<std::uint32_t>::max();
    Site site = Site::Inside;
    Vec3 point;
    double squared = std::numeric_limits<double>::infinity();  ///< of the distance

    bool found() const { return triangle != std::numeric_limits<std::uint32_t>::max(); }
};

/// The point of a triangle that is nearest to p; its number is left open.
Nearest nearestOn(const std::array<Vec3, 3>& corners, const Vec3& p);

/// Where a ray meets a triangle.
struct Hit {
    std::uint32_t triangle = std::numeric_limits<std::uint32_t>::max();
    double distance = std::numeric_limits<double>::infinity();
};

class TriangleTree {
  public:
    TriangleTree() = default;
    TriangleTree(const std::vector<Vec3>& points, const std::vector<Corners>& triangles);

    /// The nearest point of the triangles that is nearer than the root of `within`. Those that `allowed`
    /// refuses are passed over; without it all are taken.
    Nearest nearest(const Vec3& p, double within = std::numeric_limits<double>::infinity(),
                    const std::function<bool(std::uint32_t)>* allowed = nullptr) const;

    /// The same, begun at a triangle that may be near.
    Nearest nearestFrom(std::uint32_t guess, const Vec3& p) const;

    /// The first triangle that a ray meets from behind, as it leaves what the triangles enclose; nearer than
    /// `from` and farther than `to` none is taken. The direction is unit.
    Hit leaves(const Vec3& origin, const Vec3& direction, double from, double to) const;

    const std::array<Vec3, 3>& corners(std::uint32_t triangle) const { return corners_[placeOf_[triangle]]; }

  private:
    struct Box {
        Vec3 low, high;
    };
    struct Node {
        Box box;
        std::uint32_t first = 0;  ///< of a leaf: its first place; else its second child, the first follows it
        std::uint32_t count = 0;  ///< of a leaf
    };
    struct Item {
        Box box;
        Vec3 middle;
        std::uint32_t triangle = 0;
    };

    void build(std::vector<Item>& items, std::size_t from, std::size_t to);
    static double squaredTo(const Box& box, const Vec3& p);

    std::vector<Node> nodes_;
    std::vector<std::array<Vec3, 3>> corners_;  ///< in the order of the leaves
    std::vector<std::uint32_t> triangleAt_;     ///< of each place
    std::vector<std::uint32_t> placeOf_;        ///< of each triangle
};

}  // namespace bandwright::compare
