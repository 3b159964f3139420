#include "triangle_tree.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace bandwright::compare {

namespace {

constexpr std::size_t kLeaf = 4;

double along(const Vec3& p, int axis) {
    return axis == 0 ? p.x : axis == 1 ? p.y : p.z;
}

Vec3 lower(const Vec3& a, const Vec3& b) {
    return {std::min(a.x, b.x), std::min(a.y, b.y), std::min(a.z, b.z)};
}
Vec3 higher(const Vec3& a, const Vec3& b) {
    return {std::max(a.x, b.x), std::max(a.y, b.y), std::max(a.z, b.z)};
}

Nearest at(const Vec3& p, const Vec3& point, Site site) {
    const Vec3 d = point - p;
    Nearest result;
    result.site = site;
    result.point = point;
    result.squared = dot(d, d);
    return result;
}

}  // namespace

/// By the regions that the lines through the corners, square to the edges, part the plane into (Ericson,
/// Real-Time Collision Detection, 2005, 5.1.5).
Nearest nearestOn(const std::array<Vec3, 3>& t, const Vec3& p) {
    const auto& [a, b, c] = t;
    const Vec3 ab = b - a, ac = c - a, ap = p - a;
    const double d1 = dot(ab, ap), d2 = dot(ac, ap);
    if (d1 <= 0 && d2 <= 0) return at(p, a, Site::Corner0);
    const Vec3 bp = p - b;
    const double d3 = dot(ab, bp), d4 = dot(ac, bp);
    if (d3 >= 0 && d4 <= d3) return at(p, b, Site::Corner1);
    const double vc = d1 * d4 - d3 * d2;
    if (vc <= 0 && d1 >= 0 && d3 <= 0) return at(p, a + d1 / (d1 - d3) * ab, Site::Edge01);
    const Vec3 cp = p - c;
    const double d5 = dot(ab, cp), d6 = dot(ac, cp);
    if (d6 >= 0 && d5 <= d6) return at(p, c, Site::Corner2);
    const double vb = d5 * d2 - d1 * d6;
    if (vb <= 0 && d2 >= 0 && d6 <= 0) return at(p, a + d2 / (d2 - d6) * ac, Site::Edge20);
    const double va = d3 * d6 - d5 * d4;
    if (va <= 0 && d4 - d3 >= 0 && d5 - d6 >= 0) {
        const double share = (d4 - d3) / ((d4 - d3) + (d5 - d6));
        return at(p, b + share * (c - b), Site::Edge12);
    }
    const double sum = va + vb + vc;
    return at(p, a + vb / sum * ab + vc / sum * ac, Site::Inside);
}

TriangleTree::TriangleTree(const std::vector<Vec3>& points, const std::vector<Corners>& triangles) {
    std::vector<Item> items(triangles.size());
    for (std::size_t i = 0; i < triangles.size(); ++i) {
        const Vec3 a = points[triangles[i][0]], b = points[triangles[i][1]], c = points[triangles[i][2]];
        const Box box = {lower(a, lower(b, c)), higher(a, higher(b, c))};
        items[i] = {box, 0.5 * (box.low + box.high), static_cast<std::uint32_t>(i)};
    }
    nodes_.reserve(triangles.size());
    if (!items.empty()) build(items, 0, items.size());
    corners_.reserve(items.size());
    triangleAt_.reserve(items.size());
    placeOf_.resize(items.size());
    for (const Item& item : items) {
        const Corners& t = triangles[item.triangle];
        placeOf_[item.triangle] = static_cast<std::uint32_t>(triangleAt_.size());
        triangleAt_.push_back(item.triangle);
        corners_.push_back({points[t[0]], points[t[1]], points[t[2]]});
    }
}

/// Halves where the middles lie farthest apart.
void TriangleTree::build(std::vector<Item>& items, std::size_t from, std::size_t to) {
    Box box = items[from].box;
    Vec3 low = items[from].middle, high = low;
    for (std::size_t i = from + 1; i < to; ++i) {
        box = {lower(box.low, items[i].box.low), higher(box.high, items[i].box.high)};
        low = lower(low, items[i].middle);
        high = higher(high, items[i].middle);
    }
    const std::size_t number = nodes_.size();
    nodes_.push_back({box, static_cast<std::uint32_t>(from), static_cast<std::uint32_t>(to - from)});
    if (to - from <= kLeaf) return;
    const Vec3 size = high - low;
    const int axis = size.x >= size.y && size.x >= size.z ? 0 : size.y >= size.z ? 1 : 2;
    const std::size_t middle = from + (to - from) / 2;
    const auto place = [&](std::size_t i) { return items.begin() + static_cast<std::ptrdiff_t>(i); };
    std::nth_element(place(from), place(middle), place(to), [axis](const Item& a, const Item& b) {
        const double x = along(a.middle, axis), y = along(b.middle, axis);
        return x < y || (x == y && a.triangle < b.triangle);
    });
    build(items, from, middle);
    nodes_[number].first = static_cast<std::uint32_t>(nodes_.size());
    nodes_[number].count = 0;
    build(items, middle, to);
}

double TriangleTree::squaredTo(const Box& box, const Vec3& p) {
    const double x = std::max({box.low.x - p.x, 0.0, p.x - box.high.x});
    const double y = std::max({box.low.y - p.y, 0.0, p.y - box.high.y});
    const double z = std::max({box.low.z - p.z, 0.0, p.z - box.high.z});
    return x * x + y * y + z * z;
}

Nearest TriangleTree::nearest(const Vec3& p, double within,
                              const std::function<bool(std::uint32_t)>* allowed) const {
    Nearest best;
    best.squared = within;
    if (nodes_.empty()) return best;
    struct Waiting {
        std::uint32_t node;
        double squared;
    };
    // The tree is halved at each step, so it is never deeper than the bits of a count.
    std::array<Waiting, 64> waiting;
    std::size_t count = 0;
    waiting[count++] = {0, squaredTo(nodes_[0].box, p)};
    while (count > 0) {
        const Waiting next = waiting[--count];
        if (next.squared >= best.squared) continue;
        const Node& node = nodes_[next.node];
        if (node.count > 0) {
            for (std::uint32_t i = node.first; i < node.first + node.count; ++i) {
                if (allowed != nullptr && !(*allowed)(triangleAt_[i])) continue;
                const Nearest found = nearestOn(corners_[i], p);
                if (!(found.squared < best.squared)) continue;
                best = found;
                best.triangle = triangleAt_[i];
            }
            continue;
        }
        Waiting near = {next.node + 1, squaredTo(nodes_[next.node + 1].box, p)};
        Waiting far = {node.first, squaredTo(nodes_[node.first].box, p)};
        if (far.squared < near.squared) std::swap(near, far);
        if (far.squared < best.squared) waiting[count++] = far;
        if (near.squared < best.squared) waiting[count++] = near;
    }
    return best;
}

Nearest TriangleTree::nearestFrom(std::uint32_t guess, const Vec3& p) const {
    if (guess >= placeOf_.size()) return nearest(p);
    Nearest first = nearestOn(corners(guess), p);
    first.triangle = guess;
    const Nearest better = nearest(p, first.squared);
    return better.found() ? better : first;
}

Hit TriangleTree::leaves(const Vec3& origin, const Vec3& direction, double from, double to) const {
    Hit best;
    best.distance = to;
    if (nodes_.empty()) return best;
    const Vec3 over = {1 / direction.x, 1 / direction.y, 1 / direction.z};
    constexpr double kNever = std::numeric_limits<double>::infinity();
    // How far along the ray it enters a box.
    const auto entry = [&](const Box& box) {
        double least = 0, most = best.distance;
        const auto slab = [&](double low, double high, double o, double inverse) {
            // A ray that runs within a side of the box gives 0 / 0; a comparison with that keeps the bound.
            const double s = (low - o) * inverse, t = (high - o) * inverse;
            least = std::max(least, std::min(s, t));
            most = std::min(most, std::max(s, t));
        };
        slab(box.low.x, box.high.x, origin.x, over.x);
        slab(box.low.y, box.high.y, origin.y, over.y);
        slab(box.low.z, box.high.z, origin.z, over.z);
        if (least <= most) return least;
        return kNever;
    };
    struct Waiting {
        std::uint32_t node;
        double entry;
    };
    std::array<Waiting, 64> waiting;
    std::size_t count = 0;
    waiting[count++] = {0, entry(nodes_[0].box)};
    while (count > 0) {
        const Waiting next = waiting[--count];
        if (!(next.entry < best.distance)) continue;
        const Node& node = nodes_[next.node];
        if (node.count == 0) {
            Waiting near = {next.node + 1, entry(nodes_[next.node + 1].box)};
            Waiting far = {node.first, entry(nodes_[node.first].box)};
            if (far.entry < near.entry) std::swap(near, far);
            if (far.entry < kNever) waiting[count++] = far;
            if (near.entry < kNever) waiting[count++] = near;
            continue;
        }
        for (std::uint32_t i = node.first; i < node.first + node.count; ++i) {
            // By Moeller and Trumbore (1997).
            const auto& [a, b, c] = corners_[i];
            const Vec3 ab = b - a, ac = c - a;
            const Vec3 h = cross(direction, ac);
            const double determinant = dot(ab, h);
            if (!(determinant < 0)) continue;  // met from its front
            const Vec3 s = origin - a;
            const double u = dot(s, h) / determinant;
            const Vec3 q = cross(s, ab);
            const double v = dot(direction, q) / determinant;
            if (u < 0 || v < 0 || u + v > 1) continue;
            const double distance = dot(ac, q) / determinant;
            if (distance < from || distance >= best.distance) continue;
            best = {triangleAt_[i], distance};
        }
    }
    return best;
}

}  // namespace bandwright::compare
